//! What the ready-made sets were chosen from, as it is recorded: every candidate with all by
//! which it is chosen, a sum over its words, and a sum over the code that made them.

use glam::DVec2;
use leaveline::layout::library::{Candidate, Draft, Places, Skill, Wish};
use leaveline::practice::set::ItemSet;
use leaveline::table::Rail;
use leaveline::wire::{compact, write_set};
use serde::{Deserialize, Serialize};
use std::path::Path;

/// Where it is recorded.
pub const FILE: &str = "tests/golden/library.json";

/// A candidate, and what its entry comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Recorded {
    pub candidate: Candidate,
    pub entry: u32,
}

impl Recorded {
    pub fn of(draft: &Draft) -> Self {
        Self { candidate: draft.candidate.clone(), entry: sum_of(draft) }
    }
}

/// The sum over an entry as a set holds it.
fn sum_of(draft: &Draft) -> u32 {
    let skill = draft.candidate.skill;
    let set = ItemSet {
        title: skill.name().to_owned(),
        note: String::new(),
        pass: skill.pass(),
        entries: vec![draft.entry.clone()],
    };
    crc32fast::hash(compact(&write_set(&set)).expect("a set is JSON").as_bytes())
}

/// All of it.
pub struct Record {
    /// The sum over the code of the choice and of the drafts when it was made.
    pub code: u32,
    pub all: Vec<Recorded>,
}

/// How a candidate stands in the file.
#[derive(Deserialize, Serialize)]
struct Line {
    wish: (String, u8, u32, u8),
    skill: String,
    difficulty: f64,
    potted: f64,
    balls: [[f64; 2]; 2],
    cut: f64,
    path: Vec<[f64; 2]>,
    rails: Vec<String>,
    entry: u32,
}

impl Line {
    fn of(recorded: &Recorded) -> Self {
        let Recorded { candidate, entry } = recorded;
        let Candidate { wish, skill, difficulty, potted, places } = candidate;
        let (kind, level, seed, balls) = match *wish {
            Wish::Read(level, seed) => ("read", level, seed, 0),
            Wish::Leave(level, seed) => ("leave", level, seed, 0),
            Wish::Clear(level, seed, balls) => ("clear", level, seed, balls),
        };
        Self {
            wish: (kind.to_owned(), level, seed, balls),
            skill: skill.name().to_owned(),
            difficulty: *difficulty,
            potted: *potted,
            balls: places.balls.map(|ball| ball.to_array()),
            cut: places.cut,
            path: places.path.iter().map(DVec2::to_array).collect(),
            rails: places.rails.iter().map(Rail::to_string).collect(),
            entry: *entry,
        }
    }

    fn read(&self) -> Recorded {
        let (kind, level, seed, balls) = &self.wish;
        let wish = match kind.as_str() {
            "read" => Wish::Read(*level, *seed),
            "leave" => Wish::Leave(*level, *seed),
            "clear" => Wish::Clear(*level, *seed, *balls),
            other => panic!("{FILE}: {other} is no kind of item"),
        };
        let skill = Skill::ALL.into_iter().find(|skill| skill.name() == self.skill);
        let rail = |name: &String| Rail::ALL.into_iter().find(|rail| rail.to_string() == *name);
        let places = Places {
            balls: self.balls.map(DVec2::from_array),
            cut: self.cut,
            path: self.path.iter().copied().map(DVec2::from_array).collect(),
            rails: self.rails.iter().map(|name| rail(name).expect("a rail")).collect(),
        };
        let skill = skill.expect("a skill");
        let Self { difficulty, potted, entry, .. } = *self;
        Recorded { candidate: Candidate { wish, skill, difficulty, potted, places }, entry }
    }
}

impl Record {
    pub fn read(text: &str) -> Self {
        let mut lines = text.lines();
        let code = lines.next().expect("a first line").parse().expect("a sum");
        let read = |line: &str| serde_json::from_str::<Line>(line).expect("a candidate").read();
        Self { code, all: lines.map(read).collect() }
    }

    pub fn text(&self) -> String {
        let line =
            |one: &Recorded| serde_json::to_string(&Line::of(one)).expect("a candidate") + "\n";
        format!("{}\n", self.code) + &self.all.iter().map(line).collect::<String>()
    }
}

/// The sum over what is code in `src/layout/library/`: no comments, no empty lines, no tests.
pub fn sum_of_code() -> u32 {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/layout/library");
    let files = std::fs::read_dir(folder).expect("the library's code");
    let mut files: Vec<_> = files.map(|file| file.expect("an entry").path()).collect();
    files.sort();
    let mut sum = crc32fast::Hasher::new();
    for file in files {
        let text = std::fs::read_to_string(&file).expect("text");
        let code = text.lines().take_while(|line| !line.starts_with("#[cfg(test)]"));
        for line in code.map(str::trim).filter(|line| !line.is_empty() && !line.starts_with("//")) {
            sum.update(line.as_bytes());
            sum.update(b"\n");
        }
    }
    sum.finalize()
}
