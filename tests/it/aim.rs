//! Aims, their windows and why there is none, against shots played to their end.

use crate::support::{Seeded, free_place};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{Arena, BallEnd, EventKind, PlacedBall, Shot, Stroke, play};
use leaveline::shot::{
    NoPot, Pot, Route, aim_at_pocket, cheats, leaving, pot, pot_stroke, pots_cushion_first,
};
use leaveline::table::{PocketId, Rail, TableCard, TableShape, TableSize};
use leaveline::units::radians;

fn ball(number: u8) -> BallId {
    BallId::object(number).expect("1 to 15")
}

fn placed(number: u8, x: f64, y: f64) -> PlacedBall {
    let id = if number == 0 { BallId::CUE } else { ball(number) };
    PlacedBall { id, position: DVec2::new(x, y) }
}

fn nine_foot() -> Arena {
    Arena::new(&TableCard::of_size(TableSize::NineFoot))
}

fn centre(speed: f64) -> Stroke {
    Stroke { azimuth: 0.0, elevation: 0.0, speed, side: 0.0, height: 0.0 }
}

/// Whether the stroke turned by `turn` pots the 1, the whole shot played.
fn falls(arena: &Arena, balls: &[PlacedBall], pot: &Pot, turn: f64) -> bool {
    let stroke = Stroke { azimuth: pot.stroke.azimuth + turn, ..pot.stroke };
    let shot = Shot { card: *arena.card(), balls: balls.to_vec(), stroke };
    let outcome = play(&shot).expect("a legal shot");
    let place = balls.iter().position(|ball| ball.id == self::ball(1)).expect("the 1");
    outcome.ends[place] == BallEnd::Pocketed(pot.pocket)
}

/// Two to four balls at random places, any tip short of a miscue.
fn any_task(seeded: &mut Seeded, card: &TableCard) -> (Vec<PlacedBall>, Stroke) {
    let shape = TableShape::new(card);
    let mut balls = Vec::new();
    let n_balls = 2 + seeded.below(3) as u8;
    for number in 0..n_balls {
        if let Some(at) = free_place(seeded, card, &shape, &balls) {
            balls.push(placed(number, at.x, at.y));
        }
    }
    let stroke = Stroke {
        elevation: radians(seeded.within(0.0, 8.0)),
        side: seeded.within(-0.3, 0.3),
        height: seeded.within(-0.35, 0.35),
        ..centre(libm::exp(seeded.within(-0.4, 1.6)))
    };
    (balls, stroke)
}

#[test]
fn a_window_pots_to_its_edges_and_not_beyond() {
    let arena = nine_foot();
    let mut seeded = Seeded::new(4);
    let (mut n_pots, mut n_refused, mut n_edges) = (0, 0, 0);
    for k in 0..700 {
        let (balls, stroke) = any_task(&mut seeded, arena.card());
        let pocket = PocketId::ALL[seeded.below(6) as usize];
        match pot(&arena, &balls, &stroke, ball(1), pocket) {
            Ok(pot) => {
                n_pots += 1;
                let window = pot.window;
                assert!(window.low <= 0.0 && window.high >= 0.0, "task {k}: the aim is inside");
                assert!(falls(&arena, &balls, &pot, 0.0), "task {k}: the aim pots");
                for (edge, beyond) in [(window.low, -1e-6), (window.high, 1e-6)] {
                    assert!(falls(&arena, &balls, &pot, edge), "task {k}: so does the edge");
                    // It may fall on a way that is no plain pot, off another ball or rail.
                    n_edges += usize::from(!falls(&arena, &balls, &pot, edge + beyond));
                }
            }
            Err(_) => n_refused += 1,
        }
    }
    println!("{n_pots} pots, {n_refused} refused, {n_edges} edges beyond which nothing falls");
    assert!(n_pots >= 60 && n_refused >= 60, "both kinds: {n_pots} and {n_refused}");
    assert!(n_edges * 20 >= 2 * n_pots * 19, "{n_edges} of {} edges", 2 * n_pots);
}

