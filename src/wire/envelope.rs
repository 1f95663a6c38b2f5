//! The text of a link, or of anything that travels as one: `KIND=VERSION.PAYLOAD.CHECK`,
//! the payload in base64url without padding (RFC 4648, section 5), and the CRC-32 (IEEE) of
//! everything before its dot, as six characters of base64url.
//!
//! A check of 32 bits notices every burst of errors that is no longer than itself, so one
//! altered character, or two neighbours that changed places, never pass; where a dot came
//! or went, a payload that is cut short does not hold an item.

use super::reader::newer;
use super::text::parse;
use super::value::Value;
use crate::error::Error;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD as BASE64URL;
use crc::{CRC_32_ISO_HDLC, Crc};
use percent_encoding::percent_decode_str;

/// The longest link that is made or read, bytes, without the address before it.
pub const LONGEST_LINK: usize = 8 * 1024;

/// The longest text in which a link is looked for, bytes.
pub const LONGEST_TEXT: usize = 4 * LONGEST_LINK;

/// The field of a refusal because a newer version made the link.
const LINK_VERSION_FIELD: &str = "link version";

/// What is said of a text that did not come through whole.
pub(super) const ALTERED: &str = "the link is cut off or altered: ask for it again";

/// Characters of the check.
const CHECK_LENGTH: usize = 6;

/// One table of 1 kB; crates that are faster ship 16 kB of tables.
const CRC_32: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);

/// Who opens a link has one question, whichever part of it is the newer one.
pub(super) fn one_version(error: Error) -> Error {
    match error {
        Error::Version { found, rule, .. } => {
            Error::Version { field: LINK_VERSION_FIELD.to_owned(), found, rule }
        }
        other => other,
    }
}

/// Puts `bytes` into such a text.
pub(super) fn envelop(kind: &str, version: u32, bytes: &[u8]) -> String {
    let body = format!("{kind}={version}.{}", BASE64URL.encode(bytes));
    let check = check_of(&body);
    format!("{body}.{check}")
}

fn check_of(body: &str) -> String {
    BASE64URL.encode(CRC_32.checksum(body.as_bytes()).to_be_bytes())
}

pub(super) fn refuse(rule: impl Into<String>) -> Error {
    Error::malformed("link", rule)
}

/// A text that came through whole.
pub(super) struct Whole<'a> {
    pub kind: &'a str,
    pub version: u32,
    pub bytes: Vec<u8>,
}

impl Whole<'_> {
    /// Its payload, where that is JSON.
    pub fn json(&self) -> Result<Value, Error> {
        let text = std::str::from_utf8(&self.bytes).map_err(|_| refuse(ALTERED))?;
        parse(text)
    }
}

/// The first whole text of one of these `kinds` anywhere in `text`, of version `latest` at
/// most.
pub(super) fn unfold<'a>(kinds: &[&'a str], latest: u32, text: &str) -> Result<Whole<'a>, Error> {
    if text.len() > LONGEST_TEXT {
        return Err(refuse("the text is too long to be a link"));
    }
    let plain = percent_decoded(text);
    let unbroken: String =
        plain.chars().filter(|c| !c.is_whitespace() && !is_invisible(*c)).collect();
    let mut worst = refuse("there is no link in this text: paste the whole of it");
    for text in [plain, unbroken] {
        let begins = |&at: &usize| kinds.iter().find(|kind| text[..at].ends_with(**kind));
        let equals = text.match_indices('=').map(|(at, _)| at);
        for (at, kind) in equals.filter_map(|at| begins(&at).map(|kind| (at - kind.len(), *kind))) {
            match whole_part(&text[at..]) {
                Part::Whole { version, .. } if version > latest => {
                    return Err(newer(LINK_VERSION_FIELD.to_owned(), f64::from(version)));
                }
                Part::Whole { version, payload } => {
                    let bytes = BASE64URL.decode(payload).map_err(|_| refuse(ALTERED))?;
                    return Ok(Whole { kind, version, bytes });
                }
                Part::TooLong => {
                    worst = refuse(format!("is longer than {LONGEST_LINK} characters"));
                }
                Part::Altered => worst = refuse(ALTERED),
            }
        }
    }
    Err(worst)
}

enum Part<'a> {
    Whole { version: u32, payload: &'a str },
    Altered,
    TooLong,
}

/// Checks the text `kind=VERSION.PAYLOAD.CHECK` that `text` begins with; what
/// follows the check is not part of it.
fn whole_part(text: &str) -> Part<'_> {
    let Some((version, rest)) = text.split_once('=').and_then(|(_, rest)| rest.split_once('.'))
    else {
        return Part::Altered;
    };
    let Some((payload, after)) = rest.split_once('.') else { return Part::Altered };
    let body = &text[..text.len() - after.len() - 1];
    if body.len() + 1 + CHECK_LENGTH > LONGEST_LINK {
        return Part::TooLong;
    }
    match (version.parse(), after.get(..CHECK_LENGTH)) {
        (Ok(version @ 1..), Some(check)) if check == check_of(body) => {
            Part::Whole { version, payload }
        }
        _ => Part::Altered,
    }
}

/// Percent encoding undone, also where two messengers did it one after the other.
fn percent_decoded(text: &str) -> String {
    let mut plain = text.to_owned();
    for _ in 0..3 {
        if !plain.contains('%') {
            break;
        }
        plain = percent_decode_str(&plain).decode_utf8_lossy().into_owned();
    }
    plain
}

/// Soft hyphens and characters of no width that messengers put into long words.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}'..='\u{2064}' | '\u{feff}')
}
