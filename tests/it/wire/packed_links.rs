//! Version 2 of links: short, exact, and proof against one altered character.

use super::kept_links::kept;
use super::{
    ANSWER, CALL, DEMAND, OWN_TABLE, SHOT, SHOT3, answer, call, item, item_text, leave_item,
    leave_text,
};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use glam::DVec2;
use leaveline::BallId;
use leaveline::layout::{ClearWish, deal_clear, deal_leave, deal_read};
use leaveline::physics::{PlacedBall, Shot, Stroke, play};
use leaveline::plan::{BallSet, Game};
use leaveline::practice::{
    AnyItem, ClearItem, LeaveAnswer, LeaveItem, ReadItem, mirror, place_ball, remove_ball,
    rounded_answer, rounded_item, rounded_stroke, rounded_zone, settled, trial,
};
use leaveline::shot::{Demand, Zone};
use leaveline::table::{PocketId, TableCard, TableSize};
use leaveline::wire::{
    AnyOpened, make, make_clear, make_leave, open_any, pack_item, unpack_item, unseal,
    unseal_answer,
};
use proptest::prelude::*;

/// The most characters of a nine-ball layout, by which a printed code stays readable.
const LONGEST: usize = 160;

/// Numbers that look drawn, the same in every run.
struct Draw(u64);

