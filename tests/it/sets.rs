//! The sets that come with the page.

mod record;

use crate::harness::{is_publishing, on_every_core, publish, published};
use glam::DVec2;
use leaveline::ball::BallId;
use leaveline::layout::library::{
    Candidate, Draft, ITEMS, Skill, Wish, choose, drafts, set_of, wishes,
};
use leaveline::physics::{BallEnd, EventKind, Outcome, Shot, play};
use leaveline::practice::set::{Entry, ItemSet};
use leaveline::practice::{AnyItem, Change, why};
use leaveline::shot::Situation;
use leaveline::table::{Surface, TableShape};
use leaveline::units::degrees;
use leaveline::wire::{compact, read_set, set_text, write_set};
use record::{Record, Recorded, sum_of_code};
use std::sync::LazyLock;

/// One wish in so many of Read and of Leave, and of Clear, is looked at though nothing of it
/// was chosen (tuning choices: by the time that they take).
const LOOKED_AT: (usize, usize) = (10, 36);

/// What all sets are chosen from: made anew when they are to be published, else as recorded.
static RECORD: LazyLock<Record> = LazyLock::new(|| {
    if !is_publishing() {
        return Record::read(&published(record::FILE));
    }
    let all = made(&wishes());
    Record { code: sum_of_code(), all: all.iter().map(Recorded::of).collect() }
});

/// What is chosen of it.
static CHOSEN: LazyLock<Vec<(Skill, Vec<Candidate>)>> = LazyLock::new(|| {
    let candidates: Vec<Candidate> = RECORD.all.iter().map(|one| one.candidate.clone()).collect();
    let chosen = choose(&candidates).expect("there are enough candidates");
    chosen.into_iter().map(|(skill, all)| (skill, all.into_iter().cloned().collect())).collect()
});

/// The drafts of what is chosen, made anew.
static DRAFTS: LazyLock<Vec<Draft>> = LazyLock::new(|| {
    let wishes: Vec<Wish> =
        CHOSEN.iter().flat_map(|(_, all)| all).map(|candidate| candidate.wish).collect();
    made(&wishes)
});

/// All drafts of `wishes`, in their order.
fn made(wishes: &[Wish]) -> Vec<Draft> {
    let all = on_every_core(wishes, |&wish| drafts(wish).expect("it can be dealt"));
    all.into_iter().flatten().collect()
}

/// What is recorded of a wish.
fn recorded_of(wish: Wish) -> Vec<&'static Recorded> {
    RECORD.all.iter().filter(|one| one.candidate.wish == wish).collect()
}

fn file(skill: Skill) -> String {
    format!("www/sets/{}.json", skill.name())
}

/// The text of a set's file.
fn text_of(set: &ItemSet) -> String {
    compact(&write_set(set)).expect("a set is JSON") + "\n"
}

/// The text of the list of all sets.
fn index_of(sets: &[(Skill, ItemSet)]) -> String {
    let lines: Vec<String> = sets
        .iter()
        .map(|(skill, set)| {
            format!("  {{ \"file\": \"{}.json\", \"title\": \"{}\" }}", skill.name(), set.title)
        })
        .collect();
    format!("[\n{}\n]\n", lines.join(",\n"))
}

/// The sets as they are published.
fn sets() -> Vec<(Skill, ItemSet)> {
    Skill::ALL
        .into_iter()
        .map(|skill| (skill, read_set(&published(&file(skill))).expect("a good set")))
        .collect()
}

/// The sets as the chosen drafts make them.
fn made_sets() -> Vec<(Skill, ItemSet)> {
    let entry = |candidate: &Candidate| {
        let found = DRAFTS.iter().find(|draft| draft.candidate == *candidate);
        let draft = found.unwrap_or_else(|| panic!("{candidate:?} is not what it was"));
        draft.entry.clone()
    };
    let set = |(skill, all): &(Skill, Vec<Candidate>)| {
        (*skill, set_of(*skill, all.iter().map(entry).collect()))
    };
    CHOSEN.iter().map(set).collect()
}

#[test]
fn the_library_is_made_anew_byte_for_byte() {
    publish(record::FILE, &RECORD.text());
    assert!(RECORD.text() == published(record::FILE), "the record comes back");
    for (skill, _) in &*CHOSEN {
        let of = RECORD.all.iter().filter(|one| one.candidate.skill == *skill).count();
        println!("{}: chosen from {of} candidates", skill.name());
    }
    let sets = made_sets();
    for (skill, set) in &sets {
        publish(&file(*skill), &text_of(set));
        assert_eq!(published(&file(*skill)), text_of(set), "{}", skill.name());
    }
    publish("www/sets/index.json", &index_of(&sets));
    assert_eq!(published("www/sets/index.json"), index_of(&sets), "the list");
}

