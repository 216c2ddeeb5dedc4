//! Keys and values of the file with their places, and how one is told that is not known.

use dwell_check::names::near;
use dwell_syntax::slip::{Fix, Slip};
use dwell_syntax::tree::Span;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeString, DeValue};

/// A key.
pub(crate) type Key<'i> = Spanned<DeString<'i>>;
/// A value.
pub(crate) type Value<'i> = Spanned<DeValue<'i>>;

/// The text that is read, and what is wrong with it.
pub(crate) struct Slips<'t> {
    pub(crate) text: &'t str,
    pub(crate) found: Vec<Slip>,
}

impl Slips<'_> {
    /// Tells of a place.
    pub(crate) fn tell(&mut self, at: Range<usize>, message: impl Into<String>, help: impl Into<String>) {
        let span = self.shown(at);
        self.found.push(Slip {
            rule: "settings",
            span,
            message: message.into(),
            help: Some(help.into()),
            fix: None,
        });
    }

    /// Tells of a word that is not one of those known here, with the one that was meant where only one is near.
    pub(crate) fn unknown(
        &mut self,
        at: Range<usize>,
        message: impl Into<String>,
        word: &str,
        known: &[&str],
    ) {
        let near = near(word, known.iter().copied());
        let help = match near.as_slice() {
            [only] => format!("did you mean `{only}`?"),
            [] => format!("known here: {}", known.join(", ")),
            several => format!("did you mean one of these: {}?", several.join(", ")),
        };
        self.tell(at.clone(), message, help);
        let ([only], Some(slip)) = (near.as_slice(), self.found.last_mut()) else { return };
        let quote = match self.text.get(at.clone()).and_then(|text| text.chars().next()) {
            Some(quote @ ('"' | '\'')) => quote.to_string(),
            _ => String::new(),
        };
        slip.fix =
            Some(Fix { span: Span::new(at.start, at.end), replacement: format!("{quote}{only}{quote}") });
    }

    /// The text of a value that must be one.
    pub(crate) fn string<'v>(&mut self, value: &'v Value<'_>, what: &str) -> Option<&'v str> {
        let text = value.get_ref().as_str();
        if text.is_none() {
            let help = format!("write {what} in quotes");
            self.tell(value.span(), "a text in quotes belongs here", help);
        }
        text
    }

    /// A value that must be one of a few words.
    pub(crate) fn one_of(&mut self, value: &Value<'_>, what: &str, known: &[&str]) {
        let Some(word) = self.string(value, known.first().copied().unwrap_or("it")) else { return };
        if !known.contains(&word) {
            self.unknown(value.span(), format!("`{word}` is no {what}"), word, known);
        }
    }

    /// A place that can be shown: never empty where there is text, and only its first line.
    fn shown(&self, at: Range<usize>) -> Span {
        let start = self.text.floor_char_boundary(at.start.min(self.text.len()));
        let end = self.text.ceil_char_boundary(at.end.min(self.text.len())).max(start);
        let part = self.text.get(start..end).unwrap_or_default();
        let line = part.lines().next().unwrap_or_default().len();
        if line > 0 {
            return Span::new(start, start + line);
        }
        // At an end of a line: the last letter before it.
        let before = self.text.get(..start).unwrap_or_default().char_indices().next_back();
        before.map_or(Span::new(start, end), |(at, letter)| Span::new(at, at + letter.len_utf8()))
    }
}
