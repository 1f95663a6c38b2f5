//! The digest: what proves that a shot has the same outcome, bit for bit, wherever
//! it is played. It is recorded for each version of the model.
//!
//! The shots are left in the target folder as text, so that Node and the browsers
//! can play the very same ones; `tests/digest` does that.

use crate::corpus::{SHOTS, text_of};
use crate::harness::{on_every_core, publish, published};
use leaveline::physics::MODEL_VERSION;
use leaveline::wire::{compact, parse, play_packed};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::Path;

/// Where the digests are recorded, in the project's folder.
const RECORD: &str = "tests/golden/digest.json";

/// Shots in a block; a difference is first looked for among blocks.
const BLOCK: usize = 500;

/// What is recorded for one version of the model.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Recorded {
    /// Of the outcomes of all blocks.
    digest: String,
    blocks: Vec<Block>,
}

/// What is recorded for a block.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Block {
    /// Of the block's file.
    shots: String,
    /// Of its outcomes.
    outcomes: String,
}

/// A block that was played: the text of its file, and the digest of each outcome.
struct Played {
    text: String,
    outcomes: Vec<[u8; 32]>,
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        write!(text, "{byte:02x}").expect("a text takes more");
        text
    })
}

/// The digest of an outcome: SHA-256 over its packed numbers, eight bytes each,
/// the least one first.
fn digest_of(packed: &[f64]) -> [u8; 32] {
    let mut hash = Sha256::new();
    packed.iter().for_each(|number| hash.update(number.to_le_bytes()));
    hash.finalize().into()
}

fn play_block(number: usize) -> Played {
    let shots: Vec<String> = (0..BLOCK).map(|k| text_of(number * BLOCK + k)).collect();
    let outcomes = shots
        .iter()
        .enumerate()
        .map(|(k, text)| {
            let packed = parse(text).and_then(|shot| play_packed(&shot));
            let shot = number * BLOCK + k;
            digest_of(&packed.unwrap_or_else(|error| panic!("shot {shot}: {error}\n{text}")))
        })
        .collect();
    Played { text: format!("[\n{}\n]\n", shots.join(",\n")), outcomes }
}

/// Leaves the shots and the digest of each outcome where Node finds them.
fn leave(played: &[Played]) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("digest");
    let write = |name: String, text: &str| fs::write(folder.join(name), text).expect("written");
    fs::create_dir_all(&folder).expect("a folder for the shots");
    for (number, block) in played.iter().enumerate() {
        write(format!("shots-{number}.json"), &block.text);
    }
    let outcomes: Vec<String> =
        played.iter().flat_map(|block| &block.outcomes).map(|digest| hex(digest)).collect();
    write("outcomes.json".to_owned(), &compact(&outcomes).expect("JSON"));
}

fn recorded(played: &[Played]) -> Recorded {
    let blocks: Vec<[u8; 32]> =
        played.iter().map(|block| Sha256::digest(block.outcomes.concat()).into()).collect();
    Recorded {
        digest: hex(&Sha256::digest(blocks.concat())),
        blocks: played
            .iter()
            .zip(&blocks)
            .map(|(played, outcomes)| Block {
                shots: hex(&Sha256::digest(&played.text)),
                outcomes: hex(outcomes),
            })
            .collect(),
    }
}

/// The text of the record, a line for each block.
fn text_of_record(record: &BTreeMap<u32, Recorded>) -> String {
    let versions: Vec<String> = record
        .iter()
        .map(|(version, Recorded { digest, blocks })| {
            let blocks: Vec<String> =
                blocks.iter().map(|block| compact(block).expect("JSON")).collect();
            format!(
                "  \"{version}\": {{\n    \"digest\": \"{digest}\",\n    \"blocks\": [\n      {}\n    ]\n  }}",
                blocks.join(",\n      ")
            )
        })
        .collect();
    format!("{{\n{}\n}}\n", versions.join(",\n"))
}

#[test]
fn ten_thousand_shots_play_as_recorded() {
    let numbers: Vec<usize> = (0..SHOTS / BLOCK).collect();
    let played = on_every_core(&numbers, |&number| play_block(number));
    leave(&played);

    let mut record: BTreeMap<u32, Recorded> =
        serde_json::from_str(&published(RECORD)).expect("digests by version");
    let now = recorded(&played);
    let before = record.insert(MODEL_VERSION, now.clone());
    let text = text_of_record(&record);
    // A digest that is there already is not written over by the common way.
    let wish = std::env::var("LEAVELINE_PUBLISH").ok();
    if before.is_none() && wish.is_some() || wish.as_deref() == Some("unreleased") {
        return publish(RECORD, &text);
    }
    let Some(before) = before else {
        panic!(
            "{RECORD} has no digest of version {MODEL_VERSION} of the model. \
             LEAVELINE_PUBLISH=1 cargo test --test it digest writes it. It would be:\n{text}"
        );
    };
    let off = |part: fn(&Block) -> &str| -> Vec<usize> {
        let same = |k: usize| before.blocks.get(k).map(part) == now.blocks.get(k).map(part);
        numbers.iter().copied().filter(|&k| !same(k)).collect()
    };
    let shots = off(|block| &block.shots);
    assert!(
        shots.is_empty(),
        "The shots themselves are not those that {RECORD} is about, in blocks {shots:?}: \
         tests/it/corpus.rs changes only together with MODEL_VERSION. The record would be:\n{text}"
    );
    assert!(
        before == now,
        "Version {MODEL_VERSION} of the model does not play as {RECORD} says, in blocks {:?} of \
         {BLOCK} shots.\n\
         A CHANGE OF AN OUTCOME IS A NEW VERSION OF THE MODEL: raise MODEL_VERSION in \
         src/physics/shot.rs, then record its digest beside the old one with\n  \
         LEAVELINE_PUBLISH=1 cargo test --test it digest\n\
         Only while no release has this version may its digest be written over, with\n  \
         LEAVELINE_PUBLISH=unreleased cargo test --test it digest\n\
         The record would be:\n{text}",
        off(|block| &block.outcomes)
    );
}
