//! The sets that come with the page.

use crate::harness::{on_every_core, publish, published};
use glam::DVec2;
use leaveline::ball::BallId;
use leaveline::layout::library::{Draft, ITEMS, Skill, drafts, library, wishes};
use leaveline::physics::{BallEnd, EventKind, play};
use leaveline::practice::set::{Entry, ItemSet};
use leaveline::practice::{AnyItem, Change, why};
use leaveline::shot::Situation;
use leaveline::table::Surface;
use leaveline::units::degrees;
use leaveline::wire::{compact, read_set, set_text, write_set};
use std::sync::LazyLock;

/// Everything that the library is chosen from.
static DRAFTS: LazyLock<Vec<Draft>> = LazyLock::new(|| {
    let all = on_every_core(&wishes(), |&wish| drafts(wish).expect("it can be dealt"));
    all.into_iter().flatten().collect()
});

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

#[test]
fn the_library_is_made_anew_byte_for_byte() {
    for skill in Skill::ALL {
        let of: Vec<_> = DRAFTS.iter().filter(|draft| draft.skill == skill).collect();
        println!("{}: chosen from {} drafts", skill.name(), of.len());
    }
    let sets = library(&DRAFTS).expect("there are enough drafts");
    for (skill, set) in &sets {
        publish(&file(*skill), &text_of(set));
        assert_eq!(published(&file(*skill)), text_of(set), "{}", skill.name());
    }
    publish("www/sets/index.json", &index_of(&sets));
    assert_eq!(published("www/sets/index.json"), index_of(&sets), "the list");
}

#[test]
fn difficulty_never_falls_along_a_set() {
    for (skill, set) in sets() {
        let hard = |entry: &Entry| {
            let found = DRAFTS.iter().find(|draft| draft.skill == skill && draft.entry == *entry);
            found.map(|draft| draft.difficulty).expect("it was drafted")
        };
        let all: Vec<f64> = set.entries.iter().map(hard).collect();
        println!("{}: {all:.2?}", skill.name());
        assert!(all.is_sorted(), "{}: {all:?}", skill.name());
        assert!(all[ITEMS - 1] > all[0], "{}: and it rises", skill.name());
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

fn seen(entry: &Entry) -> Seen {
    let mut shot = entry.item.shot().clone();
    shot.stroke = entry.stroke.unwrap_or(shot.stroke);
    let outcome = play(&shot).expect("a sound shot");
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
    let mut shot = entry.item.shot().clone();
    shot.stroke = entry.stroke.unwrap_or(shot.stroke);
    let outcome = play(&shot).expect("a sound shot");
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