impl Draw {
    fn share(&mut self) -> f64 {
        // Knuth's MMIX generator; its high bits.
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn below(&mut self, n: u32) -> u32 {
        (self.share() * f64::from(n)) as u32
    }
}

fn ball(number: u32) -> BallId {
    BallId::object(number as u8).unwrap_or(BallId::CUE)
}

fn card() -> TableCard {
    TableCard::of_size(TableSize::NineFoot)
}

/// So many balls, the cue ball among them, anywhere.
fn scattered(n_balls: u32, draw: &mut Draw) -> Vec<PlacedBall> {
    let mut balls: Vec<PlacedBall> = Vec::new();
    while balls.len() < n_balls as usize {
        let position = DVec2::new(draw.within(0.05, 2.49), draw.within(0.05, 1.22));
        if balls.iter().all(|other| other.position.distance(position) > 0.06) {
            balls.push(PlacedBall { id: ball(balls.len() as u32), position });
        }
    }
    settled(&card(), &balls)
}

fn shot_of(balls: Vec<PlacedBall>) -> Shot {
    let stroke = Stroke { azimuth: 0.4, elevation: 0.03, speed: 1.85, side: 0.25, height: -0.15 };
    Shot { card: card(), balls, stroke: rounded_stroke(&stroke) }
}

fn zone(draw: &mut Draw) -> Zone {
    rounded_zone(&Zone {
        centre: DVec2::new(draw.within(0.1, 2.4), draw.within(0.1, 1.1)),
        half: DVec2::new(draw.within(0.02, 0.5), draw.within(0.02, 0.3)),
        turn: draw.within(-1.5, 1.5),
    })
}

fn leave_of(shot: Shot, draw: &mut Draw) -> LeaveItem {
    let next = (shot.balls.len() > 2).then(|| ball(2));
    let zone = Some(zone(draw));
    let demand = Demand { pocket: Some(PocketId::FootLeft), next, zone, ..Demand::to_pot(ball(1)) };
    LeaveItem { shot, demand, model: 1, level: 4, seed: Some(4_000_000_000) }
}

#[test]
fn a_link_stays_short() {
    let mut draw = Draw(3);
    let (called, answered) = (call(CALL).expect("sound"), answer(ANSWER).expect("sound"));
    println!(
        "object balls: read, with a call of two points; leave with a zone, with an answer; clear in rotation, a group"
    );
    for n_balls in 1..=15 {
        let shot = shot_of(scattered(n_balls + 1, &mut draw));
        let read = ReadItem { shot: shot.clone(), model: 1, level: 4, seed: Some(u32::MAX) };
        let leave = leave_of(shot.clone(), &mut draw);
        let answered = rounded_answer(&shot.card, &answered);
        let clear = |game| {
            let (links, key) = (Vec::new(), None);
            let shot = shot.clone();
            let item =
                ClearItem { shot, game, links, key, model: 1, level: 4, seed: Some(u32::MAX) };
            make_clear(&item).map(|link| link.len())
        };
        let last = ball(n_balls);
        let group: BallSet = (1..n_balls.min(8)).map(ball).collect();
        let lengths = [
            make(&read, None).map(|link| link.len()),
            make(&read, Some(&called)).map(|link| link.len()),
            make_leave(&leave, None).map(|link| link.len()),
            make_leave(&leave, Some(&answered)).map(|link| link.len()),
            clear(Game::Rotation),
            clear(Game::Group { group, last }),
        ];
        let lengths = lengths.map(|length| length.expect("short"));
        println!("{n_balls:2}: {lengths:?}");
        if n_balls <= 9 {
            assert!(lengths.iter().all(|length| *length <= LONGEST), "{n_balls}: {lengths:?}");
        }
    }
}

/// Links of every kind and of both versions, but for the longest.
fn links() -> Vec<String> {
    let all = [1, 2].into_iter().flat_map(kept).map(|one| one.link);
    all.filter(|link| link.len() < 300).collect()
}

/// Whether a text is taken for something whole.
fn passes(text: &str) -> bool {
    open_any(text).is_ok() || unseal(text).is_ok() || unseal_answer(text).is_ok()
}

#[test]
fn one_altered_character_never_passes() {
    let alphabet: Vec<u8> =
        (b'a'..=b'z').chain(b'A'..=b'Z').chain(b'0'..=b'9').chain(*b"-_.=%#").collect();
    let mut tried = 0;
    for link in links() {
        assert!(passes(&link), "whole: {link}");
        for at in 0..link.len() {
            for &other in alphabet.iter().filter(|&&other| other != link.as_bytes()[at]) {
                let mut altered = link.clone().into_bytes();
                altered[at] = other;
                let altered = String::from_utf8(altered).expect("ASCII");
                assert!(!passes(&altered), "altered at {at}: {altered}");
                tried += 1;
            }
        }
    }
    println!("{tried} altered links, none taken");
}

#[test]
fn swapped_neighbours_and_cut_ends_never_pass() {
    for link in links() {
        for at in 1..link.len() {
            assert!(!passes(&link[..at]), "cut after {at}: {link}");
            // Its first letters may be lost from a sentence before it, but not from its kind.
            assert!(!passes(&link[at..]), "cut before {at}: {link}");
            let mut swapped = link.clone().into_bytes();
            swapped.swap(at - 1, at);
            let swapped = String::from_utf8(swapped).expect("ASCII");
            assert!(swapped == link || !passes(&swapped), "swapped at {at}: {swapped}");
            let lost = [&link[..at], &link[at + 1..]].concat();
            // Of two alike it is all the same which was lost, but one is missing.
            assert!(!passes(&lost), "lost the character at {at}: {lost}");
        }
    }
}

/// Checks that an item opens to itself, by link and as bytes, and is on the quanta.
fn opens_to_itself(item: &AnyItem) {
    let link = match item {
        AnyItem::Read(item) => make(item, None),
        AnyItem::Leave(item) => make_leave(item, None),
        AnyItem::Clear(item) => make_clear(item),
    };
    let opened = match open_any(&link.expect("short")).expect("whole") {
        AnyOpened::Read(opened) => AnyItem::Read(opened.item),
        AnyOpened::Leave(opened) => AnyItem::Leave(opened.item),
        AnyOpened::Clear(item) => AnyItem::Clear(item),
    };
    assert_eq!(&opened, item, "to the last bit");
    assert_eq!(bits_of(&opened), bits_of(item), "signs of zeros included");
    let bytes = pack_item(item).expect("short");
    assert_eq!(unpack_item(&bytes).as_ref(), Ok(item), "as bytes");
}

fn bits_of(item: &AnyItem) -> Vec<[u64; 2]> {
    item.shot().balls.iter().map(|ball| ball.position.to_array().map(f64::to_bits)).collect()
}

#[test]
fn deals_are_on_the_quanta_and_open_to_themselves() {
    for seed in 0..60 {
        let (level, size) = (1 + (seed % 6) as u8, TableSize::ALL[seed as usize % 3]);
        let read = AnyItem::Read(deal_read(level, seed, size).expect("a deal"));
        let leave = AnyItem::Leave(deal_leave(level, seed, size).expect("a deal"));
        for item in [read, leave] {
            assert_eq!(rounded_item(&item), item, "seed {seed}: dealt on the quanta");
            opens_to_itself(&item);
        }
    }
    for seed in 0..4 {
        let wish = ClearWish {
            level: 2,
            rotation: seed % 2 == 0,
            n_balls: 3,
            demands: true,
            seed,
            size: TableSize::SevenFoot,
        };
        let item = AnyItem::Clear(deal_clear(&wish).expect("a deal"));
        assert_eq!(rounded_item(&item), item, "seed {seed}: dealt on the quanta");
        opens_to_itself(&item);
    }
}

/// A walk on the Bench: balls dropped near each other and near rails, taken away, mirrored.
#[test]
fn what_is_set_up_opens_to_itself_and_plays_the_same() {
    let mut draw = Draw(11);
    let mut touching = 0;
    for walk in 0..40 {
        let mut item = leave_item(&leave_text(SHOT3, DEMAND)).expect("sound");
        for step in 0..30 {
            let number = draw.below(16);
            let there = item.shot.balls.iter().any(|other| other.id == ball(number));
            let other = item.shot.balls[draw.below(item.shot.balls.len() as u32) as usize];
            let place = match draw.below(3) {
                0 => DVec2::new(draw.within(-0.1, 2.6), draw.within(-0.1, 1.4)),
                // Beside another ball, or beyond a rail.
                1 => {
                    other.position + DVec2::new(draw.within(-0.08, 0.08), draw.within(-0.08, 0.08))
                }
                _ => DVec2::new(other.position.x, if draw.below(2) == 0 { 0.0 } else { 1.27 }),
            };
            let snapping = draw.below(4) > 0;
            let changed = match draw.below(12) {
                0 => Ok(mirror(&item)),
                1 => remove_ball(&item, ball(number)),
                _ => place_ball(&item, ball(number), place, snapping, !there),
            };
            let Ok(changed) = changed else { continue };
            item = changed;
            assert_eq!(item.shot.check(), Ok(()), "walk {walk}, step {step}");
            let any = AnyItem::Leave(item.clone());
            assert_eq!(rounded_item(&any), any, "walk {walk}, step {step}: rounded once for all");
            opens_to_itself(&any);
        }
        item.shot.stroke = rounded_stroke(&Stroke {
            azimuth: draw.within(-3.0, 3.0),
            elevation: draw.within(0.0, 0.3),
            speed: draw.within(0.1, 8.0),
            side: draw.within(-0.35, 0.35),
            height: draw.within(-0.35, 0.35),
        });
        item.demand.zone = Some(zone(&mut draw));
        let tried = trial(&item, walk % 2 == 0).expect("sound");
        opens_to_itself(&AnyItem::Leave(tried.item.clone()));
        let link = make_leave(&tried.item, None).expect("short");
        let Ok(AnyOpened::Leave(opened)) = open_any(&link) else { panic!("{link}") };
        assert_eq!(play(&opened.item.shot), play(&tried.item.shot), "the same play");
        let reach = 2.0 * card().ball.radius;
        let balls = &tried.item.shot.balls;
        touching += balls
            .iter()
            .enumerate()
            .flat_map(|(k, one)| balls[..k].iter().map(move |other| (one, other)))
            .filter(|(one, other)| (one.position.distance(other.position) - reach).abs() < 1e-9)
            .count();
    }
    assert!(touching > 60, "{touching} pairs touched in the end");
}

/// Balls from where each lies from the first, in diameters, the whole turned by `angle`.
fn cluster(at: DVec2, angle: f64, from_first: &[(f64, f64)]) -> Vec<PlacedBall> {
    let diameter = 2.0 * card().ball.radius;
    let turn = DVec2::from_angle(angle);
    let place = |&(x, y): &(f64, f64)| at + turn.rotate(DVec2::new(x, y)) * diameter;
    from_first
        .iter()
        .enumerate()
        .map(|(k, from)| PlacedBall { id: ball(k as u32), position: place(from) })
        .collect()
}

/// Gaps between balls that are nearer than a tenth of a millimetre, m.
fn gaps(balls: &[PlacedBall]) -> Vec<(usize, usize, f64)> {
    let reach = 2.0 * card().ball.radius;
    let mut all = Vec::new();
    for (k, one) in balls.iter().enumerate() {
        for (j, other) in balls[..k].iter().enumerate() {
            let gap = one.position.distance(other.position) - reach;
            if gap < 1e-4 {
                all.push((j, k, gap));
            }
        }
    }
    all
}

#[test]
fn what_touches_still_touches_when_it_is_rounded() {
    let row: Vec<_> = (0..9).map(|k| (f64::from(k), 0.0)).collect();
    let rack: Vec<_> = (0..5)
        .flat_map(|row| (0..=row).map(move |k| (row, k)))
        .map(|(row, k)| (0.75_f64.sqrt() * f64::from(row), f64::from(k) - 0.5 * f64::from(row)))
        .collect();
    let bend = [(0.0, 0.0), (1.0, 0.0), (1.6, 0.8), (2.6, 0.8), (2.6, 1.8)];
    // Four around a gap, the last of which touches two.
    let (sine, cosine) = (0.96, 0.28);
    let ring = [(0.0, 0.0), (1.0, 0.0), (1.0 - cosine, sine), (-cosine, sine)];
    let mut draw = Draw(5);
    let mut farthest: f64 = 0.0;
    for (name, shape) in
        [("row of nine", row.as_slice()), ("rack", &rack), ("bend", &bend), ("ring", &ring)]
    {
        for k in 0..50 {
            let at = DVec2::new(draw.within(0.8, 1.6), draw.within(0.6, 0.65));
            let most = if name == "row of nine" { 0.7 } else { 3.0 };
            let angle = draw.within(-most, most);
            let balls = cluster(at, angle, shape);
            let rounded = settled(&card(), &balls);
            assert_eq!(settled(&card(), &rounded), rounded, "{name} {k}: once for all");
            let (before, after) = (gaps(&balls), gaps(&rounded));
            assert_eq!(before.len(), after.len(), "{name} {k}: each contact stays: {after:?}");
            for (one, other, gap) in after {
                assert!(gap.abs() < 1e-13, "{name} {k}: {one} and {other} are {gap} m apart");
            }
            for (one, other) in balls.iter().zip(&rounded) {
                farthest = farthest.max(one.position.distance(other.position));
            }
            let item = leave_of(shot_of(rounded), &mut draw);
            assert_eq!(item.shot.check(), Ok(()), "{name} {k} is legal");
            opens_to_itself(&AnyItem::Leave(item));
        }
    }
    println!("touching balls moved by {farthest} m at most");
    assert!(farthest < 1e-4, "by less than a tenth of a millimetre: {farthest}");
}

#[test]
fn balls_on_a_rail_lie_exactly_at_its_nose() {
    let (card, touch) = (card(), card().touch_distance());
    let diameter = 2.0 * card.ball.radius;
    // Three along the right rail, one that leans on the last from outside, one at the foot.
    let mut balls: Vec<_> =
        (0..3).map(|k| DVec2::new(0.5 + diameter * f64::from(k) + 1e-9, touch + 3e-6)).collect();
    balls.push(balls[2] + DVec2::from_angle(1.1) * diameter);
    balls.push(DVec2::new(card.length - touch, 0.512_345));
    let balls: Vec<_> = balls
        .into_iter()
        .enumerate()
        .map(|(k, position)| PlacedBall { id: ball(k as u32), position })
        .collect();
    let rounded = settled(&card, &balls);
    for (k, on) in rounded[..3].iter().enumerate() {
        assert_eq!(on.position.y, touch, "ball {k} is on the right rail");
    }
    assert_eq!(rounded[4].position.x, card.length - touch, "and one on the foot rail");
    let touching = gaps(&rounded);
    assert_eq!(touching.len(), 3, "each contact stays: {touching:?}");
    assert!(touching.iter().all(|(.., gap)| gap.abs() < 1e-13), "exactly: {touching:?}");
    assert_eq!(settled(&card, &rounded), rounded, "once for all");
    let item = leave_of(shot_of(rounded), &mut Draw(1));
    assert_eq!(item.shot.check(), Ok(()), "legal");
    opens_to_itself(&AnyItem::Leave(item));
}

#[test]
fn a_ball_by_itself_moves_by_less_than_a_tenth_of_a_millimetre() {
    let mut draw = Draw(9);
    for _ in 0..300 {
        let position = DVec2::new(draw.within(0.05, 2.49), draw.within(0.05, 1.22));
        let alone = [PlacedBall { id: BallId::CUE, position }];
        let moved = settled(&card(), &alone)[0].position.distance(position);
        assert!(moved <= 7.2e-5, "{position} moved by {moved}");
    }
}

#[test]
fn balls_all_but_touching_come_apart_legally() {
    let mut draw = Draw(21);
    let diameter = 2.0 * card().ball.radius;
    for k in 0..500 {
        let at = DVec2::new(draw.within(0.3, 2.2), draw.within(0.3, 0.9));
        let mut balls = vec![PlacedBall { id: BallId::CUE, position: at }];
        for number in 1..4 {
            let gap = draw.within(0.0, 2e-4);
            let away = DVec2::from_angle(draw.within(0.0, 1.5) + 2.0 * f64::from(number));
            let position = at + away * (diameter + gap);
            if balls.iter().all(|other| other.position.distance(position) >= diameter) {
                balls.push(PlacedBall { id: ball(number), position });
            }
        }
        let rounded = settled(&card(), &balls);
        assert_eq!(shot_of(rounded.clone()).check(), Ok(()), "{k}: legal");
        assert_eq!(settled(&card(), &rounded), rounded, "{k}: once for all");
        for (one, other) in balls.iter().zip(&rounded) {
            let moved = one.position.distance(other.position);
            assert!(moved < 2.5e-4, "{k}: moved by {moved}");
        }
    }
}

#[test]
fn what_lies_off_the_quanta_is_carried_as_it_is() {
    let mut item = item(&item_text(OWN_TABLE)).expect("sound");
    item.shot.balls[1].position = DVec2::new(1.0 / 3.0, 2.0 / 7.0);
    item.shot.stroke.azimuth = 1.234_567_890_123;
    item.shot.card.cushion.friction = 1.0 / 7.0;
    opens_to_itself(&AnyItem::Read(item));
    let mut answer = answer(ANSWER).expect("sound");
    answer.zone.half.x = 0.1 + 1e-17 + 1.0 / 3.0;
    answer.stroke.speed = 0.1_f64.sqrt();
    let leave = leave_item(&leave_text(SHOT3, DEMAND)).expect("sound");
    let Ok(AnyOpened::Leave(opened)) = open_any(&make_leave(&leave, Some(&answer)).expect("short"))
    else {
        panic!("a Leave item")
    };
    let sealed = opened.sealed.expect("an answer came along");
    let back: LeaveAnswer = unseal_answer(&sealed).expect("just sealed");
    assert_eq!(back, answer, "an answer too");
}

/// A link of version 2 with these bytes and a check that fits them.
fn forged(kind: &str, bytes: &[u8]) -> String {
    let body = format!("{kind}=2.{}", URL_SAFE_NO_PAD.encode(bytes));
    let check = URL_SAFE_NO_PAD.encode(crc32fast::hash(body.as_bytes()).to_be_bytes());
    format!("{body}.{check}")
}

#[test]
fn what_is_not_sound_is_refused_by_field_and_rule() {
    let refused = |change: &dyn Fn(&mut LeaveItem)| {
        let mut item = leave_item(&leave_text(SHOT3, DEMAND)).expect("sound");
        change(&mut item);
        let link = make_leave(&item, None).expect("short");
        open_any(&link).expect_err("not sound").to_string()
    };
    let fast = refused(&|item| item.shot.stroke.speed = 15.5);
    assert_eq!(fast, "item.shot.stroke.speed is 15.5: must be positive and at most 15 m/s");
    let overlap = refused(&|item| item.shot.balls[1].position = item.shot.balls[0].position);
    assert_eq!(overlap, "item.shot.balls[1]: overlaps the cue ball; touching is allowed");
    let level = refused(&|item| item.level = 7);
    assert_eq!(level, "item.level is 7: must be a whole number from 1 to 6");
    let next = refused(&|item| item.demand.next = Some(ball(9)));
    assert_eq!(next, "item.demand.next: must be an object ball that is on the table");
    let beside = refused(&|item| item.shot.balls[0].position.x = f64::NAN);
    assert_eq!(beside, "item.shot.balls[0].x is NaN: must be a finite number");
    let zone = refused(&|item| {
        if let Some(zone) = &mut item.demand.zone {
            zone.half.x = 11.0;
        }
    });
    assert_eq!(zone, "item.demand.zone.long is 22: must lie from 0.002 to 20 m");
    let newer = refused(&|item| item.model = 2);
    let reload = "made by a newer version of this page: reload the page to get that version";
    assert_eq!(newer, format!("link version is 2: {reload}"));

    let read = item(&item_text(SHOT)).expect("sound");
    let bytes = pack_item(&AnyItem::Read(read)).expect("short");
    let of_kind =
        |kind: &str, bytes: &[u8]| open_any(&forged(kind, bytes)).err().map(|e| e.to_string());
    let long: Vec<u8> = bytes.iter().copied().chain([0, 0]).collect();
    for (kind, bytes, message) in [
        ("leave", bytes.as_slice(), "link: is of another kind than it says"),
        ("read", &long, "link: holds more than its item"),
        ("read", &bytes[..bytes.len() - 3], "link: holds less than an item"),
        ("read", &[], "link: holds less than an item"),
        ("read", &[0xff; 40], "link: holds a number without end"),
    ] {
        assert_eq!(of_kind(kind, bytes).as_deref(), Some(message), "{kind} {bytes:?}");
    }
}

proptest! {
    #[test]
    fn no_bytes_upset_the_reader(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        for kind in ["read", "leave", "clear"] {
            let _ = open_any(&forged(kind, &bytes));
        }
        if let Ok(item) = unpack_item(&bytes) {
            prop_assert_eq!(unpack_item(&pack_item(&item).expect("short")), Ok(item));
        }
    }

    #[test]
    fn no_altered_bits_upset_the_reader(
        which in 0usize..3, altered in proptest::collection::vec((0usize..2000, any::<u8>()), 1..6),
    ) {
        let item = match which {
            0 => AnyItem::Read(item(&item_text(OWN_TABLE)).expect("sound")),
            1 => AnyItem::Leave(leave_item(&leave_text(SHOT3, DEMAND)).expect("sound")),
            _ => AnyItem::Clear(super::clear_item(super::CLEARS[1]).expect("sound")),
        };
        let mut bytes = pack_item(&item).expect("short");
        for (at, other) in altered {
            let at = at % bytes.len();
            bytes[at] = other;
        }
        if let Ok(item) = unpack_item(&bytes) {
            prop_assert_eq!(unpack_item(&pack_item(&item).expect("short")), Ok(item));
        }
    }
}
