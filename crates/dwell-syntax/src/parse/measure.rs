//! `measure`: what is read, with what, and how.

use chumsky::prelude::*;

use super::amount::{Where, paired};
use super::input::Rule;
use super::lost::statement::take;
use super::name::{at_each, at_spot, count, keyword, name, sign, trailing_text, word};
use crate::lex::TokenKind;
use crate::tree::{Clause, Condition, Measure, Name, NewReading};
use crate::words::Word;

/// What follows the readings, in any order.
#[derive(Clone)]
enum More {
    With(Name),
    Again,
    Clause(Clause),
}

/// `measure tension: belt-frequency with belt-meter 3 times take mean "…"`.
pub(super) fn measure<'t>(condition: Rule<'t, Condition>) -> Rule<'t, Measure> {
    let reading = name()
        .then(sign(TokenKind::Colon).ignore_then(name()).or_not())
        .map(|(name, kind)| NewReading { name, kind });
    let more = choice((
        word(Word::With).ignore_then(name()).map(More::With),
        word(Word::Again).to(More::Again),
        clause(condition).map(More::Clause),
    ));
    keyword(Word::Measure)
        .ignore_then(reading.separated_by(sign(TokenKind::Comma)).at_least(1).collect::<Vec<_>>())
        .then(more.repeated().collect::<Vec<_>>())
        .then(trailing_text())
        .map(|((readings, more), text)| {
            let mut measure = Measure { readings, again: false, with: None, clauses: Vec::new(), text };
            for one in more {
                match one {
                    More::With(tool) => measure.with = Some(tool),
                    More::Again => measure.again = true,
                    More::Clause(clause) => measure.clauses.push(clause),
                }
            }
            measure
        })
        .boxed()
}

/// How it is taken.
fn clause<'t>(condition: Rule<'t, Condition>) -> Rule<'t, Clause> {
    let long = || paired(Where::Anywhere);
    choice((
        at_each().map(Clause::AtEach),
        at_spot().map(Clause::At),
        word(Word::After).ignore_then(long()).map(Clause::After),
        word(Word::Every).ignore_then(long()).map(Clause::Every),
        word(Word::Averaging).ignore_then(long()).map(Clause::Averaging),
        word(Word::Over)
            .ignore_then(word(Word::At).then(word(Word::Most)).or_not())
            .then(paired(Where::Counted))
            .map(|(most, long)| Clause::Over(long, most.is_some())),
        count().then_ignore(word(Word::Times).or(word(Word::Time))).map(Clause::Times),
        take().map(|(fold, span)| Clause::Take(fold, span)),
        word(Word::Until).ignore_then(condition).map(Clause::Until),
    ))
    .boxed()
}
