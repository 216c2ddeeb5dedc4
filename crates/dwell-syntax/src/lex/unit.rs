//! Units: looked for only right after a number, on the same line, longest match in the closed table.

use std::sync::OnceLock;

use dwell_quantity::{Lookup, fold_twin, look_alike, lookup};
use strsim::damerau_levenshtein;

use super::TokenKind;
use super::letters::{brief, in_word, word_length};
use super::number::{decimal, digits};
use super::scan::Scan;
use super::sign::{blank, blanks};
use crate::tree::Span;
use crate::words::Word;

/// The spellings of the table as a tree of characters.
struct Spellings {
    nodes: Vec<Node>,
}

#[derive(Default)]
struct Node {
    next: Vec<(char, usize)>,
    ends: bool,
}

/// A spelling found in a text.
struct Match {
    /// Its bytes.
    length: usize,
    /// It, as the table spells it.
    spelling: String,
    /// The first look-alike in it: its place, its name.
    alike: Option<&'static str>,
}

impl Spellings {
    fn table() -> &'static Spellings {
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
    fn longest(&self, text: &str) -> Option<Match> {
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
fn parted(rest: &str) -> bool {
    let mut chars = rest.chars();
    match chars.next() {
        None => true,
        Some(c) if in_word(c) || c == '_' => false,
        Some('/' | '*' | '·' | '^' | '-') => !chars.next().is_some_and(in_word),
        Some('.') => !chars.next().is_some_and(char::is_alphabetic),
        Some(_) => true,
    }
}

/// Whether the table has `spelling` (twins folded).
fn is_spelling(spelling: &str) -> bool {
    Spellings::table().longest(spelling).is_some_and(|found| found.length == spelling.len())
}

/// Suggestions for a word that is no unit, as one line of help.
pub(crate) fn unit_help(spelling: &str) -> String {
    match lookup(spelling) {
        Lookup::Unknown { suggestions } if !suggestions.is_empty() => {
            let shown: Vec<String> = suggestions.iter().take(4).map(|unit| format!("`{unit}`")).collect();
            format!("did you mean {}?", shown.join(" or "))
        }
        _ => "the reference lists every unit and its spellings".to_owned(),
    }
}

/// The one unit that a word which is none can be meant as, if there is just one: the only suggestion, or the only one
/// that differs in nothing but capitals.
pub(crate) fn only_suggestion(spelling: &str) -> Option<&'static str> {
    let Lookup::Unknown { suggestions } = lookup(spelling) else { return None };
    let mut alike = suggestions.iter().filter(|unit| unit.to_lowercase() == spelling.to_lowercase());
    match (suggestions.as_slice(), alike.next(), alike.next()) {
        ([one], _, _) => Some(one),
        (_, Some(one), None) => Some(one),
        _ => None,
    }
}

/// Whether `word` is near enough to a unit to be meant as one: at most one letter or capitals differ.
pub(crate) fn nearly_unit(word: &str) -> bool {
    let Lookup::Unknown { suggestions } = lookup(word) else { return false };
    let word = word.to_lowercase();
    suggestions
        .iter()
        .any(|unit| damerau_levenshtein(&unit.to_lowercase(), &word) <= usize::from(word.len() > 2))
}

impl Scan<'_> {
    /// Looks for a unit where the walk stands, right after a number.
    pub(super) fn read_unit(&mut self) {
        let start = self.at() + blanks(self.rest());
        let text = self.from(start);
        if text.get(..word_length(text)).and_then(Word::of).is_some_and(Word::is_hard) {
            return;
        }
        match Spellings::table().longest(text) {
            Some(found) => self.unit_token(start, found),
            None => self.unknown_unit(start),
        }
    }

    fn unit_token(&mut self, start: usize, found: Match) {
        let mut end = start + found.length;
        let mut spelling = found.spelling;
        if spelling == "°"
            && let Some((letter, stop)) = degree_letter(self.from(end), end)
        {
            spelling.push(letter);
            end = stop;
            self.slip(start, end, format!("`{spelling}` is one word"))
                .fix(Span::new(start, end), spelling.clone());
        }
        self.skip_to(end);
        self.token(TokenKind::Unit, start, end);
        let typed = self.between(start, end).to_owned();
        if let Some(name) = found.alike {
            self.slip_of("look-alike-character", start, end, format!("a {name} stands in this unit"))
                .help(format!("write `{spelling}`"))
                .fix(Span::new(start, end), spelling.clone());
        }
        if let Lookup::Ambiguous { why, choices } = lookup(&spelling) {
            let shown: Vec<String> = choices.iter().map(|choice| format!("`{choice}`")).collect();
            self.slip_of(
                "unit-ambiguous",
                start,
                end,
                format!("`{spelling}` can mean more than one unit: {why}"),
            )
            .help(format!("write {}", shown.join(" or ")));
        }
        if typed != spelling {
            self.mend(spelling);
        }
    }

