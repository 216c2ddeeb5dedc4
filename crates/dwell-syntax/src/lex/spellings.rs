//! The spellings of units as a tree of characters, and the longest of them that a text begins with.

use std::sync::OnceLock;

use dwell_quantity::{fold_twin, look_alike};

use super::letters::in_word;
use super::sign::{blank, blanks};

/// The spellings of the table as a tree of characters.
pub(super) struct Spellings {
    nodes: Vec<Node>,
}

#[derive(Default)]
struct Node {
    next: Vec<(char, usize)>,
    ends: bool,
}

/// A spelling found in a text.
pub(super) struct Match {
    /// Its bytes.
    pub(super) length: usize,
    /// It, as the table spells it.
    pub(super) spelling: String,
    /// The name of the first look-alike in it.
    pub(super) alike: Option<&'static str>,
}

impl Spellings {
    pub(super) fn table() -> &'static Spellings {
        static TABLE: OnceLock<Spellings> = OnceLock::new();
        TABLE.get_or_init(|| {
            let mut table = Spellings { nodes: vec![Node::default()] };
            for spelling in dwell_quantity::spellings() {
                table.add(spelling);
            }
            table
        })
    }

    fn add(&mut self, spelling: &str) {
        let mut at = 0;
        for c in spelling.chars().map(|c| fold_twin(c).unwrap_or(c)) {
            at = match self.after(at, c) {
                Some(next) => next,
                None => {
                    self.nodes.push(Node::default());
                    let next = self.nodes.len() - 1;
                    if let Some(node) = self.nodes.get_mut(at) {
                        node.next.push((c, next));
                    }
                    next
                }
            };
        }
        if let Some(node) = self.nodes.get_mut(at) {
            node.ends = true;
        }
    }

    fn after(&self, at: usize, c: char) -> Option<usize> {
        self.nodes.get(at)?.next.iter().find(|(key, _)| *key == c).map(|(_, next)| *next)
    }

    /// The longest spelling at the start of `text` that is not a part of a longer word.
    pub(super) fn longest(&self, text: &str) -> Option<Match> {
        let mut at = 0;
        let mut spelling = String::new();
        let mut alike = None;
        let mut best = None;
        let mut skip_to = 0;
        for (place, c) in text.char_indices() {
            if place < skip_to {
                continue;
            }
            let mut end = place + c.len_utf8();
            let folded = if blank(c) { ' ' } else { fold_twin(c).unwrap_or(c) };
            if folded == ' ' {
                end = place + blanks(text.get(place..).unwrap_or(""));
                skip_to = end;
            }
            if let Some(next) = self.after(at, folded) {
                at = next;
                spelling.push(folded);
            } else {
                let Some(found) = look_alike(c).filter(|found| !found.instead.trim().is_empty()) else {
                    break;
                };
                let Some(next) = found.instead.chars().try_fold(at, |at, c| self.after(at, c)) else { break };
                at = next;
                spelling.push_str(found.instead);
                alike = alike.or(Some(found.name));
            }
            if self.nodes.get(at).is_some_and(|node| node.ends) && parted(text.get(end..).unwrap_or("")) {
                best = Some(Match { length: end, spelling: spelling.clone(), alike });
            }
        }
        best
    }
}

/// Whether a unit can end before `rest`.
pub(super) fn parted(rest: &str) -> bool {
    let mut chars = rest.chars();
    match chars.next() {
        None => true,
        Some(c) if in_word(c) || c == '_' => false,
        Some('/' | '*' | '·' | '^' | '-') => !chars.next().is_some_and(in_word),
        Some('.') => !chars.next().is_some_and(char::is_alphabetic),
        Some(_) => true,
    }
}
