//! Clearing a layout: the rules of a run, guides, and players who look ahead.

use crate::support::{Seeded, free_place};
use glam::DVec2;
use leaveline::BallId;
use leaveline::layout::{ClearWish, clear_sizes, deal_clear};
use leaveline::physics::{Arena, PlacedBall, Stroke};
use leaveline::plan::{
    BallSet, Called, Care, Depth, Fineness, Foresight, Foresights, Game, Guide, Link, Over, Player,
    Race, Rack, Runs, Table, Way, key_balls, run_out,
};
use leaveline::shot::{HANDS, Series};
use leaveline::table::{PocketId, Rail, TableCard, TableShape, TableSize};

const ROUGH: Fineness = Fineness { columns: 12, rows: 6, tips: 3, speeds: 6 };

fn ball(number: u8) -> BallId {
    BallId::object(number).expect("a ball")
}

fn placed(places: &[(u8, f64, f64)]) -> Vec<PlacedBall> {
    let id = |number| if number == 0 { BallId::CUE } else { ball(number) };
    places
        .iter()
        .map(|&(number, x, y)| PlacedBall { id: id(number), position: DVec2::new(x, y) })
        .collect()
}

fn card() -> TableCard {
    TableCard::of_size(TableSize::NineFoot)
}

fn rotation(places: &[(u8, f64, f64)]) -> Rack {
    Rack::new(&card(), &placed(places), Game::Rotation, Vec::new(), None).expect("a sound rack")
}

/// A group of 1 and 2, then the 8; the 9 is in the way.
fn group(links: Vec<Link>, key: Option<BallId>) -> Rack {
    let places = [(0, 0.6, 0.6), (1, 1.2, 0.3), (2, 1.6, 0.9), (8, 2.0, 0.5), (9, 0.4, 1.0)];
    let game = Game::Group { group: [ball(1), ball(2)].into_iter().collect(), last: ball(8) };
    Rack::new(&card(), &placed(&places), game, links, key).expect("a sound rack")
}

fn set(numbers: &[u8]) -> BallSet {
    numbers.iter().map(|&number| ball(number)).collect()
}

#[test]
fn rules_say_what_may_be_played() {
    let rack = rotation(&[(0, 0.6, 0.6), (3, 1.2, 0.3), (5, 1.6, 0.9), (9, 2.0, 0.5)]);
    assert_eq!(rack.legal(rack.targets()), set(&[3]), "the lowest");
    assert_eq!(rack.legal(set(&[5, 9])), set(&[5]), "the next");
    assert_eq!(rack.sets(), [set(&[9]), set(&[5, 9]), set(&[3, 5, 9])], "one after the other");

    let rack = group(Vec::new(), None);
    assert_eq!(rack.targets(), set(&[1, 2, 8]), "the 9 is in the way");
    assert_eq!(rack.legal(rack.targets()), set(&[1, 2]), "any of the group");
    assert_eq!(rack.legal(set(&[8])), set(&[8]), "then the last");
    assert_eq!(group(Vec::new(), Some(ball(1))).legal(set(&[1, 2, 8])), set(&[2]), "a key ball");

    let link = Link { from: ball(1), to: ball(2), cushions: 1, side: None };
    let linked = group(vec![link], None);
    assert_eq!(linked.legal(set(&[1, 2, 8])), set(&[1]), "the 2 comes after the 1");
    assert_eq!(linked.legal(set(&[2, 8])), set(&[2]), "and right after it");
    assert!(!linked.sets().contains(&set(&[1, 8])), "so the 1 is never left alone");
}

#[test]
fn what_is_no_rack_is_refused() {
    let balls = placed(&[(0, 0.6, 0.6), (3, 1.2, 0.3), (5, 1.6, 0.9)]);
    let new = |game, links, key| Rack::new(&card(), &balls, game, links, key);
    let field =
        |rack: Result<Rack, leaveline::Error>| rack.expect_err("refused").field().to_owned();
    assert_eq!(
        field(Rack::new(&card(), &balls[1..], Game::Rotation, Vec::new(), None)),
        "balls",
        "no cue ball"
    );
    assert_eq!(field(Rack::new(&card(), &balls[..1], Game::Rotation, Vec::new(), None)), "balls");
    let early = Game::Group { group: set(&[3, 5]), last: ball(5) };
    assert_eq!(field(new(early, Vec::new(), None)), "game", "the last is of the group");
    let gone = Game::Group { group: set(&[3]), last: ball(8) };
    assert_eq!(field(new(gone, Vec::new(), None)), "game", "the last is not there");
    assert_eq!(field(new(Game::Rotation, Vec::new(), Some(ball(3)))), "key", "no group");
    let back = Link { from: ball(5), to: ball(3), cushions: 0, side: None };
    assert_eq!(field(new(Game::Rotation, vec![back], None)), "links[0]", "backward");
}