#[test]
fn the_record_was_made_by_this_code() {
    let again = "LEAVELINE_PUBLISH=1 cargo test --test it sets:: makes it anew";
    assert_eq!(RECORD.code, sum_of_code(), "src/layout/library/ has changed: {again}");
}

#[test]
fn what_is_recorded_is_what_the_deals_are_good_for() {
    let chosen: Vec<Wish> = DRAFTS.iter().map(|draft| draft.candidate.wish).collect();
    let mut of_kind = [0, 0];
    let looked_at = |wish: &Wish| {
        let (kind, every) = match wish {
            Wish::Clear(..) => (1, LOOKED_AT.1),
            Wish::Read(..) | Wish::Leave(..) => (0, LOOKED_AT.0),
        };
        of_kind[kind] += 1;
        of_kind[kind] % every == 0 && !chosen.contains(wish)
    };
    let more: Vec<Wish> = wishes().into_iter().filter(looked_at).collect();
    let mut all = DRAFTS.clone();
    all.extend(made(&more));
    for wish in chosen.iter().chain(&more) {
        let now: Vec<Recorded> =
            all.iter().filter(|draft| draft.candidate.wish == *wish).map(Recorded::of).collect();
        assert_eq!(now.iter().collect::<Vec<_>>(), recorded_of(*wish), "{wish:?}");
    }
    let none = more.iter().filter(|wish| recorded_of(**wish).is_empty()).count();
    println!("{} more looked at, {none} of them good for nothing", more.len());
    assert!(none > 0 && none < more.len(), "both kinds are looked at");
}

#[test]
fn difficulty_never_falls_along_a_set() {
    for (skill, all) in &*CHOSEN {
        let all: Vec<f64> = all.iter().map(|candidate| candidate.difficulty).collect();
        println!("{}: {all:.2?}", skill.name());
        assert!(all.is_sorted(), "{}: {all:?}", skill.name());
        assert!(all[ITEMS - 1] > all[0], "{}: and it rises", skill.name());
        assert!(all.iter().all(|hard| (0.0..1.0).contains(hard)), "{}: {all:?}", skill.name());
    }
}

/// The numbers of a text.
fn numbers(text: &str) -> Vec<u32> {
    text.split(|c: char| !c.is_ascii_digit()).filter_map(|word| word.parse().ok()).collect()
}

#[test]
fn the_second_choice_of_an_order_is_a_real_one_and_clearly_worse() {
    let sets = sets();
    let (_, set) = sets.iter().find(|(skill, _)| *skill == Skill::Order).expect("it is there");
    let mut before = 100;
    for (k, entry) in set.entries.iter().enumerate() {
        let told: Vec<Vec<u32>> = entry.note.lines().map(numbers).collect();
        // "… the 8. A hand that makes 85 of 100 straight shots clears 91 of 100 runs …"
        let best = told[0][3];
        // "Beginning with the 2. So begun, 47 of 100 runs are cleared."
        let [other_ball, other, 100] = told[2][..] else { panic!("{k}: {}", entry.note) };
        assert!(other >= 20 && best >= other + 15, "{k}: {best} against {other}");
        assert!(best <= before, "{k}: {best} after {before}");
        assert_ne!(other_ball, told[1][0], "{k}: another ball");
        before = best;
    }
}

/// What is told of a shot by its events alone.
struct Seen {
    rails: usize,
    potted: bool,
    scratch: bool,
    /// Whether the cue ball meets a ball more, or any but the first meets one.
    meets_others: bool,
    /// Angle between the tangent line and where it went, degrees; none after a full hit.
    bend: Option<f64>,
    side: f64,
}

/// The shot of an entry as it is meant, and what comes of it.
fn played(entry: &Entry) -> (Shot, Outcome) {
    let mut shot = entry.item.shot().clone();
    shot.stroke = entry.stroke.unwrap_or(shot.stroke);
    let outcome = play(&shot).expect("a sound shot");
    (shot, outcome)
}

