//! The pieces of a tree that have a place: for each where it stands and what it says, to compare two trees.

use std::collections::BTreeSet;
use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use dwell_syntax::parse::parse;
use dwell_syntax::slip::Slip;

/// One piece of a tree: its bytes, and a number that stands for all it says, places left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Piece {
    pub(crate) start: usize,
    pub(crate) end: usize,
    says: u64,
}

/// What a text reads as.
pub(crate) struct Pieces {
    /// In order of place.
    pub(crate) all: Vec<Piece>,
    /// Where a name begins.
    pub(crate) names: BTreeSet<usize>,
    pub(crate) slips: Vec<Slip>,
}

/// A part of the `Debug` form that is still open.
struct Open<'a> {
    head: &'a str,
    says: DefaultHasher,
    span: Option<(usize, usize)>,
    numbers: Vec<usize>,
}

/// Reads `text` and takes its tree apart. Every part of a tree is a struct whose last field is its span, so its `Debug` form
/// says all, whatever the language learns.
pub(crate) fn pieces(text: &str) -> Pieces {
    let parsed = parse(text);
    let form = format!("{:?}", parsed.tree);
    let mut found = Pieces { all: Vec::new(), names: BTreeSet::new(), slips: parsed.slips };
    let mut open: Vec<Open<'_>> = vec![Open::new("")];
    let bytes = form.as_bytes();
    let (mut at, mut from) = (0, 0);
    while at < bytes.len() {
        match bytes[at] {
            b'"' => at = string_end(bytes, at + 1),
            b'{' | b'(' | b'[' => {
                let said = &form[from..at];
                let head = said.trim_end().rsplit([' ', ',', '(', '[', '{']).next().unwrap_or("");
                if let Some(top) = open.last_mut() {
                    top.hear(said);
                }
                open.push(Open::new(head));
                from = at + 1;
            }
            b'}' | b')' | b']' => {
                if let (Some(mut top), Some(under)) = (open.pop(), open.last_mut()) {
                    top.hear(&form[from..at]);
                    close(&top, under, &mut found);
                }
                from = at + 1;
            }
            _ => {}
        }
        at += 1;
    }
    found.all.sort_unstable();
    found
}

fn close(top: &Open<'_>, under: &mut Open<'_>, found: &mut Pieces) {
    if top.head == "Span" {
        if let [start, end] = top.numbers[..] {
            // The span of a body stands before the one of what has it; the last one counts.
            under.span = Some((start, end));
        }
        return;
    }
    let says = top.says.finish();
    says.hash(&mut under.says);
    if let Some((start, end)) = top.span {
        found.all.push(Piece { start, end, says });
        if top.head == "Name" {
            found.names.insert(start);
        }
    }
}

impl<'a> Open<'a> {
    fn new(head: &'a str) -> Open<'a> {
        Open { head, says: DefaultHasher::new(), span: None, numbers: Vec::new() }
    }

    fn hear(&mut self, said: &str) {
        if self.head == "Span" {
            let numbers = said.split([',', ' ']).filter_map(|word| word.parse::<usize>().ok());
            self.numbers.extend(numbers);
        } else {
            said.hash(&mut self.says);
        }
    }
}

/// Where the string ends that begins before `at`.
fn string_end(bytes: &[u8], mut at: usize) -> usize {
    while at < bytes.len() && bytes[at] != b'"' {
        at += if bytes[at] == b'\\' { 2 } else { 1 };
    }
    at
}
