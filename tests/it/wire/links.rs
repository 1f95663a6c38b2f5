//! Links that travelled badly.

use super::{CALL, OWN_TABLE, SHOT, call, item, item_text};
use leaveline::Error;
use leaveline::practice::{question, question_as};
use leaveline::wire::{LONGEST_LINK, make, open, open_as, seal, unseal};
use proptest::prelude::*;

fn link() -> String {
    let item = item(&item_text(SHOT)).expect("a sound item");
    make(&item, Some(&call(CALL).expect("a sound call"))).expect("short enough")
}

/// A link with this payload and a check that fits it.
fn forged(body: &str) -> String {
    use base64::Engine;
    let check = crc32fast::hash(body.as_bytes()).to_be_bytes();
    format!("{body}.{}", base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(check))
}

fn encoded(json: &str) -> String {
    use base64::Engine;
    base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(json)
}

#[test]
fn a_link_carries_the_item_and_the_sealed_call() {
    for text in [SHOT, OWN_TABLE] {
        let item = item(&item_text(text)).expect("a sound item");
        let call = call(CALL).expect("a sound call");
        let opened = open(&make(&item, Some(&call)).expect("short enough")).expect("whole");
        assert_eq!(opened.item, item, "the item is the same to the bit");
        let sealed = opened.sealed.expect("the call came along");
        assert!(!sealed.contains("stop"), "and cannot be read at a glance: {sealed}");
        assert_eq!(unseal(&sealed), Ok(call), "but is all there");
        let alone = open(&make(&item, None).expect("short enough")).expect("whole");
        assert_eq!((alone.item, alone.sealed), (item, None), "an item without a call");
    }
}