fn seen(entry: &Entry) -> Seen {
    let (shot, outcome) = played(entry);
    let met = outcome.events.iter().position(|event| matches!(event.kind, EventKind::Contact(_)));
    let met = met.expect("it meets a ball");
    let later = &outcome.events[met..];
    let rails = later.iter().filter(|event| {
        event.ball.is_cue() && matches!(event.kind, EventKind::Cushion(Surface::Rail(_)))
    });
    Seen {
        rails: rails.count(),
        potted: outcome.ends[1..].iter().any(|end| matches!(end, BallEnd::Pocketed(_))),
        scratch: matches!(outcome.ends[0], BallEnd::Pocketed(_)),
        meets_others: later[1..].iter().any(|event| matches!(event.kind, EventKind::Contact(_))),
        bend: why(&shot).expect("sound").and_then(|why| why.facts.bend).map(degrees),
        side: shot.stroke.side,
    }
}

/// The ball that the cue ball meets first as an entry is meant.
fn seen_first(entry: &Entry) -> BallId {
    let (_, outcome) = played(entry);
    let met = outcome.events.iter().find_map(|event| match event.kind {
        EventKind::Contact(ball) if event.ball.is_cue() => Some(ball),
        _ => None,
    });
    met.expect("it meets a ball")
}

#[test]
fn every_item_exercises_its_skill() {
    for (skill, set) in sets() {
        assert_eq!(set.entries.len(), ITEMS, "{}", skill.name());
        for (k, entry) in set.entries.iter().enumerate() {
            let seen = seen(entry);
            let bend = seen.bend.unwrap_or(0.0);
            let name = format!("{} {k}", skill.name());
            assert!(seen.potted && !seen.scratch, "{name}: it goes as it is meant");
            assert!(!seen.meets_others, "{name}: and the other balls stay where they lie");
            let fits = match skill {
                Skill::Stun => bend.abs() <= 1.5 && seen.side == 0.0,
                Skill::Draw => bend <= -8.0 && seen.side == 0.0,
                Skill::Roll => bend >= 8.0 && seen.side == 0.0,
                Skill::OneCushion => seen.rails == 1 && seen.side == 0.0,
                Skill::TwoCushions => seen.rails == 2 && seen.side == 0.0,
                Skill::ThreeCushions => seen.rails == 3 && seen.side == 0.0,
                Skill::Side => {
                    let why = why(entry.item.shot()).expect("sound").expect("it meets a ball");
                    let replay = why.replays.iter().find(|replay| replay.change == Change::NoSide);
                    // Four balls.
                    seen.rails >= 1 && replay.is_some_and(|replay| replay.strays >= 0.2286)
                }
                Skill::Speed => seen.side == 0.0 && seen.rails <= 2 && bend.abs() <= 10.0,
                Skill::Zone => matches!(&entry.item, AnyItem::Leave(item) if {
                    let situation = Situation::new(&item.shot, item.demand.on).expect("sound");
                    let stroke = entry.stroke.expect("a stroke is meant");
                    item.demand.next.is_some() && item.demand.is_met(&situation.play(&stroke))
                }),
                Skill::Order => matches!(&entry.item, AnyItem::Clear(_)),
            };
            assert!(fits, "{name}: {bend}");
        }
    }
}

#[test]
fn every_note_tells_skill_path_and_trap() {
    for (skill, set) in sets() {
        for (k, Entry { note, title, .. }) in set.entries.iter().enumerate() {
            let name = format!("{} {k}: {note}", skill.name());
            let lines: Vec<&str> = note.lines().collect();
            let [told, path, trap] = lines[..] else { panic!("{name}: three lines") };
            for (line, begin) in [(told, "Skill: "), (path, "Path: "), (trap, "Trap: ")] {
                assert!(line.starts_with(begin) && line.ends_with('.'), "{name}");
                assert!(!line.contains("  ") && !line.contains(".."), "{name}");
            }
            assert!(!title.is_empty() && !title.contains("rail"), "{name}: gives nothing away");
        }
        let again = set_text(&text_of(&set)).expect("a good set");
        assert_eq!(again + "\n", text_of(&set), "{} comes back", skill.name());
    }
}

#[test]
fn no_item_is_in_two_sets() {
    let sets = sets();
    let all: Vec<&AnyItem> =
        sets.iter().flat_map(|(_, set)| &set.entries).map(|entry| &entry.item).collect();
    for (k, item) in all.iter().enumerate() {
        assert!(!all[..k].contains(item), "item {k} was there before");
    }
}