#[test]
fn whatever_the_old_aim_pots_is_found() {
    let arena = nine_foot();
    let mut seeded = Seeded::new(5);
    let (mut old, mut new) = (0, 0);
    for k in 0..300 {
        let (balls, stroke) = any_task(&mut seeded, arena.card());
        for pocket in PocketId::ALL {
            let found = pot_stroke(&arena, &balls, &stroke, ball(1), pocket);
            let aim = aim_at_pocket(&arena, &balls, &stroke, ball(1), pocket);
            let falls = |stroke: Stroke| {
                let shot = Shot { card: *arena.card(), balls: balls.clone(), stroke };
                let outcome = play(&shot).expect("a legal shot");
                let met = outcome.events.iter().find_map(|event| match event.kind {
                    EventKind::Contact(other) if event.ball.is_cue() => Some(other),
                    _ => None,
                });
                met == Some(ball(1)) && outcome.ends[1] == BallEnd::Pocketed(pocket)
            };
            if aim.is_some_and(|aim| falls(aim.stroke)) {
                old += 1;
            }
            if let Ok(stroke) = found {
                new += 1;
                assert!(falls(stroke), "task {k}, {pocket}: what is found pots");
            }
        }
    }
    println!("{old} pots through the middle of the mouth, {new} found");
    assert!(new >= old, "{new} of {old}");
}

/// The 1 at 0.7 m from the corner at foot and left, on its axis, and the cue ball 0.6 m
/// from the ghost ball for a cut of so many degrees.
fn corner_cut(arena: &Arena, cut: f64) -> Vec<PlacedBall> {
    let pocket = arena.shape().pocket(PocketId::FootLeft);
    let object = pocket.mouth_middle - pocket.axis * 0.7;
    let ghost = object - pocket.axis * (2.0 * arena.card().ball.radius);
    let cue = ghost - DVec2::from_angle(radians(45.0 - cut)) * 0.6;
    vec![placed(0, cue.x, cue.y), placed(1, object.x, object.y)]
}

fn corner_pot(arena: &Arena, balls: &[PlacedBall], speed: f64) -> Pot {
    let stroke = Stroke { height: 0.1, ..centre(speed) };
    pot(arena, balls, &stroke, ball(1), PocketId::FootLeft).expect("an open corner")
}

/// That it does so is common practice, no source.
#[test]
fn windows_shrink_with_speed_and_cut() {
    let arena = nine_foot();
    let balls = corner_cut(&arena, 0.0);
    let widths = [1.2, 2.0, 3.5, 6.0].map(|v| corner_pot(&arena, &balls, v).window.width());
    println!("full, 1.2, 2, 3.5, 6 m/s: {:.3?} mrad", widths.map(|w| 1000.0 * w));
    assert!(widths[..3].windows(2).all(|w| w[1] < w[0]), "faster is narrower: {widths:?}");
    // A counterexample: at 6 m/s the jaws let in a little more than at 3.5 m/s.
    assert!(widths[3] < widths[0], "but less than a slow ball: {widths:?}");
    let widths = [0.0, 30.0, 55.0]
        .map(|cut| corner_pot(&arena, &corner_cut(&arena, cut), 2.0).window.width());
    println!("2 m/s, cuts of 0, 30, 55: {:.3?} mrad", widths.map(|w| 1000.0 * w));
    assert!(widths.windows(2).all(|w| w[1] < w[0]), "thinner is narrower: {widths:?}");
}

