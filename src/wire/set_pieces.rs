//! A set's text cut into pieces, so that a bad entry spoils no other.

/// The text of a set without its entries, and the text of each of them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pieces<'a> {
    /// What remains, with an empty list in their place.
    pub head: String,
    /// The entries as they stand there, at most so many as were asked for.
    pub entries: Vec<&'a str>,
    /// How many there are in all.
    pub n_entries: usize,
    /// Whether the text ends before the list does.
    pub is_cut_off: bool,
}

/// Cuts the text of an object at the list `name` of its fields; `None` if it has no such
/// field. Nothing but quotes and brackets is looked at: what the pieces hold is for who
/// reads them to judge.
pub(super) fn cut<'a>(text: &'a str, name: &str, most: usize) -> Option<Pieces<'a>> {
    let begin = list_of(text, name)?;
    let mut entries = Vec::new();
    let mut n_entries = 0;
    let mut since = begin + 1;
    let mut take = |piece: &'a str, last: bool| {
        // An empty list has no entry; elsewhere nothing between commas is one that is bad.
        if last && piece.trim().is_empty() && n_entries == 0 {
            return;
        }
        n_entries += 1;
        if entries.len() < most {
            entries.push(piece.trim());
        }
    };
    let mut end = None;
    for mark in marks(&text[begin..]) {
        let at = begin + mark.at;
        match (mark.byte, mark.depth) {
            (b',', 1) => {
                take(&text[since..at], false);
                since = at + 1;
            }
            (b']', 0) => {
                take(&text[since..at], true);
                end = Some(at + 1);
                break;
            }
            _ => {}
        }
    }
    let after = end.map_or("}", |end| &text[end..]);
    if end.is_none() {
        take(&text[since..], true);
    }
    let head = format!("{}[]{after}", &text[..begin]);
    Some(Pieces { head, entries, n_entries, is_cut_off: end.is_none() })
}

/// Where the list begins that is the field `name` of the outermost object.
fn list_of(text: &str, name: &str) -> Option<usize> {
    let mut quote = None;
    let mut last = "";
    for mark in marks(text) {
        match (mark.byte, mark.depth) {
            (b'"', 1) => match quote.take() {
                None => quote = Some(mark.at + 1),
                Some(since) => last = &text[since..mark.at],
            },
            (b':', 1) if last == name => {
                let rest = &text[mark.at + 1..];
                let at = mark.at + 1 + (rest.len() - rest.trim_start().len());
                return text[at..].starts_with('[').then_some(at);
            }
            _ => {}
        }
    }
    None
}

/// A character that gives JSON its shape.
struct Mark {
    at: usize,
    byte: u8,
    /// How many brackets are open after it.
    depth: usize,
}

/// All of them in `text`, those inside of quotes left out. A bracket that closes nothing is
/// passed over, and one that closes more than the last closes that, too.
fn marks(text: &str) -> impl Iterator<Item = Mark> {
    let (mut quoted, mut escaped, mut open) = (false, false, Open::default());
    text.bytes().enumerate().filter_map(move |(at, byte)| {
        if quoted && (escaped || byte != b'"') {
            escaped = !escaped && byte == b'\\';
            return None;
        }
        match byte {
            b'"' => quoted = !quoted,
            b'[' | b'{' => open.push(byte),
            b']' if !open.close(b'[') => return None,
            b'}' if !open.close(b'{') => return None,
            b']' | b'}' | b',' | b':' => {}
            _ => return None,
        }
        Some(Mark { at, byte, depth: open.brackets.len() })
    })
}

/// The brackets that are open.
#[derive(Default)]
struct Open {
    brackets: Vec<u8>,
    /// How many of them are square: so that no search is in vain.
    n_square: usize,
}

impl Open {
    fn push(&mut self, bracket: u8) {
        self.n_square += usize::from(bracket == b'[');
        self.brackets.push(bracket);
    }

    /// Closes the last of a kind, and all inside of it; says whether there was one.
    fn close(&mut self, kind: u8) -> bool {
        let n = if kind == b'[' { self.n_square } else { self.brackets.len() - self.n_square };
        if n == 0 {
            return false;
        }
        while let Some(bracket) = self.brackets.pop() {
            self.n_square -= usize::from(bracket == b'[');
            if bracket == kind {
                return true;
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut_at(text: &str) -> Pieces<'_> {
        cut(text, "list", 3).expect("there is a list")
    }

    #[test]
    fn a_list_is_taken_apart_and_the_rest_stays() {
        let pieces = cut_at(r#"{"a":"list","list": [1, {"x":[2,3]} ,"]\",["],"b":{"list":[4]}}"#);
        assert_eq!(pieces.entries, ["1", r#"{"x":[2,3]}"#, r#""]\",[""#]);
        assert_eq!(pieces.head, r#"{"a":"list","list": [],"b":{"list":[4]}}"#);
        assert!(!pieces.is_cut_off, "it is whole");
    }

    #[test]
    fn nothing_is_no_entry_and_a_gap_is_a_bad_one() {
        assert_eq!(cut_at(r#"{"list":[ ]}"#).n_entries, 0, "an empty list");
        assert_eq!(cut_at(r#"{"list":[1,]}"#).entries, ["1", ""], "a comma too many");
        let many = cut_at(r#"{"list":[1,2,3,4,5]}"#);
        assert_eq!((many.entries.len(), many.n_entries), (3, 5), "no more than asked for");
    }

    #[test]
    fn a_text_that_was_cut_off_keeps_what_is_whole() {
        let pieces = cut_at(r#"{"v":1,"list":[{"a":1},{"b":"#);
        assert_eq!(pieces.entries, [r#"{"a":1}"#, r#"{"b":"#]);
        assert_eq!(pieces.head, r#"{"v":1,"list":[]}"#);
        assert!(pieces.is_cut_off, "and says so");
    }

    #[test]
    fn brackets_that_do_not_match_cost_no_other_entry() {
        let more = cut_at(r#"{"list":[1,2}],3],"a":{}}"#);
        assert_eq!(more.entries, ["1", "2}"], "a bracket that closes nothing");
        let fewer = cut_at(r#"{"list":[1,{"x":[2},3],"a":{}}"#);
        assert_eq!(fewer.entries, ["1", r#"{"x":[2}"#, "3"], "one that was not closed");
        assert_eq!(fewer.head, r#"{"list":[],"a":{}}"#);
        let deep = format!(r#"{{"list":[{}{}]}}"#, "{".repeat(100_000), "]".repeat(100_000));
        assert!(cut(&deep, "list", 3).is_some(), "in no time");
    }

    #[test]
    fn what_is_no_such_object_is_not_cut() {
        for text in ["", "[]", r#"{"list":3}"#, r#"{"a":{"list":[1]}}"#] {
            assert_eq!(cut(text, "list", 3), None, "{text}");
        }
    }
}