#[test]
fn no_two_items_of_a_set_begin_alike() {
    let places = |entry: &Entry| {
        let shot = entry.item.shot();
        let first = seen_first(entry);
        [BallId::CUE, first].map(|id| {
            let ball = shot.balls.iter().find(|ball| ball.id == id).expect("it lies there");
            let middle = DVec2::new(shot.card.length, shot.card.width) / 2.0;
            ball.position - middle
        })
    };
    for (skill, set) in sets() {
        let all: Vec<_> = set.entries.iter().map(places).collect();
        for (k, one) in all.iter().enumerate() {
            for mirror in [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)].map(DVec2::from) {
                let near = |other: &&[DVec2; 2]| {
                    (0..2).all(|ball| one[ball].distance(other[ball] * mirror) < 0.2)
                };
                let like = all[..k].iter().position(|other| near(&other));
                assert_eq!(like, None, "{} {k} is like it", skill.name());
            }
        }
    }
}

/// Where the cue ball is on its way from its first ball on, at so many even steps.
fn way_of(entry: &Entry, steps: usize) -> Vec<DVec2> {
    let (shot, outcome) = played(entry);
    let cue = shot.balls.iter().position(|ball| ball.id.is_cue()).expect("a cue ball");
    let met = outcome.events.iter().find(|event| matches!(event.kind, EventKind::Contact(_)));
    let from = met.expect("it meets a ball").time;
    let way: Vec<DVec2> = outcome.paths[cue]
        .iter()
        .filter(|sample| sample.time >= from)
        .map(|sample| sample.position)
        .collect();
    let mut run = vec![0.0];
    for pair in way.windows(2) {
        run.push(run[run.len() - 1] + pair[0].distance(pair[1]));
    }
    let at = |k: usize| {
        let want = run[run.len() - 1] * k as f64 / steps as f64;
        let next = run.partition_point(|&length| length < want).clamp(1, run.len() - 1);
        let share = (want - run[next - 1]) / (run[next] - run[next - 1]);
        way[next - 1].lerp(way[next], share)
    };
    (0..=steps).map(at).collect()
}

#[test]
fn no_two_paths_of_a_set_are_the_same_to_the_eye() {
    const STEPS: usize = 50;
    for (skill, set) in sets().into_iter().filter(|(skill, _)| *skill != Skill::Order) {
        let all: Vec<_> = set.entries.iter().map(|entry| way_of(entry, STEPS)).collect();
        let card = set.entries[0].item.shot().card;
        let size = DVec2::new(card.length, card.width);
        for (k, one) in all.iter().enumerate() {
            for (j, other) in all[..k].iter().enumerate() {
                for mirror in [DVec2::ZERO, DVec2::X, DVec2::Y, DVec2::ONE] {
                    let apart = one
                        .iter()
                        .zip(other)
                        .map(|(a, b)| a.distance(*b + mirror * (size - 2.0 * *b)));
                    let mean = apart.sum::<f64>() / (STEPS + 1) as f64;
                    // Less than what they are chosen by, for the curve is not its chords.
                    assert!(mean > 0.24, "{} {k} goes as {j} does: {mean}", skill.name());
                }
            }
        }
    }
}

#[test]
fn no_ball_and_no_pocket_is_passed_by_a_hair() {
    for (skill, set) in sets() {
        for (k, entry) in set.entries.iter().enumerate() {
            let (shot, outcome) = played(entry);
            let name = format!("{} {k}", skill.name());
            let first = seen_first(entry);
            let ball = 2.0 * shot.card.ball.radius;
            for still in shot.balls.iter().filter(|one| !one.id.is_cue() && one.id != first) {
                for (moving, path) in shot.balls.iter().zip(&outcome.paths) {
                    if !moving.id.is_cue() && moving.id != first {
                        continue;
                    }
                    for pair in path.windows(2) {
                        let near = (0..=20).map(|step| {
                            let at =
                                pair[0].position.lerp(pair[1].position, f64::from(step) / 20.0);
                            at.distance(still.position)
                        });
                        let air = near.fold(f64::INFINITY, f64::min) - ball;
                        assert!(air > 0.49 * ball, "{name}: {air} m from the {}", still.id);
                    }
                }
            }
            let met = outcome.events.iter().filter(|event| event.ball.is_cue());
            let places =
                met.filter(|event| matches!(event.kind, EventKind::Cushion(_) | EventKind::Stop));
            for (event, pocket) in places
                .flat_map(|event| TableShape::new(&shot.card).pockets.map(|pocket| (event, pocket)))
            {
                let off = event.position.distance(pocket.mouth_middle) - pocket.mouth / 2.0;
                assert!(off > 0.99 * ball, "{name}: {off} m from the {} pocket", pocket.id);
            }
        }
    }
}
