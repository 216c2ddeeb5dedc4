//! Units: looked for only right after a number, on the same line, longest match in the closed table.

use dwell_quantity::{Lookup, lookup};
use strsim::damerau_levenshtein;

use super::TokenKind;
use super::letters::{brief, word_length};
use super::number::digits;
use super::outside::hidden;
use super::scan::Scan;
use super::sign::blanks;
use super::spellings::{Match, Spellings, parted};
use crate::tree::Span;
use crate::words::Word;

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
        let mut start = self.at() + blanks(self.rest());
        while let Some(c) = self.from(start).chars().next().filter(|c| hidden(*c)) {
            let end = start + c.len_utf8();
            self.skip_to(end);
            self.hidden_here(start, end, c);
            start = self.at() + blanks(self.rest());
        }
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