/// A straight pot of the 1 into the foot-left pocket.
fn straight() -> (Rack, Stroke) {
    let arena = Arena::new(&card());
    let mouth = arena.shape().pocket(PocketId::FootLeft).mouth_middle;
    let line = DVec2::new(0.8, 0.6);
    let (one, cue) = (mouth - 0.4 * line, mouth - 0.9 * line);
    let rack = rotation(&[(0, cue.x, cue.y), (1, one.x, one.y), (2, 0.4, 0.3)]);
    let azimuth = line.y.atan2(line.x);
    (rack, Stroke { azimuth, elevation: 0.0, speed: 1.5, side: 0.0, height: -0.2 })
}

#[test]
fn a_shot_goes_on_or_ends_the_run() {
    let (rack, stroke) = straight();
    let arena = Arena::new(&rack.card);
    let table = Table::of(&rack);
    let called = Called { ball: ball(1), pocket: PocketId::FootLeft };
    let after = table.after(&rack, &arena, called, &stroke).expect("potted");
    assert_eq!((after.left, after.balls.len()), (set(&[2]), 2), "the 2 is left");
    assert_eq!(after.ball(ball(2)), table.ball(ball(2)), "where it lay");

    let elsewhere = Called { pocket: PocketId::HeadLeft, ..called };
    assert_eq!(table.after(&rack, &arena, elsewhere, &stroke), Err(Over::Missed), "not as called");
    let weak = Stroke { speed: 0.2, ..stroke };
    assert_eq!(table.after(&rack, &arena, called, &weak), Err(Over::WrongBall), "it meets none");
    let follow = Stroke { speed: 3.0, height: 0.4, ..stroke };
    assert_eq!(table.after(&rack, &arena, called, &follow), Err(Over::Scratched), "in after it");
    let link = Link { from: ball(1), to: ball(2), cushions: 2, side: None };
    let asked =
        Rack::new(&rack.card, &rack.balls, Game::Rotation, vec![link], None).expect("a sound rack");
    assert_eq!(table.after(&asked, &arena, called, &stroke), Err(Over::NotAsAsked), "no rails");
    let side = Link { cushions: 0, side: Some(Rail::Head), ..link };
    let asked =
        Rack::new(&rack.card, &rack.balls, Game::Rotation, vec![side], None).expect("a sound rack");
    assert_eq!(table.after(&asked, &arena, called, &stroke), Err(Over::NotAsAsked), "foot side");

    // The same places as a group of the 2 alone, with the 1 for its last ball.
    let game = Game::Group { group: set(&[2]), last: ball(1) };
    let early = Rack::new(&rack.card, &rack.balls, game, Vec::new(), None).expect("a sound rack");
    let wrong = table.after(&early, &arena, called, &stroke);
    assert_eq!(wrong, Err(Over::WrongBall), "the last ball is met first");
}

/// Three balls near pockets.
fn easy() -> Rack {
    rotation(&[(0, 1.0, 0.6), (1, 2.3, 1.1), (2, 2.3, 0.2), (3, 0.25, 0.2)])
}

#[test]
fn a_guide_in_parts_is_the_guide() {
    let (rack, hand) = (easy(), HANDS[1].hand);
    let mut alone = Guide::new(&rack, &hand, ROUGH);
    let n = alone.n_shelves();
    alone.fill(0, n);
    let (mut one, mut two) = (Guide::new(&rack, &hand, ROUGH), Guide::new(&rack, &hand, ROUGH));
    one.fill(0, n / 3);
    two.fill(n / 3, n);
    one.take(n / 3, &two.bytes(n / 3, n)).expect("sound bytes");
    two.take(0, &one.bytes(0, n / 3)).expect("sound bytes");
    let values = |guide: &Guide| {
        let foresight = Foresight::new(guide, Depth::All);
        foresight.values(rack.targets()).expect("valued").to_vec()
    };
    assert_eq!(values(&one), values(&alone), "the first worker knows all");
    assert_eq!(values(&two), values(&alone), "and so does the second");

    let cells = alone.grid().n_cells();
    let foresight = Foresight::new(&alone, Depth::All);
    let all = alone.try_out(&foresight, 0, cells);
    let half = one.try_out(&foresight, 0, cells / 2);
    let rest = two.try_out(&foresight, cells / 2, cells);
    assert_eq!([half.clone(), rest.clone()].concat(), all, "tried in two parts");
    one.take_trials(&rest).expect("sound bytes");
    two.take_trials(&half).expect("sound bytes");
    assert_eq!(values(&one), values(&alone), "and learned from each other");
    assert_eq!(values(&two), values(&alone), "both ways");
    assert!(values(&one) != foresight.values(rack.targets()).expect("valued"), "it mattered");
}

