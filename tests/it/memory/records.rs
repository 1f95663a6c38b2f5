//! What is kept of real calls: the skills they tell of, their forms, and what is refused.

use glam::DVec2;
use leaveline::layout::{ClearWish, deal_clear, deal_leave, deal_read};
use leaveline::memory::{Answered, By, Part, Skill, Told, Worth, record};
use leaveline::physics::play;
use leaveline::plan::Called;
use leaveline::practice::{Call, CallPoint, CuePath, LeaveAnswer, ReadItem, Rebound, why};
use leaveline::shot::{HANDS, Zone};
use leaveline::table::{PocketId, TableSize};
use leaveline::units::degrees;
use leaveline::wire::{
    Value, compact, log_next, log_plots, log_read, log_record, log_summary, parse, read_record,
    record_id, write_call, write_item, write_record,
};

/// The path of an item's cue ball.
fn path_of(item: &ReadItem) -> CuePath {
    let outcome = play(&item.shot).expect("a shot");
    CuePath::of(&item.shot, &outcome).expect("a ball is met")
}

/// The call that is all right.
pub fn truth_of(item: &ReadItem) -> Call {
    let truth = path_of(item);
    let point = |(rail, touch): (_, &leaveline::practice::Touch)| CallPoint {
        position: touch.position,
        rail: Some(rail),
    };
    Call { points: truth.rail_touches().map(point).collect(), stop: truth.stop }
}

/// An item of some rails, and its path.
fn with_rails(n: usize) -> (ReadItem, CuePath) {
    (0..400)
        .filter_map(|seed| deal_read(5, seed, TableSize::NineFoot).ok())
        .map(|item| (path_of(&item), item))
        .find(|(path, _)| path.rail_touches().count() == n && path.pocketed.is_none())
        .map(|(path, item)| (item, path))
        .expect("an item")
}

fn told(item: &ReadItem, call: Call) -> Vec<Told> {
    record(0.0, Answered::Read { item: item.clone(), call }).expect("a call").told
}

fn error(told: &[Told], skill: Skill) -> f64 {
    let found = told.iter().find(|told| told.skill == skill);
    found.unwrap_or_else(|| panic!("nothing is told of {}", skill.id())).error()
}

#[test]
fn the_perfect_call_tells_of_no_error() {
    for seed in 0..30 {
        let item = deal_read(4, seed, TableSize::NineFoot).expect("a deal");
        let call = truth_of(&item);
        let kept = record(0.0, Answered::Read { item, call }).expect("a call");
        assert!(kept.success && kept.mark == Some(100.0), "seed {seed}: {:?}", kept.mark);
        for told in &kept.told {
            assert!(told.error().abs() < 1e-9, "seed {seed}: {told:?}");
        }
    }
}

#[test]
fn errors_have_their_size_and_side() {
    let (item, path) = with_rails(2);
    let truth = truth_of(&item);
    let ball = 2.0 * item.shot.card.ball.radius;
    let touch = truth.points[1].position;
    let last = (truth.stop - touch).normalize();

    // Two balls too far on, one too far left.
    let left = DVec2::new(-last.y, last.x);
    let stop = truth.stop + ball * (2.0 * last + left);
    let off = told(&item, Call { stop, ..truth.clone() });
    assert!((error(&off, Skill::StopAlong) - 2.0).abs() < 1e-9, "{off:?}");
    assert!((error(&off, Skill::StopAcross) - 1.0).abs() < 1e-9, "{off:?}");
    assert!(error(&off, Skill::Speed) > 0.0, "the path is longer: {off:?}");

    // The last leg turned by six degrees about the second touch, wider than it was.
    let comes = touch - truth.points[0].position;
    let along = if truth.points[1].rail.expect("a rail").is_long() { DVec2::X } else { DVec2::Y };
    let travel = comes.dot(along).signum() * along;
    for turn in [0.1047, -0.1047_f64] {
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let leg = truth.stop - touch;
        let turned = DVec2::new(leg.x * cos - leg.y * sin, leg.x * sin + leg.y * cos);
        let off = told(&item, Call { stop: touch + turned, ..truth.clone() });
        let wider = (turned - leg).dot(travel) > 0.0;
        let expected = if wider { degrees(0.1047) } else { -degrees(0.1047) };
        assert!((error(&off, Skill::SecondRebound) - expected).abs() < 1e-6, "{off:?}");
        assert!(error(&off, Skill::SecondRail).abs() < 1e-9, "the touch is right: {off:?}");
    }

    // A heading three degrees farther from the line of the shot.
    let first = truth.points[0].position - path.ghost;
    let away = path.approach.perp_dot(first).signum();
    let (sin, cos) = (libm::sin(away * 0.05236), libm::cos(0.05236));
    let turned = DVec2::new(first.x * cos - first.y * sin, first.x * sin + first.y * cos);
    let off = told(&item, Call { points: vec![], stop: path.ghost + turned });
    let heading = [Skill::HeadingStun, Skill::HeadingRoll, Skill::HeadingDraw]
        .into_iter()
        .find_map(|skill| off.iter().find(|told| told.skill == skill));
    let heading = heading.expect("a heading");
    assert!((heading.error() - 3.0).abs() < 0.01, "{heading:?}");
}

