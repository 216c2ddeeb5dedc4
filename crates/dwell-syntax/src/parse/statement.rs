//! Statements that begin with a keyword, one production each.

use chumsky::prelude::*;

use super::amount::{Where, amount, band};
use super::block::Parts;
use super::condition::no_condition;
use super::input::{Extra, Input, Rule, Tok};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::{level, name, sign, text, token, trailing_text, up_to_times, values, word};
use super::recovery::skip_condition;
use super::state::{effects, state_of};
use crate::lex::TokenKind;
use crate::tree::{Block, Condition, Event, Name, StatementKind};
use crate::words::{Group, Word};

/// Cautions, notes, `do`, `ask`, `read`, `wait`, `cause`, `waive`.
pub(super) fn actions<'t>() -> Rule<'t, StatementKind> {
    choice((caution(), note(), r#do(), ask(), wait(), cause(), waive())).boxed()
}

/// `warning exhaust-gas "…"`.
pub(super) fn caution<'t>() -> Rule<'t, StatementKind> {
    level()
        .then(name())
        .then(trailing_text())
        .map(|((level, hazard), text)| StatementKind::Caution { level, hazard, text })
        .boxed()
}

/// `note "…"`.
pub(super) fn note<'t>() -> Rule<'t, StatementKind> {
    word(Word::Note).ignore_then(text()).map(StatementKind::Note).boxed()
}

/// `waive caution-missing because "…"`.
pub(super) fn waive<'t>() -> Rule<'t, StatementKind> {
    word(Word::Waive)
        .ignore_then(name())
        .then_ignore(word(Word::Because))
        .then(text())
        .map(|(rule, because)| StatementKind::Waive { rule, because })
        .boxed()
}

/// `do "…" brings engine is stopped zeroes dial-gauge`.
fn r#do<'t>() -> Rule<'t, StatementKind> {
    word(Word::Do)
        .ignore_then(text())
        .then(word(Word::Brings).ignore_then(effects()).or_not())
        .then(word(Word::Zeroes).ignore_then(name()).or_not())
        .map(|((text, brings), zeroes)| StatementKind::Do {
            text,
            brings: brings.unwrap_or_default(),
            zeroes,
        })
        .boxed()
}

/// `ask lamp "What does it do?" one of lit, dark`.
fn ask<'t>() -> Rule<'t, StatementKind> {
    word(Word::Ask)
        .ignore_then(name())
        .then(text())
        .then(word(Word::One).then(word(Word::Of)).ignore_then(values()).or_not())
        .map(|((name, text), answers)| StatementKind::Ask {
            name,
            text,
            answers: answers.unwrap_or_default(),
        })
        .boxed()
}

/// `wait 2 min since start engine "…"`.
fn wait<'t>() -> Rule<'t, StatementKind> {
    let event = name().then(name()).map(|(verb, item)| Event { verb, item });
    word(Word::Wait)
        .ignore_then(amount(Where::Anywhere))
        .then(word(Word::Since).ignore_then(event).or_not())
        .then(trailing_text())
        .map(|((duration, since), text)| StatementKind::Wait { duration, since, text })
        .boxed()
}

/// `cause regulator "…"`.
fn cause<'t>() -> Rule<'t, StatementKind> {
    word(Word::Cause)
        .ignore_then(name())
        .then(trailing_text())
        .map(|(item, text)| StatementKind::Cause { item, text })
        .boxed()
}

/// `expect … proves … otherwise …`; a condition that cannot be read leaves the rest.
pub(super) fn expect<'t>(parts: &Parts<'t>) -> Rule<'t, StatementKind> {
    let condition = parts.condition.clone().recover_with(via_parser(skip_condition().map(no_condition)));
    word(Word::Expect)
        .ignore_then(condition)
        .then(word(Word::Proves).ignore_then(state_of()).or_not())
        .then(parts.arms.clone())
        .map(|((condition, proves), otherwise)| StatementKind::Expect { condition, proves, otherwise })
        .boxed()
}

/// `adjust tension to belt-tension up to 5 times by { … } otherwise { … }`.
pub(super) fn adjust<'t>(parts: &Parts<'t>) -> Rule<'t, StatementKind> {
    let pair = name().then_ignore(word(Word::To)).then(name());
    word(Word::Adjust)
        .ignore_then(pair.separated_by(sign(TokenKind::Comma)).at_least(1).collect::<Vec<_>>())
        .then(up_to_times())
        .then_ignore(word(Word::By))
        .then(parts.body.clone())
        .then(parts.arms.clone())
        .map(|(((what, times), block), otherwise)| StatementKind::Adjust { what, times, block, otherwise })
        .boxed()
}

