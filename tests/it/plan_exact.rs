//! The planner's search against every strategy there is, on few balls, strokes and errors.

use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{Arena, PlacedBall};
use leaveline::plan::{BallSet, Called, Game, Over, Planned, Rack, Search, TIPS, Table, Target};
use leaveline::shot::{Delivery, HANDS, Wobble};
use leaveline::table::{TableCard, TableSize};

fn ball(number: u8) -> BallId {
    BallId::object(number).expect("a ball")
}

/// A rack with a cue ball and balls at these places.
fn rack(places: &[(u8, f64, f64)], game: Game) -> Rack {
    let id = |number| if number == 0 { BallId::CUE } else { ball(number) };
    let balls: Vec<PlacedBall> = places
        .iter()
        .map(|&(number, x, y)| PlacedBall { id: id(number), position: DVec2::new(x, y) })
        .collect();
    let card = TableCard::of_size(TableSize::NineFoot);
    Rack::new(&card, &balls, game, Vec::new(), None).expect("a sound rack")
}

/// A finite game: a rack, so many strokes at each ball that may be played, and errors.
struct Finite {
    rack: Rack,
    arena: Arena,
    n_strokes: usize,
    errors: Vec<Wobble>,
}

impl Finite {
    fn new(rack: Rack, n_strokes: usize, n_errors: usize) -> Self {
        let sigma = |azimuth, speed| Wobble { azimuth, speed, ..Wobble::default() };
        let mut errors = vec![sigma(0.9, -1.3), sigma(-1.5, 0.4), sigma(0.2, 1.1)];
        errors.truncate(n_errors);
        let arena = Arena::new(&rack.card);
        Self { rack, arena, n_strokes, errors }
    }

    /// The strokes that may be played: two tips at three speeds into each pocket that is in
    /// reach, as the library aims them; of each ball those evenly taken from all of these.
    fn strokes(&self, table: &Table) -> Vec<Planned> {
        let legal = self.rack.legal(table.left);
        let at = |id: BallId| {
            let placed = table.ball(id).expect("on the table");
            let target = Target::new(&self.arena, &table.balls, placed, self.rack.targets());
            let (hand, place) = (&HANDS[2].hand, table.cue_ball());
            let all = target.from(&self.arena, hand, place, &TIPS[1..3], 3);
            let n = all.len().min(self.n_strokes);
            (0..n)
                .map(|k| all[k * all.len() / n])
                .map(|entry| (Called { ball: id, pocket: entry.pocket }, entry.stroke))
                .collect::<Vec<_>>()
        };
        legal.balls().flat_map(at).collect()
    }

    /// What every strategy there is comes to: one that says for each table that may come which
    /// stroke is played there.
    fn strategies(&self, table: &Table) -> Vec<f64> {
        let mut values = Vec::new();
        for (called, stroke) in self.strokes(table) {
            let (hand, card) = (&HANDS[2].hand, self.arena.card());
            let delivery = Delivery::new(hand, card, &table.balls, &stroke);
            // All ways to go on after the errors so far, one after the other.
            let mut sums = vec![0.0];
            for error in &self.errors {
                let then =
                    match table.after(&self.rack, &self.arena, called, &delivery.struck(error)) {
                        Err(Over::Cleared) => vec![1.0],
                        Err(_) => vec![0.0],
                        Ok(after) => self.strategies(&after),
                    };
                sums =
                    sums.iter().flat_map(|sum| then.iter().map(move |next| sum + next)).collect();
            }
            values.extend(sums.iter().map(|sum| sum / self.errors.len() as f64));
        }
        // Who has no stroke clears nothing.
        if values.is_empty() { vec![0.0] } else { values }
    }

    /// The planner's search over the same, to the end.
    fn searched(&self, table: &Table) -> f64 {
        let search = Search {
            rack: &self.rack,
            arena: &self.arena,
            hand: &HANDS[2].hand,
            errors: &self.errors,
            strokes: &|table| self.strokes(table),
            // Nothing ends there.
            leaf: &|_| f64::NAN,
        };
        search.value(table, self.rack.targets().len())
    }
}

#[test]
fn the_search_finds_the_best_of_all_strategies() {
    let two = [(0, 1.0, 0.6), (1, 2.2, 1.0), (2, 1.9, 0.3)];
    let three = [(0, 1.0, 0.6), (1, 2.3, 1.1), (2, 2.3, 0.2), (3, 0.25, 0.3)];
    let group: BallSet = [ball(1), ball(2)].into_iter().collect();
    let and_last = [(0, 0.9, 0.5), (1, 1.5, 0.25), (2, 2.0, 0.9), (8, 0.4, 1.0), (9, 1.3, 0.9)];
    let games = [
        Finite::new(rack(&two, Game::Rotation), 6, 3),
        Finite::new(rack(&three, Game::Rotation), 3, 2),
        Finite::new(rack(&and_last, Game::Group { group, last: ball(8) }), 3, 2),
    ];
    for game in games {
        let table = Table::of(&game.rack);
        let all = game.strategies(&table);
        let best = all.iter().copied().fold(0.0, f64::max);
        let as_good = all.iter().filter(|value| **value > best - 1e-12).count();
        let searched = game.searched(&table);
        println!(
            "{} strategies, the best {best}, {as_good} as good, searched {searched}",
            all.len()
        );
        assert!((searched - best).abs() < 1e-12, "{searched} and {best}");
        assert!(as_good < all.len() / 2, "it matters which is taken: {as_good} of {}", all.len());
    }
}
