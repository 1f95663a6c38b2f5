//! The map's chances against counted strokes.

use leaveline::BallId;
use leaveline::normal::quantile;
use leaveline::physics::{Arena, PlacedBall, Shot, Stroke};
use leaveline::shot::{Delivery, HANDS, PotMap, Situation, Spot, aim_at_pocket};
use leaveline::table::{PocketId, TableCard, TableShape, TableSize};

use crate::support::{Seeded, free_place};

/// One place of the cue ball, one pocket, one hand.
pub struct Case {
    pub seed: u64,
    pub words: String,
    pub computed: f64,
    /// The same by windows that are sketched, as a map shows it at first.
    pub quick: f64,
    pub counted: f64,
    /// Whether the computed chance lies in the 99 % interval (Wilson) of the count.
    pub inside: bool,
}

/// Plays the case with this seed: so many strokes at a random pocket, or at the best one
/// where that has no chance. The place is drawn before anything is computed.
pub fn case(seed: u64, strokes: u32) -> Case {
    let card = TableCard::of_size(TableSize::NineFoot);
    let shape = TableShape::new(&card);
    let arena = Arena::new(&card);
    let mut seeded = Seeded::new(seed);
    loop {
        let named = &HANDS[seeded.below(5) as usize];
        let mut balls: Vec<PlacedBall> = Vec::new();
        for number in 1..=1 + seeded.below(6) as u8 {
            let id = BallId::object(number).expect("1 to 15");
            if let Some(position) = free_place(&mut seeded, &card, &shape, &balls) {
                balls.push(PlacedBall { id, position });
            }
        }
        let Some(mut place) = free_place(&mut seeded, &card, &shape, &balls) else { continue };
        if seeded.below(4) == 0 {
            place.y = card.touch_distance() + seeded.within(0.0, 0.1);
        }
        let on = BallId::object(1).expect("a ball");
        let Ok(map) = PotMap::new(&arena, &balls, on, &named.hand) else { continue };
        if !map.is_free(place) {
            continue;
        }
        let any = PocketId::ALL[seeded.below(6) as usize];
        // What the drawn grid ends with.
        let drawn = Spot::proved(&map, place, Some(any));
        let spot = if drawn.pocket.is_some() { drawn } else { Spot::proved(&map, place, None) };
        let stroke = spot.pocket.and_then(|pocket| map.quick_pot_from(place, pocket));
        balls.push(PlacedBall { id: BallId::CUE, position: place });
        let plain = Stroke { azimuth: 0.0, elevation: 0.0, speed: 1.5, side: 0.0, height: 0.0 };
        let aims = || {
            let aim = |pocket| aim_at_pocket(&arena, &balls, &plain, on, pocket);
            let mut aims = PocketId::ALL.into_iter().filter_map(|p| Some((p, aim(p)?.stroke)));
            aims.next().unwrap_or((any, plain))
        };
        // Where the map sees no chance, a stroke of a metre and a half a second is aimed on the
        // model itself, if there is one that pots.
        let ((pocket, stroke), computed) = match spot.pocket.zip(stroke) {
            Some((pocket, pot)) => ((pocket, pot.stroke), spot.chance),
            None => (aims(), 0.0),
        };
        let shot = Shot { card, balls, stroke };
        let situation = Situation::new(&shot, on).expect("a sound layout");
        let delivery = Delivery::new(&named.hand, &card, situation.balls(), &stroke);
        let falls = |index: &u32| {
            situation.play(&delivery.drawn(seed as u32, *index)).pocket == Some(pocket)
        };
        let made = (0..strokes).filter(falls).count() as f64;
        let n = f64::from(strokes);
        let (share, z) = (made / n, quantile(0.995));
        let middle = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);
        let half =
            z / (1.0 + z * z / n) * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt();
        let quick = PotMap::new_without_windows(&arena, situation.balls(), on, &named.hand)
            .ok()
            .and_then(|mut sketch| {
                sketch.sketch_windows(&[pocket]);
                sketch.first_best_from(place, &[pocket])
            });
        let words = format!(
            "{} {pocket:?} from ({:.3}, {:.3}) ball ({:.3}, {:.3}) of {} awkward {:.2} speed {:.2}",
            named.id,
            place.x,
            place.y,
            situation.object_ball().x,
            situation.object_ball().y,
            situation.balls().len(),
            delivery.awkwardness,
            stroke.speed
        );
        return Case {
            seed,
            words,
            computed,
            quick: quick.map_or(0.0, |(_, chance)| chance),
            counted: share,
            inside: (computed - middle).abs() <= half + 1e-9,
        };
    }
}