/// `if … { } else if … { } else { }`.
pub(super) fn branches<'t>(condition: Rule<'t, Condition>, body: Rule<'t, Block>) -> Rule<'t, StatementKind> {
    let arm = condition.then(body.clone());
    let more = word(Word::Else).then(word(Word::If)).ignore_then(arm.clone());
    word(Word::If)
        .ignore_then(arm)
        .then(more.repeated().collect::<Vec<_>>())
        .then(word(Word::Else).ignore_then(body).or_not())
        .map(|((first, more), last)| StatementKind::If {
            arms: std::iter::once(first).chain(more).collect(),
            last,
        })
        .boxed()
}

/// `for each cylinder where … { … }`.
pub(super) fn for_each<'t>(condition: Rule<'t, Condition>, body: Rule<'t, Block>) -> Rule<'t, StatementKind> {
    word(Word::For)
        .then(word(Word::Each))
        .ignore_then(name())
        .then(word(Word::Where).ignore_then(condition).or_not())
        .then(body)
        .map(|((positions, condition), block)| StatementKind::ForEach { positions, condition, block })
        .boxed()
}

/// `let`, `read`, `choose`.
pub(super) fn calculations<'t>(parts: &Parts<'t>) -> Rule<'t, StatementKind> {
    let kind = || sign(TokenKind::Colon).ignore_then(name()).or_not();
    let r#let = word(Word::Let)
        .ignore_then(name())
        .then(kind())
        .then_ignore(sign(TokenKind::Equals))
        .then(parts.formula.clone())
        .map(|((name, kind), value)| StatementKind::Let { name, kind, value });
    let read = word(Word::Read)
        .ignore_then(name())
        .then(kind())
        .then_ignore(word(Word::From))
        .then(text())
        .then(word(Word::Expected).ignore_then(band(parts.formula.clone())).or_not())
        .map(|(((name, kind), from), expected)| StatementKind::Read { name, kind, from, expected });
    let choose = word(Word::Choose)
        .ignore_then(name())
        .then_ignore(word(Word::From))
        .then(name())
        .then_ignore(word(Word::Nearest))
        .then(parts.formula.clone())
        .then(parts.arms.clone())
        .map(|(((name, from), nearest), otherwise)| StatementKind::Choose { name, from, nearest, otherwise });
    choice((r#let.boxed(), read.boxed(), choose.boxed())).boxed()
}

/// `perform`, `refer to`, `end`, `back to`, `on to`: where a procedure goes on.
pub(super) fn ways<'t>(parts: &Parts<'t>) -> Rule<'t, StatementKind> {
    let perform = word(Word::Perform)
        .ignore_then(name())
        .then(parts.arms.clone())
        .map(|(what, otherwise)| StatementKind::Perform { what, otherwise });
    let refer = word(Word::Refer)
        .then(word(Word::To))
        .ignore_then(name())
        .then(trailing_text())
        .map(|(to, text)| StatementKind::Refer { to, text });
    let end = word(Word::End)
        .ignore_then(outcome(false))
        .then(trailing_text())
        .map(|(outcome, text)| StatementKind::End { outcome, text });
    let back = word(Word::Back)
        .then(word(Word::To))
        .ignore_then(name())
        .then(up_to_times())
        .then(parts.arms.clone())
        .map(|((step, times), otherwise)| StatementKind::Back { step, times, otherwise });
    let on = word(Word::On).then(word(Word::To)).ignore_then(name()).map(|step| StatementKind::On { step });
    choice((perform.boxed(), refer.boxed(), end.boxed(), back.boxed(), on.boxed())).boxed()
}

/// How a procedure ends; `referred` is known only in a case.
pub(super) fn outcome<'t>(in_case: bool) -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    let on_its_line = move |found: &Tok<'t>| {
        found.kind == TokenKind::Word
            || (in_case && found.word.is_some_and(|word| word.group() == Group::Outcome))
    };
    token(Expected::label(Label::Outcome), move |found| found.is_name() && on_its_line(found)).validate(
        move |found, extra, emitter| {
            let known = found
                .word
                .is_some_and(|word| word.group() == Group::Outcome && (in_case || word != Word::Referred));
            if !known {
                emitter.emit(Mistake::said(extra.span(), Saying::Outcome));
            }
            found.name()
        },
    )
}
