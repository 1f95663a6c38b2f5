//! Speed in table lengths, the player's unit.

use crate::ball::{BallId, BallMotion};
use crate::physics::{Arena, Course, Listen};
use glam::DVec2;

/// Adds up how far the only ball runs.
struct Odometer {
    metres: f64,
}

impl Listen for Odometer {
    fn leg(&mut self, _place: usize, course: &Course, since: f64, until: f64) {
        // The run is straight, so start and end tell the whole of it.
        self.metres += (course.position(until - since) - course.start.position).length();
    }
}

/// How many table lengths a stroke of this speed (m/s) is: struck at centre from
/// one end, the ball rolls so many lengths up and down the empty table, cushion
/// losses included.
pub fn lengths_of_speed(arena: &Arena, speed: f64) -> f64 {
    let card = arena.card();
    let start = BallMotion {
        position: DVec2::new(card.touch_distance(), card.width / 2.0),
        velocity: DVec2::new(speed, 0.0),
        ..BallMotion::default()
    };
    let mut odometer = Odometer { metres: 0.0 };
    arena.run(&[(BallId::CUE, start)], &mut odometer);
    odometer.metres / card.travel_length()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::{TableCard, TableSize};

    #[test]
    fn one_length_is_the_stop_distance_without_a_cushion() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let arena = Arena::new(&card);
        // 0.5 m/s stops within the first length: 12 v²/(49 mu g) and the roll after it.
        let g = card.cloth.gravity;
        let slide = 12.0 * 0.25 / (49.0 * 0.2 * g);
        let roll = (5.0 / 7.0 * 0.5_f64).powi(2) / (2.0 * 0.01 * g);
        let lengths = lengths_of_speed(&arena, 0.5);
        let expected = (slide + roll) / card.travel_length();
        assert!((lengths - expected).abs() < 1e-12, "{lengths} for {expected}");
    }

    #[test]
    fn more_speed_is_more_lengths() {
        let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
        let all: Vec<f64> = (1..40).map(|k| lengths_of_speed(&arena, 0.2 * f64::from(k))).collect();
        assert!(all.windows(2).all(|pair| pair[0] < pair[1]), "{all:?}");
    }
}
