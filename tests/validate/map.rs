//! The map's chances against counted strokes.

use leaveline::BallId;
use leaveline::normal::quantile;
use leaveline::physics::{Arena, PlacedBall, Shot};
use leaveline::shot::{Delivery, HANDS, PotMap, Situation};
use leaveline::table::{PocketId, TableCard, TableShape, TableSize};

use crate::support::{Seeded, free_place};

/// One place of the cue ball, one pocket, one hand.
pub struct Case {
    pub seed: u64,
    pub words: String,
    pub computed: f64,
    pub counted: f64,
    /// Whether the computed chance lies in the 99 % interval (Wilson) of the count.
    pub inside: bool,
}

/// Plays the case with this seed: so many strokes at the best pocket (or a random other
/// one that has a chance, now and then).
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
        let drawn = map.pot_from(place, any).map(|pot| (any, pot));
        let Some((pocket, pot)) = drawn.or_else(|| map.best_from(place)) else { continue };
        // What is next to hopeless tells nothing.
        if pot.chance < 0.02 {
            continue;
        }
        balls.push(PlacedBall { id: BallId::CUE, position: place });
        let shot = Shot { card, balls, stroke: pot.stroke };
        let situation = Situation::new(&shot, on).expect("a sound layout");
        let delivery = Delivery::new(&named.hand, &card, situation.balls(), &pot.stroke);
        let falls = |index: &u32| {
            situation.play(&delivery.drawn(seed as u32, *index)).pocket == Some(pocket)
        };
        let made = (0..strokes).filter(falls).count() as f64;
        let n = f64::from(strokes);
        let (share, z) = (made / n, quantile(0.995));
        let middle = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);
        let half =
            z / (1.0 + z * z / n) * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt();
        let words = format!(
            "{} {pocket:?} from ({:.3}, {:.3}) ball ({:.3}, {:.3}) of {} awkward {:.2} speed {:.2}",
            named.id,
            place.x,
            place.y,
            situation.object_ball().x,
            situation.object_ball().y,
            situation.balls().len(),
            delivery.awkwardness,
            pot.stroke.speed
        );
        return Case {
            seed,
            words,
            computed: pot.chance,
            counted: share,
            inside: (pot.chance - middle).abs() <= half,
        };
    }
}
