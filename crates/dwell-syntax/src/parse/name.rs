//! The smallest productions: a word, a sign, a name, a text, a count, a date.

use chumsky::prelude::*;

use super::input::{Extra, Input, Place, Rule, Tok};
use super::lost::{at_word, each_word};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::near::{nearest, within};
use crate::lex::TokenKind;
use crate::tree::{Date, Fold, Level, Name, Number32, Text};
use crate::words::{Group, Word};

/// A token for which `fits` holds.
pub(super) fn token<'t>(
    expected: Expected,
    fits: impl Fn(&Tok<'t>) -> bool + Clone + 't,
) -> impl Parser<'t, Input<'t>, Tok<'t>, Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        let before = place.cursor();
        match place.next() {
            Some(found) if fits(&found) => Ok(found),
            _ => Err(Mistake::expected(place.span_since(&before), expected)),
        }
    })
}

/// A sign.
pub(super) fn sign<'t>(kind: TokenKind) -> impl Parser<'t, Input<'t>, Tok<'t>, Extra> + Clone + 't {
    token(Expected::kind(kind), move |found| found.kind == kind)
}

/// A word of the language.
pub(super) fn word<'t>(word: Word) -> impl Parser<'t, Input<'t>, Tok<'t>, Extra> + Clone + 't {
    token(Expected::word(word), move |found| found.is(word))
}

/// A word that begins something where nothing but a known word can stand: one that is nearly it is taken for it.
pub(super) fn head<'t>(
    word: Word,
    of: fn(Word) -> bool,
) -> impl Parser<'t, Input<'t>, Tok<'t>, Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        let before = place.cursor();
        match place.next() {
            Some(found) if found.is(word) => Ok(found),
            Some(found)
                if found.kind == TokenKind::LineWord
                    && found.word.is_none()
                    && nearest(found.text, of) == Some(word) =>
            {
                let span = place.span_since(&before);
                place.emit(Mistake::said(span, Saying::Misspelt(word)));
                Ok(found)
            }
            _ => Err(Mistake::expected(place.span_since(&before), Expected::word(word))),
        }
    })
}

/// A name that something waits for: any word but the 20 hard ones, on the same line or after a comma.
pub(super) fn name<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    token(Expected::label(Label::Name), Tok::is_name_going_on).map(|found| found.name())
}

/// A name that begins a line.
pub(super) fn first_name<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    token(Expected::label(Label::Name), Tok::is_name).map(|found| found.name())
}

/// A misspelt keyword at the start of a statement: read as what was meant, and said. Long words only, one letter apart;
/// no verb may be declared that near.
pub(super) fn keyword<'t>(meant: Word) -> impl Parser<'t, Input<'t>, Tok<'t>, Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        let before = place.cursor();
        match place.next() {
            Some(found) if found.is(meant) => Ok(found),
            Some(found) if found.kind == TokenKind::LineWord && misspells(&found, meant) => {
                let span = place.span_since(&before);
                place.emit(Mistake::said(span, Saying::Misspelt(meant)));
                Ok(found)
            }
            _ => Err(Mistake::expected(place.span_since(&before), Expected::word(meant))),
        }
    })
}

/// Whether `found` is a long word of the language with one slip in it.
pub(super) fn misspells(found: &Tok<'_>, meant: Word) -> bool {
    found.is_word() && found.word.is_none() && meant.text().len() >= 5 && within(found.text, meant.text(), 1)
}

/// Names with commas between.
pub(super) fn names<'t>() -> Rule<'t, Vec<Name>> {
    name().separated_by(sign(TokenKind::Comma)).at_least(1).collect().boxed()
}

/// A value of a variant, of an answer or of a place: a name, or a plain whole number.
pub(super) fn value<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    token(Expected::label(Label::Value), |found| found.is_name_going_on() || is_whole(found))
        .map(|found| found.name())
}

/// Values with commas (or `or`) between.
pub(super) fn values<'t>() -> Rule<'t, Vec<Name>> {
    value().separated_by(sign(TokenKind::Comma)).at_least(1).collect().boxed()
}

fn is_whole(found: &Tok<'_>) -> bool {
    found.kind == TokenKind::Number && found.text.bytes().all(|b| b.is_ascii_digit())
}

