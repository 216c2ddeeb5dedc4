//! Words that people write for words of the language, in one list, each with what to write instead.

use super::input::Tok;
use super::mistake::{Expected, Label};
use crate::lex::TokenKind;
use crate::tree::Span;
use crate::words::Word;

/// Words for a limit, as they stand one after the other, and what to write.
const LIMITS: &[(&[&str], &str)] = &[
    (&["more", "than"], "above"),
    (&["greater", "than"], "above"),
    (&["higher", "than"], "above"),
    (&["larger", "than"], "above"),
    (&["over"], "above"),
    (&["exceeds"], "above"),
    (&["less", "than"], "below"),
    (&["lower", "than"], "below"),
    (&["smaller", "than"], "below"),
    (&["under"], "below"),
    (&["min"], "at least"),
    (&["minimum"], "at least"),
    (&["least"], "at least"),
    (&["max"], "at most"),
    (&["maximum"], "at most"),
    (&["most"], "at most"),
    (&["up", "to"], "at most"),
    (&["equals"], "exactly"),
    (&["equal", "to"], "exactly"),
    (&["in", "band"], "meets"),
    (&["fulfils"], "meets"),
    (&["fails"], "misses"),
];

/// Verbs that say too little, and what to write.
const VERBS: &[(&str, &str)] = &[
    ("replace", "`renew` for a new part, `refit` for the old one"),
    ("change", "`renew` for a new part, `refit` for the old one"),
    ("check", "`measure` for a value, `ask` for what is seen"),
    ("inspect", "`measure` for a value, `ask` for what is seen"),
    ("verify", "`measure` and `expect`, or `ask`"),
    ("test", "`measure` and `expect`"),
    ("ensure", "`needs` for what must hold, `keep` for what must stay so"),
    ("install", "`fit` or `refit`"),
    ("mount", "`fit` or `refit`"),
    ("uninstall", "`remove`"),
    ("unscrew", "`loosen` or `remove`"),
    ("torque", "`tighten … to … with …`"),
    ("repeat", "`back to STEP up to N times`"),
    ("goto", "`back to STEP` or `on to STEP`"),
    ("stop", "`end unfinished \"…\"` where the procedure ends"),
    ("abort", "`end unfinished \"…\"`"),
];

/// What to write instead of a verb that says too little or that another statement says better.
pub fn verb_synonym(verb: &str) -> Option<&'static str> {
    VERBS.iter().find(|(known, _)| *known == verb).map(|(_, instead)| *instead)
}

/// A repair of a limit that is said in other words: what it is about and what to write there.
pub(super) struct Said {
    pub(super) span: Span,
    pub(super) instead: String,
}

/// Reads other words for a limit at the start of `tokens`, where a band or a test was expected.
pub(super) fn limit_synonym(tokens: &[Tok<'_>], expected: Expected) -> Option<Said> {
    let wanted = expected.has_label(Label::Test)
        || expected.has_label(Label::Band)
        || expected.has_label(Label::Amount)
        || expected.has_word(Word::Above);
    let first = tokens.first().filter(|first| first.is_word() && wanted)?;
    if let Some(said) = from_to(tokens) {
        return Some(said);
    }
    LIMITS.iter().find_map(|(words, instead)| {
        let found =
            words.iter().zip(tokens).filter(|(word, token)| token.is_word() && token.text == **word).count();
        let last = tokens.get(words.len().checked_sub(1)?)?;
        let point = tokens.get(words.len()).filter(|next| {
            next.kind == TokenKind::Error && next.span.start == last.span.end && next.text == "."
        });
        let end = point.map_or(last.span, |point| point.span);
        (found == words.len()).then(|| Said { span: first.span.to(end), instead: (*instead).to_owned() })
    })
}

/// `from 5 to 8 mm`, `between 5 and 8 mm`.
fn from_to(tokens: &[Tok<'_>]) -> Option<Said> {
    let first = tokens.first()?;
    let joint = match first.text {
        "from" => "to",
        "between" => "and",
        _ => return None,
    };
    let number = tokens.get(1).filter(|token| token.kind == TokenKind::Number)?;
    let unit = tokens.get(2).filter(|token| token.kind == TokenKind::Unit);
    let last = tokens.get(if unit.is_some() { 3 } else { 2 }).filter(|token| token.text == joint)?;
    let shown = match unit {
        Some(unit) => format!("{} {} ..", number.text, unit.text),
        None => format!("{} ..", number.text),
    };
    Some(Said { span: first.span.to(last.span), instead: shown })
}