/// Draw goes back from the tangent line, follow forward.
#[test]
fn headings_are_told_by_stroke() {
    let mut seen = [0; 3];
    for seed in 0..120 {
        let item = deal_read(1 + (seed % 3) as u8, seed, TableSize::NineFoot).expect("a deal");
        let off = told(&item, truth_of(&item));
        let height = item.shot.stroke.height;
        for (k, skill) in
            [Skill::HeadingDraw, Skill::HeadingStun, Skill::HeadingRoll].into_iter().enumerate()
        {
            if off.iter().any(|told| told.skill == skill) {
                seen[k] += 1;
                assert!(skill != Skill::HeadingDraw || height < 0.0, "seed {seed}: {height}");
            }
        }
    }
    assert!(seen.iter().all(|count| *count >= 5), "{seen:?}");
}

/// Side pushes a rebound to one way, and who calls it farther that way gives it too much.
#[test]
fn side_is_told_by_what_it_does() {
    let mut seen = [0; 2];
    for seed in 0..200 {
        let item = deal_read(6, seed, TableSize::NineFoot).expect("a deal");
        if item.shot.stroke.side.abs() < 0.3 {
            continue;
        }
        let facts = why(&item.shot).expect("a shot").expect("a ball is met").facts;
        let Some(Rebound { left: Some(left), without_side: Some(without), .. }) =
            facts.rebounds.first()
        else {
            continue;
        };
        let off = told(&item, truth_of(&item));
        let Some(side) = off.iter().find(|told| told.skill == Skill::Side) else { continue };
        // Told is the angle toward which the side pushes, whichever way is farther along the
        // rail; what it does is plain from three degrees on.
        let does = degrees(left - without);
        if does.abs() < 3.0 || degrees(*left).abs() < 5.0 {
            continue;
        }
        let pushed = does * left > 0.0;
        assert_eq!(side.real > 0.0, pushed, "seed {seed}: {does} degrees to {left}, {side:?}");
        seen[usize::from(pushed)] += 1;
    }
    assert!(seen.iter().all(|count| *count >= 5), "with and against: {seen:?}");
}

#[test]
fn a_zone_tells_where_it_lies_and_how_large_it_is() {
    let item = deal_leave(1, 4, TableSize::NineFoot).expect("a deal");
    let by = By { hand: HANDS[1], drawn: None };
    let kept = |zone: Zone| {
        let answer = LeaveAnswer { zone, stroke: item.shot.stroke, call: None };
        record(5.0, Answered::Leave { item: item.clone(), answer, by }).expect("an answer")
    };
    let begin = Zone { centre: DVec2::new(1.2, 0.6), half: DVec2::new(0.2, 0.1), turn: 0.0 };
    let told = kept(begin).told;
    let (along, across) = (error(&told, Skill::ZoneAlong), error(&told, Skill::ZoneAcross));
    let size = error(&told, Skill::ZoneSize);
    // Both ways out in balls: the middle lies as far from the best as both together say.
    let twice = kept(Zone { half: 2.0 * begin.half, ..begin }).told;
    let larger = (1.0 + error(&twice, Skill::ZoneSize) / 100.0) / (1.0 + size / 100.0);
    assert!((larger - 2.0).abs() < 1e-9, "twice as large: {larger}");
    assert!((error(&twice, Skill::ZoneAlong) - along).abs() < 1e-9, "in the same place");
    assert!((error(&twice, Skill::ZoneAcross) - across).abs() < 1e-9, "in the same place");
    assert!(twice.iter().any(|told| told.skill == Skill::StopAlong), "and where it stopped");
}

fn clear_shot(worth: Option<Worth>) -> Answered {
    let wish = ClearWish {
        level: 1,
        rotation: false,
        n_balls: 1,
        demands: false,
        seed: 3,
        size: TableSize::NineFoot,
    };
    let item = deal_clear(&wish).expect("a deal");
    let ball = item.rack().expect("a rack").targets().balls().next().expect("a ball");
    let called = Called { ball, pocket: PocketId::FootLeft };
    let by = By { hand: HANDS[1], drawn: Some((9, 0)) };
    Answered::Clear { item, called, zone: None, by, worth }
}

