//! Cases: the tests of a procedure, readings in order and how it must end.

use chumsky::prelude::*;

use super::amount::{Where, number_of, paired, unit};
use super::input::{Extra, Input, Place, Rule, Tok, span_of};
use super::line::braced;
use super::lost::head::{case_word, ends_word};
use super::lost::or_lost_text;
use super::mistake::{Expected, Label, Mistake};
use super::name::{first_name, name, sign, token, word};
use super::statement::outcome;
use crate::lex::TokenKind;
use crate::tree::{Case, CaseEnd, CaseEntry, CaseValue, Name, Part, Span};
use crate::words::Word;

/// One entry between the braces.
#[derive(Clone)]
enum CaseLine {
    Entry(CaseEntry),
    Ends(Name),
}

/// `case "slack belt" { tension 49 Hz, 62 Hz  charge 14.2 V  ends passed }`.
pub(super) fn case<'t>() -> Rule<'t, Part> {
    let entry = first_name()
        .then(value().separated_by(sign(TokenKind::Comma)).at_least(1).collect::<Vec<_>>())
        .map(|(name, values)| CaseLine::Entry(CaseEntry { name, values }));
    let ends = ends_word().ignore_then(outcome(true)).map(CaseLine::Ends);
    case_word()
        .ignore_then(or_lost_text())
        .then(braced(ends.or(entry).boxed()))
        .map_with(|(title, lines), extra| {
            let mut case = Case { title, entries: Vec::new(), ends: None, span: span_of(extra.slice()) };
            for line in lines {
                match line {
                    CaseLine::Entry(entry) => case.entries.push(entry),
                    CaseLine::Ends(outcome) => case.ends = Some(outcome),
                }
            }
            Part::Case(case)
        })
        .boxed()
}

/// `49 Hz`, `above 60 V`, `(49, 50, 49) Hz`, `dark`, `not stopped`, `no reading`.
fn value<'t>() -> Rule<'t, CaseValue> {
    let nothing = word(Word::No).then(word(Word::Reading)).map(|(no, reading): (Tok<'t>, Tok<'t>)| {
        CaseValue::Word(Name { text: "no-reading".to_owned(), span: no.span.to(reading.span) })
    });
    let number = token(Expected::label(Label::Amount), |found| {
        matches!(found.kind, TokenKind::Number | TokenKind::Compound)
    });
    let numbers = number
        .map(|found| number_of(&found))
        .separated_by(sign(TokenKind::Comma))
        .at_least(1)
        .collect::<Vec<_>>()
        .delimited_by(sign(TokenKind::OpenParen), sign(TokenKind::CloseParen));
    let series = numbers.then(shared_unit()).map_with(|(numbers, unit), extra| {
        let span: Span = span_of(extra.slice());
        CaseValue::Series(numbers, unit, span)
    });
    let at = word(Word::At);
    let end = choice((
        word(Word::Above).to(CaseEnd::Above),
        word(Word::Below).to(CaseEnd::Below),
        at.clone().then(word(Word::Least)).to(CaseEnd::AtLeast),
        at.then(word(Word::Most)).to(CaseEnd::AtMost),
    ));
    let interval = end.then(paired(Where::Case)).map(|(end, amount)| CaseValue::Interval(end, amount));
    let refused = word(Word::Not).ignore_then(name()).map(CaseValue::Not);
    let amount = paired(Where::Case).map(CaseValue::Amount);
    choice((nothing, interval.boxed(), refused, amount, series, name().map(CaseValue::Word)))
        .labelled(Label::Value)
        .boxed()
}

/// The unit after a series, where one stands.
fn shared_unit<'t>() -> impl Parser<'t, Input<'t>, Option<Name>, Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| Ok::<_, Mistake>(unit(place, Where::Case)))
}