#[test]
fn a_guide_to_every_second_place_is_like_the_whole() {
    let (rack, hand) = (easy(), HANDS[1].hand);
    let mut guide = Guide::new(&rack, &hand, ROUGH);
    let values = |guide: &Guide| {
        let foresight = Foresight::new(guide, Depth::All);
        foresight.values(rack.targets()).expect("valued").to_vec()
    };
    guide.fill(0, guide.n_first());
    let first = values(&guide);
    guide.fill(guide.n_first(), guide.n_shelves());
    let whole = values(&guide);
    assert_ne!(first, whole, "the places between were not known");
    let off: Vec<f64> = first
        .iter()
        .zip(&whole)
        .filter(|(_, whole)| !whole.is_nan())
        .map(|(first, whole)| (first - whole).abs())
        .collect();
    let mean = off.iter().sum::<f64>() / off.len() as f64;
    assert!(off.iter().all(|off| !off.is_nan()), "each free place has a value");
    assert!(mean < 0.1, "{mean}");
}

#[test]
fn bytes_of_something_else_are_refused() {
    let (rack, hand) = (easy(), HANDS[1].hand);
    let mut guide = Guide::new(&rack, &hand, ROUGH);
    for bytes in [&[1_u8, 0, 0, 0, 7][..], &[0, 0, 0, 0, 9], &[255; 64]] {
        let error = guide.take(0, bytes).expect_err("no shelves");
        assert_eq!(error.field(), "bytes", "{error}");
        let error = guide.take_trials(bytes).expect_err("no trials");
        assert_eq!(error.field(), "bytes", "{error}");
    }
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
fn an_easy_layout_is_cleared_as_often_as_planned() {
    let rack = easy();
    let guide = full(&rack, 0);
    let foresights = Foresights::new(&guide);
    let foresight = foresights.of(Depth::All);
    let table = Table::of(&rack);
    let first = Player::new(&guide, foresight, Care::CALM).choose(&table);
    let steps = run_out(&guide, &foresights, &table, Way { first, depth: Depth::All }, Care::CALM);
    let order: Vec<u8> = steps.iter().map(|step| step.choice.called.ball.number()).collect();
    assert_eq!(order, [1, 2, 3], "a plan to the end");
    assert!(steps[2].stop.is_none() && steps[0].stop.is_some(), "it ends with the last shot");
    let player = Player::new(&guide, foresight, Care::QUICK);
    let (runs, n) = (Runs::new(&guide, &player, &table, player.choose(&table)), 200);
    let cleared = (0..n).filter(|&k| runs.play(7, k).over == Over::Cleared).count();
    let (share, thought) =
        (cleared as f64 / f64::from(n), foresight.value(table.left, table.cue_ball()));
    assert!(share > 0.9, "{share} of the runs come off");
    assert!((share - thought).abs() < 0.1, "{share} of the runs, {thought} thought");
    assert_eq!(runs.play(7, 12), runs.play(7, 12), "by number");
}

#[test]
fn a_key_ball_is_kept_for_the_end() {
    let rack = group(Vec::new(), None);
    let guide = full(&rack, 1);
    let all = Foresight::new(&guide, Depth::All);
    let keys = key_balls(&guide, &all, &Table::of(&rack));
    assert_eq!(keys.len(), 2, "either may be kept: {keys:?}");
    assert!(keys[0].all >= keys[1].all, "best first: {keys:?}");
    for key in &keys {
        assert!((0.0..=key.two.1).contains(&key.two.0) && key.two.1 <= 1.0, "{key:?}");
    }
    let free = all.value(rack.targets(), Table::of(&rack).cue_ball());
    assert!(free >= keys[0].all - 1e-9, "who is free to choose is no worse: {free}, {keys:?}");
}

#[test]
fn who_looks_ahead_clears_more() {
    // Seeded layouts; the same luck for all. Over all of them, not in each.
    let mut totals = [0; 3];
    for seed in 40..44 {
        let mut seeded = Seeded::new(seed);
        let card = card();
        let shape = TableShape::new(&card);
        let mut balls: Vec<PlacedBall> = Vec::new();
        for number in 0..=4 {
            let position = free_place(&mut seeded, &card, &shape, &balls).expect("room");
            let id = if number == 0 { BallId::CUE } else { ball(number) };
            balls.push(PlacedBall { id, position });
        }
        let rack = Rack::new(&card, &balls, Game::Rotation, Vec::new(), None).expect("a rack");
        let guide = full(&rack, 1);
        for (total, depth) in totals.iter_mut().zip([Depth::Pot, Depth::Next, Depth::All]) {
            let foresight = Foresight::new(&guide, depth);
            let player = Player::new(&guide, &foresight, Care::QUICK);
            let table = Table::of(&rack);
            let runs = Runs::new(&guide, &player, &table, player.choose(&table));
            *total += (0..20).filter(|&k| runs.play(seed as u32, k).cleared == 4).count();
        }
    }
    let [pot, next, all] = totals;
    println!("cleared of 80: {pot} potting, {next} one ahead, {all} all ahead");
    assert!(pot < next && next <= all + 5, "{totals:?}");
}

#[test]
fn who_is_taken_plays_as_it_would_by_itself() {
    let rack = easy();
    let guide = full(&rack, 2);
    let (foresights, table) = (Foresights::new(&guide), Table::of(&rack));
    let ways = Way::all(&guide, &foresights, &table);
    assert_eq!((ways[0].depth, ways[1].depth), (Depth::Next, Depth::Pot), "{ways:?}");
    let mut race = Race::new(ways.len());
    while let Some((running, runs)) = race.next() {
        let laps: Vec<u8> = runs
            .flat_map(|run| running.iter().map(move |way| (run, *way)))
            .map(|(run, way)| {
                let cleared = ways[way].cleared(
                    &guide,
                    &foresights,
                    &table,
                    Series::Race.number(),
                    run..run + 1,
                );
                u8::from(cleared[0])
            })
            .collect();
        race.take(&laps).expect("the runs that come next");
    }
    let taken = race.taken();
    let (cleared, runs) = race.tally(taken);
    let played = ways[taken].cleared(&guide, &foresights, &table, Series::Race.number(), 0..runs);
    assert_eq!(played.iter().filter(|one| **one).count(), cleared as usize, "run by run");

    // One who looks one ball ahead, without any race.
    let next = Foresight::new(&guide, Depth::Next);
    let first = Player::new(&guide, &next, Care::CALM).choose(&table);
    let player = Player::new(&guide, &next, Care::QUICK);
    let plain = Runs::new(&guide, &player, &table, first);
    let alone: Vec<bool> = (0..100).map(|k| plain.play(9, k).over == Over::Cleared).collect();
    let way = ways[0].cleared(&guide, &foresights, &table, 9, 0..100);
    assert_eq!(way, alone, "the way of who looks one ball ahead is just that");
}

#[test]
fn deals_are_as_wished() {
    for rotation in [true, false] {
        let n_balls = if rotation { 3 } else { 1 };
        let wish = ClearWish {
            level: 2,
            rotation,
            n_balls,
            demands: true,
            seed: 5,
            size: TableSize::NineFoot,
        };
        let item = deal_clear(&wish).expect("a deal");
        assert_eq!(deal_clear(&wish).expect("a deal"), item, "the same seed, the same item");
        let rack = item.rack().expect("a sound rack");
        assert_eq!(rack.targets().len(), if rotation { 3 } else { 2 }, "{item:?}");
        assert_eq!(item.links.len(), 1, "something is asked");
        for placed in &item.shot.balls {
            let tenths = placed.position * 1e4;
            assert!((tenths - tenths.round()).abs().max_element() < 1e-6, "{placed:?}");
        }
        let many = ClearWish { n_balls: clear_sizes(rotation).end() + 1, ..wish };
        assert_eq!(deal_clear(&many).expect_err("too many").field(), "balls", "{many:?}");
        let hard = ClearWish { level: 7, ..wish };
        assert_eq!(deal_clear(&hard).expect_err("no such level").field(), "level", "{hard:?}");
    }
}