    /// What stands after a number and is no unit: a word is left to the grammar, anything else is said here.
    fn unknown_unit(&mut self, start: usize) {
        let text = self.from(start);
        let per = if text.starts_with("1/") { 2 } else { 0 };
        let length = match unit_run(text.get(per..).unwrap_or("")) {
            0 => 0,
            length => per + length,
        };
        let run = text.get(..length).unwrap_or("");
        if length == 0 || word_length(run) == length {
            return;
        }
        if let Some((unit, over)) = glued_division(run) {
            let (end, digits_at) = (start + unit, start + over);
            self.skip_to(end);
            self.token(TokenKind::Unit, start, end);
            self.skip_to(digits_at);
            self.slip(end, digits_at, "`/` has a blank on both sides when it divides")
                .fix(Span::new(end, digits_at), " / ");
            return self.token(TokenKind::Over, end, digits_at);
        }
        let end = start + length;
        self.skip_to(end);
        self.token(TokenKind::Unit, start, end);
        let run = brief(run);
        let slip = self.slip_of("unit-unknown", start, end, format!("`{run}` is no unit"));
        slip.help(unit_help(&run));
        if let Some(one) = only_suggestion(&run) {
            slip.fix(Span::new(start, end), one);
        }
    }

    /// Degrees with minutes, or hours with minutes, as one token. The first number stands at `start` to `end`.
    pub(super) fn compound(&mut self, start: usize, end: usize, mended: Option<&str>) -> bool {
        let first = mended.unwrap_or_else(|| self.between(start, end));
        if !first.trim_start_matches(['+', '-']).bytes().all(|b| b.is_ascii_digit()) {
            return false;
        }
        let mut text = first.to_owned();
        let mut stop = end;
        let mut pieces = 0;
        let mut rank = None;
        let mut odd = None;
        let mut digits_end = end;
        loop {
            let gap = blanks(self.from(digits_end));
            let Some(mark) = mark(self.from(digits_end + gap), rank) else { break };
            stop = digits_end + gap + mark.length;
            pieces += 1;
            if mark.odd {
                odd = odd.or(Some((digits_end + gap, stop, mark.written.trim())));
            }
            text.push_str(mark.written);
            rank = Some(mark.rank);
            let gap = blanks(self.from(stop));
            let number = decimal(self.from(stop + gap));
            if number == 0 || mark.last() {
                break;
            }
            digits_end = stop + gap + number;
            let next = self.from(digits_end);
            let Some(_) = self::mark(next.get(blanks(next)..).unwrap_or(""), rank) else { break };
            text.push(' ');
            text.push_str(self.between(stop + gap, digits_end));
        }
        if pieces < 2 {
            return false;
        }
        self.skip_to(stop);
        self.token(TokenKind::Compound, start, stop);
        if text != self.between(start, stop) {
            self.mend(text);
        }
        if let Some((from, to, written)) = odd {
            self.slip_of(
                "look-alike-character",
                from,
                to,
                format!("minutes of an angle are written `{written}`"),
            )
            .fix(Span::new(from, to), written);
        }
        true
    }
}

/// A part of a compound number.
struct Mark {
    /// Its place in the order: degrees 0, minutes 1, seconds 2; hours 10, minutes 11, seconds 12.
    rank: u8,
    length: usize,
    written: &'static str,
    odd: bool,
}

impl Mark {
    fn last(&self) -> bool {
        matches!(self.rank, 2 | 12)
    }
}

/// The mark at the start of `text` that may follow one of rank `after`.
fn mark(text: &str, after: Option<u8>) -> Option<Mark> {
    const MARKS: [(&str, u8, &str, bool); 11] = [
        ("°", 0, "°", false),
        ("deg", 0, "°", false),
        ("º", 0, "°", true),
        ("˚", 0, "°", true),
        ("′", 1, "′", false),
        ("'", 1, "′", true),
        ("\u{2019}", 1, "′", true),
        ("″", 2, "″", false),
        ("h", 10, " h", false),
        ("min", 11, " min", false),
        ("s", 12, " s", false),
    ];
    MARKS.iter().find_map(|(spelling, rank, written, odd)| {
        let rest = text.strip_prefix(spelling)?;
        let lettered = spelling.ends_with(char::is_alphanumeric) && *spelling != "º";
        let fits = match after {
            None => matches!(rank, 0 | 10 | 11),
            Some(after) => *rank > after && rank / 10 == after / 10,
        };
        let ends = !lettered || parted(rest);
        (fits && ends).then_some(Mark { rank: *rank, length: spelling.len(), written, odd: *odd })
    })
}

/// `C` or `F` after a lone degree sign and a blank.
fn degree_letter(rest: &str, at: usize) -> Option<(char, usize)> {
    let gap = blanks(rest);
    let text = rest.get(gap..)?;
    let letter = text.chars().next().filter(|c| matches!(c, 'C' | 'F'))?;
    (gap > 0 && parted(text.get(1..)?)).then_some((letter, at + gap + 1))
}

/// The bytes of what looks like one unit: letters, signs of units, and joiners between them.
fn unit_run(text: &str) -> usize {
    let sign = |c: char| {
        c.is_alphanumeric() && !c.is_ascii_digit()
            || matches!(c, '°' | '′' | '″' | '%' | '‰' | '²' | '³' | '˚' | 'º')
    };
    let mut length = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let joins = length > 0
            && (c.is_ascii_digit() || matches!(c, '/' | '*' | '·' | '^' | '-' | '.'))
            && (c.is_ascii_digit()
                || chars
                    .peek()
                    .is_some_and(|(_, next)| next.is_alphabetic() || (c != '.' && next.is_ascii_digit())));
        if !sign(c) && !joins {
            break;
        }
        length = at + c.len_utf8();
    }
    length
}

/// For `V/2`: the bytes of the unit and of the unit with its sign.
fn glued_division(run: &str) -> Option<(usize, usize)> {
    let (unit, rest) = run.split_once('/')?;
    (digits(rest) > 0 && is_spelling(unit)).then_some((unit.len(), unit.len() + 1))
}