#[test]
fn what_is_not_possible_has_a_reason() {
    let arena = nine_foot();
    let open = corner_cut(&arena, 20.0);
    let with = |at: DVec2| [&open[..], &[placed(2, at.x, at.y)]].concat();
    let (cue, object) = (open[0].position, open[1].position);
    let corner = arena.shape().pocket(PocketId::FootLeft).mouth_middle;
    let refused = |balls: &[PlacedBall], speed: f64, pocket: PocketId| {
        pot(&arena, balls, &centre(speed), ball(1), pocket).expect_err("no pot")
    };
    let at = PocketId::FootLeft;
    assert_eq!(refused(&with(cue.lerp(object, 0.5)), 2.0, at), NoPot::CueBlocked(ball(2)));
    assert_eq!(refused(&with(object.lerp(corner, 0.5)), 2.0, at), NoPot::ObjectBlocked(ball(2)));
    assert_eq!(refused(&open, 0.3, at), NoPot::NotReached, "the cue ball stops on the way");
    let thin = refused(&open, 2.0, PocketId::HeadRight);
    assert!(matches!(thin, NoPot::TooThin(cut) if cut > radians(90.0)), "back again: {thin:?}");
    let miscue = Stroke { side: 0.6, ..centre(2.0) };
    assert_eq!(pot(&arena, &open, &miscue, ball(1), at), Err(NoPot::Miscue));
    assert_eq!(pot(&arena, &open, &centre(2.0), ball(9), at), Err(NoPot::Missing));
    let low = [placed(0, 0.4, 0.5), placed(1, 0.8, 0.05)];
    assert_eq!(refused(&low, 3.0, PocketId::SideRight), NoPot::NoAngle, "along its own rail");
}

#[test]
fn either_side_of_the_pocket_turns_the_cue_ball() {
    let arena = nine_foot();
    let balls = corner_cut(&arena, 30.0);
    let found = corner_pot(&arena, &balls, 1.5);
    let [right, left] = cheats(&arena, &balls, &found).expect("the 1 is met");
    let middle = leaving(&arena, &balls, &found.stroke).expect("the 1 is met");
    for end in [right, left] {
        let turn = end.stroke.azimuth - found.stroke.azimuth;
        assert!(falls(&arena, &balls, &found, turn), "it pots as well");
        let margin = (found.window.high - turn).min(turn - found.window.low);
        assert!((margin / found.window.width() - 0.1).abs() < 1e-9, "a tenth inside: {margin}");
    }
    let departures = [right, middle, left].map(|end| end.departure);
    let ordered =
        departures.windows(2).all(|w| w[1] > w[0]) || departures.windows(2).all(|w| w[1] < w[0]);
    assert!(ordered, "the middle lies between: {departures:?}");
    assert!((right.stop - left.stop).length() > 0.02, "{} and {}", right.stop, left.stop);
}

#[test]
fn a_ball_near_a_cushion_can_be_potted_over_it() {
    let arena = nine_foot();
    let mut n_both = 0;
    for k in 0..8 {
        let balls = [placed(0, 1.2, 0.3), placed(1, 1.95, 0.04 + 0.01 * f64::from(k))];
        let stroke = Stroke { height: 0.2, ..centre(2.0) };
        let plain = pot(&arena, &balls, &stroke, ball(1), PocketId::FootRight);
        for over in pots_cushion_first(&arena, &balls, &stroke, ball(1), PocketId::FootRight) {
            assert_eq!(over.route, Route::CushionFirst(Rail::Right), "the near one");
            assert!(falls(&arena, &balls, &over, 0.0), "height {k}: it pots");
            let shot = Shot { card: *arena.card(), balls: balls.to_vec(), stroke: over.stroke };
            let events = play(&shot).expect("a legal shot").events;
            let first = events
                .iter()
                .find(|event| matches!(event.kind, EventKind::Cushion(_) | EventKind::Contact(_)));
            let first = first.expect("something is met").kind;
            assert!(matches!(first, EventKind::Cushion(_)), "height {k}: {first:?}");
            if let Ok(plain) = plain {
                n_both += 1;
                let ways = [plain, over]
                    .map(|pot| leaving(&arena, &balls, &pot.stroke).expect("the 1 is met").stop);
                assert!((ways[0] - ways[1]).length() > 0.05, "they leave differently: {ways:?}");
            }
        }
    }
    assert!(n_both >= 2, "both ways were found {n_both} times");
}
