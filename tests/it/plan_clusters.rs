//! Balls that have no way to a pocket until they are broken out.

use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{Arena, PlacedBall};
use leaveline::plan::{
    BallSet, Care, Depth, Fineness, Foresight, Foresights, Game, Guide, Openness, Over, Player,
    Rack, Runs, Table, Way, run_out,
};
use leaveline::practice::clear::break_out_in_words;
use leaveline::shot::HANDS;
use leaveline::table::{TableCard, TableSize};

const ROUGH: Fineness = Fineness { columns: 16, rows: 8, tips: 5, speeds: 8 };

fn ball(number: u8) -> BallId {
    BallId::object(number).expect("a ball")
}

fn set(numbers: &[u8]) -> BallSet {
    numbers.iter().map(|&number| ball(number)).collect()
}

/// In rotation. The 3 and the 4 lie frozen to a rail and to each other, and the 4 lies where
/// the cue ball would have to meet the 3; the 1 lies before the pocket next to them, the 2 in a
/// jaw.
fn tied_up() -> Rack {
    let card = TableCard::of_size(TableSize::NineFoot);
    let rail = card.touch_distance();
    let beside = 2.0 * card.ball.radius + 1e-6;
    let places = [
        (0, 0.55, 0.75),
        (1, 0.35, 0.25),
        (2, 0.09, 1.18),
        (3, 0.6, rail),
        (4, 0.6 + beside, rail),
        (5, 1.6, 0.4),
    ];
    let id = |number| if number == 0 { BallId::CUE } else { ball(number) };
    let balls: Vec<PlacedBall> = places
        .iter()
        .map(|&(number, x, y)| PlacedBall { id: id(number), position: DVec2::new(x, y) })
        .collect();
    Rack::new(&card, &balls, Game::Rotation, Vec::new(), None).expect("a sound rack")
}

fn full(rack: &Rack, hand: usize) -> Guide {
    let mut guide = Guide::new(rack, &HANDS[hand].hand, ROUGH);
    guide.fill(0, guide.n_shelves());
    let cells = guide.grid().n_cells();
    for _ in 0..3 {
        let foresight = Foresight::new(&guide, Depth::All);
        guide.try_out(&foresight, 0, cells);
    }
    guide
}

#[test]
fn a_cluster_on_a_rail_has_no_way() {
    let rack = tied_up();
    let arena = Arena::new(&rack.card);
    let hand = &HANDS[0].hand;
    let stuck = |left: BallSet| {
        let table = rack.table_of(left);
        Openness::new(&rack, &arena, hand, &table.balls, left).stuck()
    };
    assert_eq!(stuck(rack.targets()), set(&[3]), "the 4 holds it");
    assert_eq!(stuck(set(&[4, 5])), BallSet::NONE, "the 4 alone goes along the rail");

    // What the library has for it: nothing that passes the 4.
    let guide = full(&rack, 0);
    let cells = 0..guide.grid().n_cells();
    let mut strokes = cells.flat_map(|cell| guide.shelf(ball(3), cell));
    assert!(strokes.all(|kept| kept.blocked.has(ball(4))), "the 3 past the 4");
}

#[test]
fn a_plan_breaks_a_cluster_out() {
    let rack = tied_up();
    let guide = full(&rack, 0);
    let foresights = Foresights::new(&guide);
    let table = Table::of(&rack);
    let calm = Player::new(&guide, foresights.of(Depth::All), Care::CALM);
    let way = Way { first: calm.choose(&table), depth: Depth::All };
    let steps = run_out(&guide, &foresights, &table, way, Care::CALM);
    let broken: Vec<_> = steps.iter().filter_map(|step| step.break_out.as_ref()).collect();
    for step in &steps {
        println!("{:?} {:?}", step.choice, step.break_out);
    }
    let first = broken.first().expect("a shot that breaks them out");
    assert!(!first.freed.and(set(&[3])).is_empty(), "{first:?}");
    assert!(break_out_in_words(first).starts_with("Breaks out the 3"), "{first:?}");

    assert_eq!(first.insurance, Some(ball(2)), "it hangs in a corner: {first:?}");

    // Who looks one ball ahead does not look for it.
    let cleared = |depth| {
        let foresight = Foresight::new(&guide, depth);
        let player = Player::new(&guide, &foresight, Care::QUICK);
        let runs = Runs::new(&guide, &player, &table, player.choose(&table));
        (0..60).filter(|&k| runs.play(11, k).over == Over::Cleared).count()
    };
    let [next, all] = [Depth::Next, Depth::All].map(cleared);
    println!("cleared of 60: {next} one ahead, {all} all ahead");
    assert!(all >= 12 && all > next, "{all} against {next} of 60");
}
