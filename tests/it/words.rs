//! The glossary: every example is played, and shows what its word says.

use crate::harness::{publish, published};
use glam::DVec2;
use leaveline::geometry::{angle_between, cross, left_of, unit_from_angle};
use leaveline::layout::glossary::{Mark, Run, Word, glossary, glossary_card};
use leaveline::physics::{Arena, BallEnd, EventKind};
use leaveline::practice::{CuePath, Dimension};
use leaveline::shot::lengths_of_speed;
use leaveline::units::{degrees, radians};
use leaveline::wire;

/// The glossary as the page fetches it. `LEAVELINE_PUBLISH=1 cargo test` writes it anew.
const FILE: &str = "www/words/glossary.json";

fn all() -> Vec<Word> {
    glossary().expect("the examples are sound")
}

/// The word of this name.
fn word(id: &str) -> Word {
    all().into_iter().find(|word| word.id == id).unwrap_or_else(|| panic!("{id} is a word"))
}

fn met(run: &Run) -> &CuePath {
    run.path.as_ref().expect("the cue ball meets a ball")
}

/// The direction of the tangent line, on the cue ball's side.
fn tangent(path: &CuePath) -> DVec2 {
    left_of(path.line_of_centres) * cross(path.line_of_centres, path.approach).signum()
}

/// The cue ball's heading: from the hit to its first cushion or the stop.
fn heading(path: &CuePath) -> DVec2 {
    path.touches.first().map_or(path.stop, |touch| touch.position) - path.ghost
}

/// How far the heading lies forward of the tangent line, degrees.
fn forward(path: &CuePath) -> f64 {
    let off = angle_between(tangent(path), heading(path));
    degrees(off * angle_between(tangent(path), path.approach).signum())
}

fn cut(path: &CuePath) -> f64 {
    degrees(angle_between(path.approach, path.line_of_centres)).abs()
}

fn has_fallen(run: &Run, place: usize) -> bool {
    matches!(run.outcome.ends[place], BallEnd::Pocketed(_))
}

/// Whether the cue ball rolled before it met a ball.
fn rolled_before(run: &Run) -> bool {
    let mut cue = run.outcome.events.iter().filter(|event| event.ball.is_cue());
    cue.any(|event| event.kind == EventKind::Roll && event.time < met(run).contact_time)
}

/// The way of the cue ball from its first cushion to its second or the stop, and how far it goes
/// from there in all, m.
fn rebound(run: &Run) -> DVec2 {
    let mut cushions = run.outcome.events.iter().filter_map(|event| match event.kind {
        EventKind::Cushion(_) if event.ball.is_cue() => Some(event.position),
        _ => None,
    });
    let first = cushions.next().expect("a cushion");
    cushions.next().unwrap_or_else(|| run.stop()) - first
}

#[test]
fn the_page_has_the_words_as_the_core_plays_them() {
    let text = serde_json::to_string(&wire::words().expect("sound")).expect("JSON") + "\n";
    publish(FILE, &text);
    assert_eq!(published(FILE), text, "{FILE}");
}

#[test]
fn every_word_is_short_has_an_example_and_is_named_once() {
    let words = all();
    for word in &words {
        assert!(word.meaning.len() <= 150, "{}: {} letters", word.id, word.meaning.len());
        assert!(word.meaning.ends_with('.') && word.shows.ends_with('.'), "{}", word.id);
        assert!(!word.runs.is_empty(), "{}", word.id);
        for run in &word.runs {
            assert_eq!(run.shot.check(), Ok(()), "{}", word.id);
            assert!(
                run.shot.balls.iter().all(|ball| ball.id.number() <= 8),
                "{}: whole balls are told apart without stripes",
                word.id
            );
        }
        let same = |other: &&Word| other.id == word.id || other.term == word.term;
        assert_eq!(words.iter().filter(same).count(), 1, "{}", word.id);
    }
}

#[test]
fn a_shot_at_a_ball_pots_it_but_where_throw_is_shown() {
    for word in all().iter().filter(|word| word.id != "throw") {
        for (k, run) in word.runs.iter().enumerate().filter(|(_, run)| run.path.is_some()) {
            assert!(has_fallen(run, 1), "{}, shot {k}: {:?}", word.id, run.outcome.ends);
        }
    }
}

