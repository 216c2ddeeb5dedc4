//! Statements that begin with a keyword, one production each.

use chumsky::prelude::*;

use super::amount::{Computed, Where, band, computed, paired};
use super::block::Parts;
use super::condition::{first_condition, no_condition};
use super::input::{Extra, Input, Rule, Tok};
use super::lost::arm::else_word;
use super::lost::asked::{lost_before_test, test_word};
use super::lost::statement::{ask_word, for_word, lost_before_outcome, lost_before_pair};
use super::lost::{must, or_lost_name};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::{
    first_name, keyword, level, name, sign, text, token, trailing_text, up_to_times, values, word,
};
use super::recovery::{skip_condition, skip_to_block};
use super::state::{effects, state_of};
use super::waiver::waiver;
use crate::lex::TokenKind;
use crate::tree::{Block, Condition, Event, Expr, Name, StatementKind};
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
    waiver().map(|(rule, because)| StatementKind::Waive { rule, because }).boxed()
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
    ask_word()
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
        .ignore_then(paired(Where::Anywhere))
        .then(word(Word::Since).ignore_then(event).or_not())
        .then(trailing_text())
        .map(|((duration, since), text)| StatementKind::Wait { duration, since, text })
        .boxed()
}

/// `cause regulator "…"`.
fn cause<'t>() -> Rule<'t, StatementKind> {
    keyword(Word::Cause)
        .ignore_then(name())
        .then(trailing_text())
        .map(|(item, text)| StatementKind::Cause { item, text })
        .boxed()
}

/// `expect … proves … otherwise …`; a condition that cannot be read leaves the rest.
pub(super) fn expect<'t>(parts: &Parts<'t>) -> Rule<'t, StatementKind> {
    let condition = parts.condition.clone().recover_with(via_parser(skip_condition().map(no_condition)));
    let lost = lost_before_test(Word::Expect).ignore_then(first_condition(parts.formula.clone()));
    test_word(Word::Expect)
        .ignore_then(condition)
        .or(lost)
        .then(word(Word::Proves).ignore_then(state_of()).or_not())
        .then(parts.arms.clone())
        .map(|((condition, proves), otherwise)| StatementKind::Expect { condition, proves, otherwise })
        .boxed()
}

/// `adjust tension to belt-tension up to 5 times by { … } otherwise { … }`.
pub(super) fn adjust<'t>(parts: &Parts<'t>) -> Rule<'t, StatementKind> {
    let limit = || must(Word::To, |next| next.is_name()).ignore_then(name());
    let pair = name().then(limit());
    let end = || up_to_times().then_ignore(must(Word::By, |next| next.kind == TokenKind::OpenBrace));
    let pairs = pair.clone().separated_by(sign(TokenKind::Comma)).at_least(1).collect::<Vec<_>>();
    let head = pairs.then(end()).recover_with(via_parser(skip_to_block().map(|_| (Vec::new(), None))));
    let more = sign(TokenKind::Comma).ignore_then(pair).repeated().collect::<Vec<_>>();
    let lost = lost_before_pair()
        .ignore_then(first_name().then(limit()).then(more).then(end()))
        .map(|((first, more), times)| (std::iter::once(first).chain(more).collect::<Vec<_>>(), times));
    keyword(Word::Adjust)
        .ignore_then(head)
        .or(lost)
        .then(parts.body.clone())
        .then(parts.arms.clone())
        .map(|(((what, times), block), otherwise)| StatementKind::Adjust { what, times, block, otherwise })
        .boxed()
}

/// `if … { } else if … { } else { }`.
pub(super) fn branches<'t>(
    formula: Rule<'t, Expr>,
    condition: Rule<'t, Condition>,
    body: Rule<'t, Block>,
) -> Rule<'t, StatementKind> {
    let arm = condition.then(body.clone());
    let more = else_word().then(must(Word::If, |next| next.is_name())).ignore_then(arm.clone());
    let lost = lost_before_test(Word::If).ignore_then(first_condition(formula)).then(body.clone());
    test_word(Word::If)
        .ignore_then(arm)
        .or(lost)
        .then(more.repeated().collect::<Vec<_>>())
        .then(else_word().ignore_then(body).or_not())
        .map(|((first, more), last)| StatementKind::If {
            arms: std::iter::once(first).chain(more).collect(),
            last,
        })
        .boxed()
}

/// `for each cylinder where … { … }`.
pub(super) fn for_each<'t>(condition: Rule<'t, Condition>, body: Rule<'t, Block>) -> Rule<'t, StatementKind> {
    for_word()
        .then(must(Word::Each, |next| next.is_name()))
        .ignore_then(or_lost_name())
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
        .then(computed(parts.formula.clone()))
        .map(|((name, kind), value)| match value {
            Computed::Value(value) => StatementKind::Let { name, kind, value },
            Computed::Band(band) => StatementKind::LetBand { name, kind, band },
        });
    let read = word(Word::Read)
        .ignore_then(name())
        .then(kind())
        .then_ignore(must(Word::From, |next| next.kind == TokenKind::Str))
        .then(text())
        .then(word(Word::Expected).ignore_then(band(parts.formula.clone())).or_not())
        .map(|(((name, kind), from), expected)| StatementKind::Read { name, kind, from, expected });
    let choose = keyword(Word::Choose)
        .ignore_then(name())
        .then_ignore(must(Word::From, |next| next.is_name()))
        .then(name())
        .then_ignore(word(Word::Nearest))
        .then(parts.formula.clone())
        .then(parts.arms.clone())
        .map(|(((name, from), nearest), otherwise)| StatementKind::Choose { name, from, nearest, otherwise });
    choice((r#let.boxed(), read.boxed(), choose.boxed())).boxed()
}

/// `perform`, `refer to`, `end`, `back to`, `on to`: where a procedure goes on.
pub(super) fn ways<'t>(parts: &Parts<'t>) -> Rule<'t, StatementKind> {
    let perform = keyword(Word::Perform)
        .ignore_then(name())
        .then(parts.arms.clone())
        .map(|(what, otherwise)| StatementKind::Perform { what, otherwise });
    let refer = keyword(Word::Refer)
        .then(must(Word::To, |next| next.is_name()))
        .ignore_then(name())
        .then(trailing_text())
        .map(|(to, text)| StatementKind::Refer { to, text });
    let end = word(Word::End)
        .ignore_then(outcome(false))
        .or(lost_before_outcome().ignore_then(outcome(true)))
        .then(trailing_text())
        .map(|(outcome, text)| StatementKind::End { outcome, text });
    let back = word(Word::Back)
        .then(must(Word::To, |next| next.is_name()))
        .ignore_then(name())
        .then(up_to_times())
        .then(parts.arms.clone())
        .map(|((step, times), otherwise)| StatementKind::Back { step, times, otherwise });
    let on = word(Word::On)
        .then(must(Word::To, |next| next.is_name()))
        .ignore_then(name())
        .map(|step| StatementKind::On { step });
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