#[test]
fn a_shot_of_a_run_tells_what_its_choice_cost_once_that_is_known() {
    let before = record(9.0, clear_shot(None)).expect("a shot");
    assert!(before.told.is_empty() && before.mark.is_none(), "{:?}", before.told);
    let after = record(9.0, clear_shot(Some(Worth { best: 0.7, own: 0.62 }))).expect("a shot");
    assert!((error(&after.told, Skill::Order) - 8.0).abs() < 1e-9, "{:?}", after.told);
    assert_eq!(record_id(&before), record_id(&after), "it is the same call");
    assert_eq!(after.part(), Part::Clear, "of Clear");
}

#[test]
fn what_is_kept_comes_back_and_is_known_again() {
    let read = deal_read(3, 8, TableSize::NineFoot).expect("a deal");
    let call = truth_of(&read);
    let leave = deal_leave(2, 8, TableSize::NineFoot).expect("a deal");
    let answer = LeaveAnswer {
        zone: Zone { centre: DVec2::new(1.0, 0.5), half: DVec2::new(0.2, 0.1), turn: 0.3 },
        stroke: leave.shot.stroke,
        call: None,
    };
    let by = By { hand: HANDS[2], drawn: Some((7, 1)) };
    let worth = Some(Worth { best: 0.5, own: 0.4 });
    let all = [
        Answered::Read { item: read, call },
        Answered::Leave { item: leave, answer, by },
        clear_shot(worth),
    ];
    let mut ids = vec![];
    for (k, answered) in all.into_iter().enumerate() {
        let kept = record(1_790_000_000_000.0 + k as f64, answered).expect("a call");
        let form = write_record(&kept).expect("a form");
        let text = compact(&form).expect("text");
        assert_eq!(parse(&text).as_ref(), Ok(&form), "as text");
        let back = read_record(&form).expect("its own form");
        assert_eq!(write_record(&back), Ok(form), "and back to the bit");
        assert_eq!(back.told, kept.told, "with its errors");
        ids.push(record_id(&kept).expect("an id"));
    }
    ids.dedup();
    assert_eq!(ids.len(), 3, "each has its own");
}

/// The text of a kept call, and what it was made of.
fn line() -> String {
    let item = deal_read(3, 8, TableSize::NineFoot).expect("a deal");
    let call = truth_of(&item);
    let request = Value::fields([
        ("at", 1_790_000_000_000.0.into()),
        ("item", write_item(&item)),
        ("call", write_call(&call)),
    ]);
    log_record(&request).expect("a call");
    let kept = record(1_790_000_000_000.0, Answered::Read { item, call }).expect("a call");
    compact(&write_record(&kept).expect("a form")).expect("text")
}

#[test]
fn a_file_is_read_line_by_line_and_bad_lines_are_named() {
    let good = line();
    let altered = good.replace("1790000000000", "1790000000001");
    let text = [
        r#"{"kind":"leaveline-log","version":1}"#,
        &good,
        "",
        "{\"half\":",
        &altered,
        &good.replace("\"success\":true", "\"success\":1"),
        &good.replace("\"mark\":100", "\"mark\":101"),
        &good.replace("heading-", "heeding-"),
        &good,
    ]
    .join("\n");
    let read = format!("{:?}", log_read(&text).expect("a log"));
    assert_eq!(read.matches("KeptForm").count(), 2, "the good ones: {read}");
    for line in 4..=8 {
        assert!(read.contains(&format!("line: {line}")), "line {line} is named: {read}");
    }
    assert!(read.contains("it was altered"), "an id that does not fit: {read}");
    let newer = log_read("{\"kind\":\"leaveline-log\",\"version\":2}\n").expect_err("a newer one");
    assert!(newer.rule().contains("newer version"), "{newer}");
}

#[test]
fn what_the_page_asks_of_nothing_is_nothing() {
    let summary = format!("{:?}", log_summary(&[]).expect("no calls"));
    assert!(summary.contains("n: 0") && summary.contains("sentences: []"), "{summary}");
    assert!(log_plots(&[], "rebound-2").is_ok(), "an empty plot");
    assert_eq!(log_plots(&[], "rebound-9").expect_err("none").field(), "skill", "no such skill");
    assert!(log_summary(&[3.0]).is_err(), "cut off");
    assert_eq!(log_next(&[], 0.0, 1, Some("x")).expect_err("none").field(), "topic", "no such");
    for topic in leaveline::memory::Topic::ALL {
        assert!(log_next(&[], 0.0, 4, Some(topic.id())).is_ok(), "{}", topic.id());
    }
}