#[test]
fn the_ghost_ball_touches_and_cuts_are_as_they_are_told() {
    let ghost = word("ghost-ball");
    let path = met(&ghost.runs[0]);
    let card = glossary_card();
    let object = ghost.runs[0].shot.balls[1].position;
    assert!((path.ghost.distance(object) - 2.0 * card.ball.radius).abs() < 1e-9, "they touch");
    assert!((cut(met(&word("cut-angle").runs[0])) - 40.0).abs() < 0.1, "set up so");
    let [half, full, thin] = [0, 1, 2].map(|k| cut(met(&word("full-half-thin").runs[k])));
    assert!((half - 30.0).abs() < 0.1 && full < 5.0 && thin > 55.0, "{half} {full} {thin}");
    assert!(word("full-half-thin").shows.starts_with("half: cut 30°, 50 % covered"), "sin 30° = ½");
}

/// A ball without spin leaves along the tangent line but for what the impact does not return:
/// forward by (1 - e)/2 of the closing speed, so by the angle whose tangent is (1 - e)/(2 tan cut);
/// friction between the balls takes up to mu times as much from the tangent's share.
#[test]
fn stun_keeps_to_the_tangent_line_follow_and_draw_leave_it() {
    let stun = word("stun");
    let path = met(&stun.runs[0]);
    let e = glossary_card().ball_contact.restitution;
    let expected = degrees(libm::atan((1.0 - e) / 2.0 / libm::tan(radians(cut(path)))));
    assert!(!rolled_before(&stun.runs[0]), "it slides as it hits");
    assert!((forward(path) - expected).abs() < 0.3, "{} for {expected}", forward(path));
    let [follow, draw] = ["follow", "draw"].map(|id| forward(met(&word(id).runs[0])));
    assert!(follow > 10.0 && draw < -10.0, "follow {follow}, draw {draw}");
    let tangent = word("tangent-line");
    let all = [0, 1, 2].map(|k| forward(met(&tangent.runs[k])));
    assert_eq!(all[1..], [follow, draw], "the same shots");
    assert!(all[0].abs() < 2.0, "and the stunned one: {all:?}");
}

/// Source: Coriolis 1835: a rolling ball that hits half leaves at 33.7° to its old way (the angle
/// of 5/7 and 2/7 shares). Throw and the cushion's place move the chord by a degree.
#[test]
fn natural_roll_leaves_a_half_ball_hit_at_coriolis_angle() {
    let roll = word("natural-roll");
    let path = met(&roll.runs[0]);
    assert!(rolled_before(&roll.runs[0]), "it rolls as it hits");
    let off = degrees(angle_between(path.approach, heading(path))).abs();
    assert!((off - 33.7).abs() < 1.5, "{off}");
}

#[test]
fn running_side_widens_and_speeds_the_rebound_reverse_does_the_opposite() {
    let side = word("side");
    let off = |run: &Run| degrees(libm::atan2(rebound(run).y, rebound(run).x));
    let [left, none, right] = [0, 1, 2].map(|k| &side.runs[k]);
    assert!(off(left) < off(none) - 8.0, "running is wider: {} {}", off(left), off(none));
    assert!(off(right) > off(none) + 4.0, "reverse is steeper: {} {}", off(right), off(none));
    let after = |run: &Run| {
        let line = run.line(0);
        let at = line.iter().position(|place| place.y < 0.03).expect("the right rail");
        line[at..].windows(2).map(|pair| pair[0].distance(pair[1])).sum::<f64>()
    };
    assert!(after(left) > after(none) && after(none) > after(right), "it keeps more speed");
    let before = |run: &Run| run.line(0).iter().find(|place| place.y < 0.03).map(|place| place.x);
    let [a, b] = [left, right].map(|run| before(run).expect("the right rail"));
    assert!((a - b).abs() < 0.02, "all come to one place: {a} {b}");
    assert_eq!(word("running-side").runs[0], *left, "the same shot");
    assert_eq!(word("reverse-side").runs[0], *right, "the same shot");
}

#[test]
fn throw_squirt_and_swerve_go_to_their_sides() {
    let throw = word("throw");
    let path = met(&throw.runs[0]);
    let line = throw.runs[0].line(1);
    let off = degrees(angle_between(path.line_of_centres, line[line.len() - 1] - line[0]));
    let rubbed = cross(path.line_of_centres, path.approach).signum();
    assert!(off * rubbed > 2.0, "the way the cue ball rubs it: {off}");

    let squirt = &word("squirt").runs[0];
    let way = squirt.line(0)[1] - squirt.line(0)[0];
    let off = degrees(angle_between(unit_from_angle(squirt.shot.stroke.azimuth), way));
    assert!(squirt.shot.stroke.side > 0.0 && off > 1.0, "right tip, left ball: {off}");

    let swerve = &word("swerve").runs[0];
    let cushion = swerve.outcome.events.iter().find_map(|event| match event.kind {
        EventKind::Cushion(_) => Some(event.position),
        _ => None,
    });
    let way = swerve.shot.struck().expect("a cue ball").velocity.normalize();
    let bend = cross(way, cushion.expect("the foot rail") - swerve.line(0)[0]);
    assert!(swerve.shot.stroke.side > 0.0 && bend < -0.05, "right tip, to the right: {bend}");
}