/// A place after `at`: a name, or a number that no unit and no colon follows (those are rows of a table).
pub(super) fn spot<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    let further = token(Expected::label(Label::Value), |found| {
        matches!(found.kind, TokenKind::Unit | TokenKind::Colon | TokenKind::DotDot | TokenKind::PlusMinus)
    });
    name().or(value().then_ignore(further.not()))
}

/// `at left`.
pub(super) fn at_spot<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    word(Word::At).ignore_then(spot())
}

/// `at each front-wheel`.
pub(super) fn at_each<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    at_word().then(each_word()).ignore_then(name())
}

/// A text that must stand here.
pub(super) fn text<'t>() -> impl Parser<'t, Input<'t>, Text, Extra> + Clone + 't {
    token(Expected::label(Label::Text), |found| matches!(found.kind, TokenKind::Str | TokenKind::LineStr))
        .map(inside)
}

/// A text that may stand at the end of something, on the same line.
pub(super) fn trailing_text<'t>() -> impl Parser<'t, Input<'t>, Option<Text>, Extra> + Clone + 't {
    token(Expected::label(Label::Text), |found| found.kind == TokenKind::Str).map(inside).or_not()
}

/// What stands between the quotes, with its escapes resolved.
fn inside(found: Tok<'_>) -> Text {
    let inner = found.text.strip_prefix('"').unwrap_or(found.text);
    let inner = inner.strip_suffix('"').unwrap_or(inner);
    let mut text = String::with_capacity(inner.len());
    let mut chars = inner.chars();
    while let Some(c) = chars.next() {
        match c {
            '\\' => text.extend(chars.next()),
            other => text.push(other),
        }
    }
    Text { text, span: found.span }
}

/// A whole number from 1 to 10,000.
pub(super) fn count<'t>() -> impl Parser<'t, Input<'t>, Number32, Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let before = place.cursor();
        match place.next() {
            Some(found) if found.kind == TokenKind::Number => {
                let value = found.text.parse::<u32>().ok().filter(|value| (1..=10_000).contains(value));
                if value.is_none() {
                    let span = place.span_since(&before);
                    place.emit(Mistake::said(span, Saying::Count));
                }
                Ok(Number32 { value: value.unwrap_or(1), span: found.span })
            }
            _ => Err(Mistake::expected(place.span_since(&before), Expected::label(Label::Count))),
        }
    })
}

/// `up to 5 times`; `at most 5 times` is said to be meant so.
pub(super) fn up_to_times<'t>() -> Rule<'t, Option<Number32>> {
    let bound = word(Word::Up).then(word(Word::To)).ignored();
    let most = word(Word::At).then(word(Word::Most)).ignored().validate(|(), extra, emitter| {
        emitter.emit(Mistake::said(extra.span(), Saying::TimesBound));
    });
    let times = word(Word::Times).or(word(Word::Time));
    bound.or(most).ignore_then(count()).then_ignore(times).or_not().boxed()
}

/// A date.
pub(super) fn date<'t>() -> impl Parser<'t, Input<'t>, Date, Extra> + Clone + 't {
    token(Expected::label(Label::Date), |found| found.kind == TokenKind::Date)
        .map(|found| Date { text: found.text.to_owned(), span: found.span })
}

/// `mean`, `highest` and the like.
pub(super) fn fold<'t>() -> impl Parser<'t, Input<'t>, (Fold, Tok<'t>), Extra> + Clone + 't {
    token(Expected::label(Label::Fold), |found| fold_of(found).is_some())
        .map(|found| (fold_of(&found).unwrap_or(Fold::Mean), found))
}

pub(super) fn fold_of(found: &Tok<'_>) -> Option<Fold> {
    Some(match found.word.filter(|word| word.group() == Group::Fold)? {
        Word::Lowest => Fold::Lowest,
        Word::Highest => Fold::Highest,
        Word::Mean => Fold::Mean,
        Word::Spread => Fold::Spread,
        Word::Sum => Fold::Sum,
        Word::Furthest => Fold::Furthest,
        _ => Fold::Last,
    })
}

/// A level of hazard as a word.
pub(super) fn level<'t>() -> impl Parser<'t, Input<'t>, Level, Extra> + Clone + 't {
    choice((
        keyword(Word::Danger).to(Level::Danger),
        keyword(Word::Warning).to(Level::Warning),
        keyword(Word::Caution).to(Level::Caution),
        keyword(Word::Notice).to(Level::Notice),
    ))
}
