//! The model's cushion impact against the second route, over every impact that a
//! table can show.

use super::rubber::{Care, rebound, whole_speed};
use super::spread;
use crate::support::Seeded;
use glam::{DVec2, DVec3};
use leaveline::BallMotion;
use leaveline::physics::CushionLaw;

const RADIUS: f64 = 0.028_575;

/// The reference. Its own error is measured below.
const FINE: Care = Care { rounding: 1e-12, tolerance: 1e-12 };

/// Where cards come from.
#[derive(Clone, Copy, Debug)]
enum Cards {
    /// The default card.
    Default,
    /// What the screens call plausible.
    Plausible,
    /// Anything that could still be called a table.
    Any,
}

fn law(cards: Cards, seeded: &mut Seeded) -> CushionLaw {
    let mut draw = |default: f64, plausible: (f64, f64), any: (f64, f64)| match cards {
        Cards::Default => default,
        Cards::Plausible => seeded.within(plausible.0, plausible.1),
        Cards::Any => seeded.within(any.0, any.1),
    };
    CushionLaw {
        radius: RADIUS,
        sine: draw(0.27, (0.25, 0.29), (0.0, 0.4)),
        restitution: draw(0.92, (0.75, 0.98), (0.0, 1.0)),
        nose_friction: draw(0.25, (0.14, 0.35), (0.0, 0.5)),
        bed_friction: draw(0.2, (0.15, 0.4), (0.0, 0.5)),
    }
}

/// A ball at 1 to 90 degrees to a cushion on its +y side: one in four rolls, one in
/// four has no side, one in four has just left another ball and spins about any
/// axis; and one in sixteen comes square, so that all its slips lie in one plane.
fn arriving(case: u64, seeded: &mut Seeded) -> BallMotion {
    let angle = seeded.within(1.0, 90.0).to_radians();
    let direction = if case % 16 == 5 { DVec2::Y } else { DVec2::from_angle(angle) };
    let velocity = direction * seeded.within(0.02, 5.0);
    let (roll, side) = (seeded.within(-1.25, 2.0), seeded.within(-2.0, 2.0));
    let (roll, side) = match case % 4 {
        0 => (1.0, side),
        1 => (roll, 0.0),
        _ => (roll, side),
    };
    let rate = velocity.length() / RADIUS;
    let mut spin = DVec3::new(-velocity.y * roll, velocity.x * roll, 0.0) / RADIUS;
    spin.z = side * rate;
    if case % 4 == 3 {
        spin.x += seeded.within(-1.0, 1.0) * rate;
        spin.y += seeded.within(-1.0, 1.0) * rate;
    }
    BallMotion { position: DVec2::new(0.5, 0.5), velocity, spin }
}

/// Largest difference of velocity or of spin as a speed, as a share of the speed
/// before the impact.
fn difference(one: &BallMotion, two: &BallMotion, before: &BallMotion) -> f64 {
    let velocity = (one.velocity - two.velocity).length();
    let spin = (one.spin - two.spin).length() * RADIUS;
    velocity.max(spin) / whole_speed(before, RADIUS)
}

fn check(cards: Cards, cases: u64) {
    const SEED: u64 = 400;
    let mut seeded = Seeded::new(SEED);
    let mut off = Vec::new();
    let mut own = Vec::new();
    for case in 0..cases {
        let (law, before) = (law(cards, &mut seeded), arriving(case, &mut seeded));
        let model = law.rebound(&before, DVec2::NEG_Y);
        let reference = rebound(&law, FINE, &before, DVec2::NEG_Y);
        let away = difference(&model, &reference, &before);
        assert!(away <= 1e-8, "seed {SEED}, case {case}: off by {away:e}: {law:?} {before:?}");
        off.push(away);
        if case % 8 == 0 {
            let finer = Care { rounding: FINE.rounding / 10.0, ..FINE };
            let coarser = Care { tolerance: FINE.tolerance * 10.0, ..FINE };
            for other in [finer, coarser] {
                let other = rebound(&law, other, &before, DVec2::NEG_Y);
                own.push(difference(&other, &reference, &before));
            }
        }
    }
    let (off, own) = (spread(off), spread(own));
    println!(
        "cushion impacts, {cards:?} cards: {} compared; off by {:.1e} (median), {:.1e} (99 %), \
         {:.1e} (worst) of the speed; the reference by itself {:.1e} (worst of {})",
        off.count, off.median, off.high, off.worst, own.worst, own.count
    );
    assert!(own.worst < 1e-9, "the reference has converged: {:e}", own.worst);
}

#[test]
fn cushion_impacts_of_the_default_card() {
    check(Cards::Default, 1000);
}

#[test]
fn cushion_impacts_of_plausible_cards() {
    check(Cards::Plausible, 1000);
}

#[test]
fn cushion_impacts_of_any_card() {
    check(Cards::Any, 500);
}

/// The worst of a search over 80,000 impacts: sine, restitution, friction at nose and
/// bed; velocity; spin. Two are of plausible cards, two of others.
#[test]
fn the_worst_impacts_that_a_search_found() {
    let cases = [
        (
            [0.2832067318804463, 0.9458677548565317, 0.2804578363972753, 0.3887718148938014],
            [0.03379879899652881, 0.9994286573769997],
            [-12.682096918063984, 0.4288846846888568, 11.053795235924525],
        ),
        (
            [0.28374637342982156, 0.9177014812546185, 0.2796745126695102, 0.37782361584362756],
            [0.06583361993345502, 0.9978306141256928],
            [-12.943763498123964, 0.8539874349221772, -0.22224685036600322],
        ),
        (
            [0.21893426123108017, 0.7944934464815221, 0.13477409431077159, 0.49700727047792703],
            [0.16431867366133424, 0.986407306079076],
            [12.575154900151531, -2.094806842512457, 11.327416407096088],
        ),
        (
            [0.24006104151965912, 0.8197828310482174, 0.047607459342159764, 0.46700351519840944],
            [0.09942626405110126, 0.9950449326622596],
            [10.657898792364534, -1.0649519682738053, -0.9007351015793688],
        ),
    ];
    for (k, ([sine, restitution, nose_friction, bed_friction], velocity, spin)) in
        cases.into_iter().enumerate()
    {
        let law = CushionLaw { radius: RADIUS, sine, restitution, nose_friction, bed_friction };
        let (velocity, spin) = (DVec2::from(velocity), DVec3::from(spin));
        let before = BallMotion { position: DVec2::ZERO, velocity, spin };
        let model = law.rebound(&before, DVec2::NEG_Y);
        let away = difference(&model, &rebound(&law, FINE, &before, DVec2::NEG_Y), &before);
        println!("case {k}: off by {away:.2e} of the speed");
        assert!(away <= 1e-8, "case {k}: off by {away:e}");
    }
}