#[test]
fn rails_and_lengths_are_as_they_are_told() {
    let cushion = &word("cushion").runs[0];
    let off = degrees(libm::atan2(rebound(cushion).y, rebound(cushion).x));
    assert!((off - 45.0).abs() > 3.0, "it came at 45° and leaves not so: {off}");
    let diamond = word("diamond");
    assert!(diamond.shows.starts_with("It meets the right rail, diamond "), "{}", diamond.shows);
    let length = &word("length").runs[0];
    let arena = Arena::new(&glossary_card());
    let gone: f64 = length.line(0).windows(2).map(|pair| pair[0].distance(pair[1])).sum();
    let lengths = lengths_of_speed(&arena, length.shot.stroke.speed);
    assert!((gone / glossary_card().travel_length() - lengths).abs() < 0.01, "as far as that");
    assert_eq!(word("length").shows, "A stroke of 1.5 lengths.");
}

/// The zone that a word draws.
fn zone_of(word: &Word) -> leaveline::shot::Zone {
    let zone = word.marks.iter().find_map(|mark| match mark {
        Mark::Zone(zone) => Some(*zone),
        _ => None,
    });
    zone.unwrap_or_else(|| panic!("{} draws a zone", word.id))
}

#[test]
fn leaves_zones_and_lines_are_where_they_are_told() {
    let margin = word("margin");
    let zone = zone_of(&margin);
    for run in &margin.runs {
        assert!(zone.contains(met(run).stop), "{:?} in {zone:?}", met(run).stop);
    }
    assert!(zone_of(&word("zone")).contains(met(&word("zone").runs[0]).stop), "in its zone");
    let angle = |id: &str| {
        let run = &word(id).runs[0];
        let path = met(run);
        let from = path.touches.last().map_or(path.ghost, |touch| touch.position);
        let mouth = DVec2::splat(0.0);
        let off = angle_between(mouth - run.shot.balls[2].position, path.stop - from);
        degrees(off).abs()
    };
    assert!(angle("along-the-line") < 15.0, "{}", angle("along-the-line"));
    assert!((angle("across-the-line") - 90.0).abs() < 20.0, "{}", angle("across-the-line"));
}

#[test]
fn patterns_do_what_they_are_for() {
    let key = &word("key-ball").runs[0];
    assert!(has_fallen(key, 1) && !has_fallen(key, 0), "the key ball falls");
    let run_out = word("run-out");
    let [first, second] = [&run_out.runs[0], &run_out.runs[1]];
    assert_eq!(second.shot.balls[0].position, first.stop(), "from where the cue ball stopped");
    assert!(has_fallen(second, 1) && !has_fallen(second, 0), "and the last one falls");

    let break_out = &word("break-out").runs[0];
    let apart = |place: fn(&Run, usize) -> DVec2| place(break_out, 2).distance(place(break_out, 3));
    let before = apart(|run, place| run.shot.balls[place].position);
    let after = apart(|run, place| *run.line(place).last().expect("a place"));
    assert!(before < 0.058 && after > 0.5, "{before} {after}");
    let insurance = &word("insurance-ball").runs[0];
    assert_eq!(insurance.line(4).len(), 1, "the insurance ball is not touched");

    let scratch = &word("scratch").runs[0];
    assert!(has_fallen(scratch, 0), "the cue ball falls");
    let cheat = word("cheating-the-pocket");
    let [one, other] = [0, 1].map(|k| met(&cheat.runs[k]));
    let lines = degrees(angle_between(one.line_of_centres, other.line_of_centres)).abs();
    let ways = degrees(angle_between(heading(one), heading(other))).abs();
    assert!(lines > 5.0 && ways > 2.0, "another line and another way: {lines} {ways}");
    let approaches = degrees(angle_between(one.approach, other.approach)).abs();
    assert!(approaches < 0.5, "from the same direction: {approaches}");
}

#[test]
fn drawn_angles_carry_the_angle_in_words() {
    for word in all() {
        for mark in &word.marks {
            if let Mark::Angle(Dimension::Arc { from, to, text, .. }) = mark {
                let apart = degrees(angle_between(unit_from_angle(*from), unit_from_angle(*to)));
                let told: f64 = text.trim_end_matches('°').parse().expect("a number");
                assert!((apart.abs() - told).abs() <= 0.5, "{}: {apart} for {text}", word.id);
            }
        }
    }
}