#[test]
fn the_longest_item_fits_into_a_link() {
    let number = "0.30000000000000004";
    let balls: Vec<_> = (0..16)
        .map(|k| {
            let id = if k == 0 { "cue".to_owned() } else { k.to_string() };
            let (x, y) = (0.31 + 0.1 * f64::from(k % 8), 0.31 + 0.3 * f64::from(k / 8));
            format!(r#"{{"id":"{id}","x":{x:.2}000000000000004,"y":{y:.2}000000000000004}}"#)
        })
        .collect();
    let long = OWN_TABLE.find(r#""balls""#).expect("a shot has balls");
    let end = OWN_TABLE.find(r#""stroke""#).expect("a shot has a stroke");
    let shot =
        format!(r#"{}"balls":[{}],{}"#, &OWN_TABLE[..long], balls.join(","), &OWN_TABLE[end..]);
    let item = item(&item_text(&shot)).expect("a sound item");
    let point = format!(r#"{{"x":{number},"y":{number},"rail":"right"}}"#);
    let text = format!(
        r#"{{"points":[{}],"stop":{{"x":{number},"y":{number}}}}}"#,
        vec![point; 32].join(",")
    );
    let call = call(&text).expect("a sound call");
    let link = make(&item, Some(&call)).expect("fits");
    assert!(link.len() < LONGEST_LINK * 3 / 4, "with room to spare: {}", link.len());
    assert_eq!(open(&link).expect("whole").item, item, "and is read again");
}

#[test]
fn any_one_altered_character_is_noticed() {
    let link = link();
    let others = "ABCabc019-_=.%#+/ \u{e9}\u{200b}";
    for (at, old) in link.char_indices() {
        for new in others.chars().filter(|&new| new != old) {
            let mut altered = link.clone();
            altered.replace_range(at..=at, &new.to_string());
            assert!(open(&altered).is_err(), "{old:?} at {at} became {new:?}");
        }
        let other_case: String = if old.is_ascii_lowercase() {
            old.to_uppercase().collect()
        } else {
            old.to_lowercase().collect()
        };
        if other_case != old.to_string() {
            let mut altered = link.clone();
            altered.replace_range(at..=at, &other_case);
            assert!(open(&altered).is_err(), "{old:?} at {at} changed its case");
        }
    }
}

#[test]
fn cut_off_ends_lost_and_swapped_characters_are_noticed() {
    let link = link();
    for at in 0..link.len() {
        assert!(open(&link[..at]).is_err(), "cut off after {at}");
        let lost = [&link[..at], &link[at + 1..]].concat();
        assert!(open(&lost).is_err(), "lost the character at {at}");
        if at + 1 < link.len() && link.as_bytes()[at] != link.as_bytes()[at + 1] {
            let mut swapped = link.clone().into_bytes();
            swapped.swap(at, at + 1);
            let swapped = String::from_utf8(swapped).expect("ASCII stays ASCII");
            assert!(open(&swapped).is_err(), "swapped the characters at {at}");
        }
    }
    assert!(open(&link.to_lowercase()).is_err(), "all in lower case");
    assert!(open(&link.to_uppercase()).is_err(), "all in capitals");
}

#[test]
fn the_refusal_says_what_to_do() {
    let link = link();
    let refused = |text: &str| open(text).expect_err("refused").to_string();
    let altered = "link: the link is cut off or altered: ask for it again";
    assert_eq!(refused(&link[..link.len() - 1]), altered);
    assert_eq!(refused("https://example.org/#read=1.eyJ"), altered);
    let nothing = "link: there is no link in this text: paste the whole of it";
    for text in ["", "https://example.org/", "hello", "#"] {
        assert_eq!(refused(text), nothing, "{text:?}");
    }
    let long = format!("read=1.{}.AAAAAA", "A".repeat(LONGEST_LINK));
    assert_eq!(refused(&long), "link: is longer than 8192 characters");
    assert!(refused(&"read=".repeat(100_000)).contains("too long"), "a flood of text");
}

#[test]
fn a_newer_version_is_told_from_an_altered_one() {
    let newer = "made by a newer version of this page: reload the page to get that version";
    let error = open(&forged("read=3.AAAA")).expect_err("not ours");
    assert_eq!(error.to_string(), format!("link version is 3: {newer}"));
    assert!(matches!(error, Error::Version { .. }), "and says so to the program: {error:?}");

    let model = item_text(SHOT).replace(r#""model":1"#, r#""model":2"#);
    let body = format!("read=1.{}", encoded(&format!(r#"{{"item":{model}}}"#)));
    let error = open(&forged(&body)).expect_err("newer physics");
    assert_eq!(error.to_string(), format!("link version is 2: {newer}"));

    let shot = item_text(&SHOT.replacen(r#""version":1"#, r#""version":3"#, 1));
    let body = format!("read=1.{}", encoded(&format!(r#"{{"item":{shot}}}"#)));
    let error = open(&forged(&body)).expect_err("a newer form inside");
    assert_eq!(error.to_string(), format!("link version is 3: {newer}"));

    let altered = link().replacen("read=2", "read=3", 1);
    assert!(
        matches!(open(&altered), Err(Error::Malformed { .. })),
        "a digit that changed on the way is no newer version"
    );
}

#[test]
fn an_item_of_an_older_model_is_opened_and_says_so() {
    // What version 2 of the model will do with a link that this one makes.
    let opened = open_as(2, &link()).expect("nothing is lost");
    assert_eq!(opened, open(&link()).expect("whole"), "layout, stroke and call are all there");
    assert_eq!(opened.item.model, 1, "the item keeps its version");
    assert_eq!(make(&opened.item, None), make(&item(&item_text(SHOT)).expect("sound"), None));
    let notice = question_as(2, &opened.item).expect("sound").notice;
    assert_eq!(
        notice.as_deref(),
        Some(
            "This item was made with version 1 of the model and is played with version 2: the \
             balls may run otherwise than its maker saw."
        )
    );
    assert_eq!(question(&opened.item).expect("sound").notice, None, "its own version says nothing");

    let of_model = |model: &str| {
        let item = item_text(SHOT).replace(r#""model":1"#, &format!(r#""model":{model}"#));
        forged(&format!("read=1.{}", encoded(&format!(r#"{{"item":{item}}}"#))))
    };
    assert_eq!(open_as(3, &of_model("2")).expect("older").item.model, 2);
    assert_eq!(open_as(3, &of_model("3")).expect("its own").item.model, 3);
    for (model, message) in [
        (
            "4",
            "link version is 4: made by a newer version of this page: reload the page to get that version",
        ),
        ("0", "item.model is 0: must be a whole number from 1 to 3"),
        ("1.5", "item.model is 1.5: must be a whole number from 1 to 3"),
    ] {
        let error = open_as(3, &of_model(model)).expect_err(message);
        assert_eq!(error.to_string(), message);
    }
}

#[test]
fn what_messengers_do_is_undone() {
    let link = link();
    let half = link.len() / 2;
    let percent =
        link.replace('=', "%3D").replace('.', "%2E").replace('-', "%2d").replace('_', "%5F");
    let twice = format!("https://example.org/%2523{}", percent.replace('%', "%25"));
    for text in [
        format!("#{link}"),
        format!("https://example.org/leaveline/#{link}"),
        format!("https://example.org/?bread=1.2.3#{link}"),
        format!("  \n{link}\r\n"),
        format!("<https://example.org/#{link}>"),
        format!("(see https://example.org/#{link})."),
        format!("\u{201c}https://example.org/#{link}\u{201d}, it is hard!"),
        format!("_https://example.org/#{link}_"),
        format!("https://example.org/#{link}&from=chat"),
        format!("Can you read this?\nhttps://example.org/#{link}\nSee you on Friday"),
        format!("{}\r\n{}", &link[..half], &link[half..]),
        format!("{}\u{200b}{}\u{ad}", &link[..half], &link[half..]),
        format!("https://example.org/%23{percent}"),
        twice,
    ] {
        assert!(open(&text).is_ok(), "{text}: {:?}", open(&text));
    }
}

#[test]
fn a_whole_link_is_still_read_strictly() {
    let whole = |json: &str| open(&forged(&format!("read=1.{}", encoded(json))));
    let item = item_text(SHOT);
    let field = |json: &str| whole(json).expect_err(json).field().to_owned();
    assert!(whole(&format!(r#"{{"item":{item}}}"#)).is_ok(), "the forgery is otherwise sound");
    assert_eq!(field(&format!(r#"{{"item":{item},"note":1}}"#)), "note");
    assert_eq!(field(&format!(r#"{{"item":{item},"call":{{}}}}"#)), "call.points");
    let fast = item.replace("\"speed\":1.8", "\"speed\":18");
    assert_eq!(field(&format!(r#"{{"item":{fast}}}"#)), "item.shot.stroke.speed");
    assert_eq!(field("not json"), "form");
    assert!(open(&forged("read=1.AB")).is_err(), "base64 with stray bits");
    assert!(open(&forged("read=1._w")).is_err(), "bytes that are no text");
    assert!(open(&forged("read=1.")).is_err(), "nothing inside");
}

#[test]
fn a_sealed_call_is_no_link_and_a_link_no_sealed_call() {
    let sealed = seal(&call(CALL).expect("a sound call")).expect("finite");
    assert!(open(&sealed).is_err(), "a call alone asks nothing");
    assert!(unseal(&link()).is_err(), "an item alone answers nothing");
    assert!(unseal(&sealed[1..]).is_err(), "and a cut one is noticed");
}

proptest! {
    #[test]
    fn no_text_upsets_the_reader(text in "\\PC{0,200}", tail in "[A-Za-z0-9._=%-]{0,80}") {
        prop_assert!(open(&text).is_err());
        let unchecked = format!("read=1.{tail}");
        prop_assert!(open(&unchecked).is_err());
        let body = format!("read=1.{}", encoded(&text));
        prop_assert!(open(&forged(&body)).is_err());
    }
}
