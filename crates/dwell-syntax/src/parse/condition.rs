//! Conditions: one or more tests joined by `and` or by `or`, never both.

use chumsky::prelude::*;

use super::amount::{Where, amount, band, lifted, paired, two_sided};
use super::formula::begins_test;
use super::input::{Extra, Input, Rule, Tok, roomy, span_of};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::{first_name, name, sign, token, value, word};
use super::recovery::skip_to_block;
use crate::lex::TokenKind;
use crate::tree::{Amount, Band, BandForm, Condition, Expr, Joint, Name, Quantifier, Span, Test, TestKind};
use crate::words::Word;

/// What follows the formula of a test.
#[derive(Clone)]
enum Relation {
    Meets { misses: bool, spec: Name, at: Option<Expr> },
    Band(Band),
    Is { not: bool, values: Vec<Name>, within: Option<Amount> },
}

/// A condition.
pub(super) fn condition<'t>(formula: Rule<'t, Expr>) -> Rule<'t, Condition> {
    let test = test(formula.clone(), formula);
    condition_of(test.clone(), test)
}

/// A condition that begins a line, since the word before it got lost.
pub(super) fn first_condition<'t>(formula: Rule<'t, Expr>) -> Rule<'t, Condition> {
    let what = first_name().map(Expr::Name).boxed();
    condition_of(test(what, formula.clone()), test(formula.clone(), formula))
}

/// A condition whose first test is read by `first`.
fn condition_of<'t>(first: Rule<'t, Test>, test: Rule<'t, Test>) -> Rule<'t, Condition> {
    let joint = word(Word::And).to(Joint::And).or(word(Word::Or).to(Joint::Or));
    let quantifier = word(Word::Every)
        .to(Quantifier::Every)
        .or(word(Word::Any).to(Quantifier::Any))
        .map_with(|quantifier, extra| (quantifier, span_of(extra.slice())))
        .then_ignore(token(Expected::label(Label::Formula), |next| !begins_test(next)).rewind());
    let again = quantifier.clone().or_not().validate(|again, extra, emitter| {
        if again.is_some() {
            emitter.emit(Mistake::said(extra.span(), Saying::QuantifierAgain));
        }
    });
    let more = joint.map_with(|joint, extra| (joint, extra.span())).then_ignore(again).then(test.clone());
    let condition = quantifier
        .or_not()
        .then(first)
        .then(more.repeated().collect::<Vec<_>>())
        .validate(|((quantifier, first), more), extra, emitter| {
            let joint = more.first().map_or(Joint::And, |((joint, _), _)| *joint);
            if let Some(((_, span), _)) = more.iter().find(|((other, _), _)| *other != joint) {
                emitter.emit(Mistake::said(*span, Saying::Mixed));
            }
            let tests = std::iter::once(first).chain(more.into_iter().map(|(_, test)| test)).collect();
            Condition { quantifier, joint, tests, span: span_of(extra.slice()) }
        })
        .labelled(Label::Condition);
    roomy(condition.boxed())
}

/// A condition before a block: where it cannot be read, the block still is.
pub(super) fn condition_before_block<'t>(condition: Rule<'t, Condition>) -> Rule<'t, Condition> {
    condition.recover_with(via_parser(skip_to_block().map(no_condition))).boxed()
}

/// What stands for a condition that could not be read.
pub(super) fn no_condition(span: Span) -> Condition {
    Condition { quantifier: None, joint: Joint::And, tests: Vec::new(), span }
}

/// A formula and what is asked of it.
fn test<'t>(what: Rule<'t, Expr>, formula: Rule<'t, Expr>) -> Rule<'t, Test> {
    let meets = word(Word::Meets)
        .to(false)
        .or(word(Word::Misses).to(true))
        .then(name())
        .then(word(Word::At).ignore_then(formula.clone()).or_not())
        .map(|((misses, spec), at)| Relation::Meets { misses, spec, at });
    let is = word(Word::Is)
        .or(word(Word::Are))
        .ignore_then(word(Word::Not).or_not())
        .then(answers())
        .then(word(Word::Within).ignore_then(paired(Where::Anywhere)).or_not())
        .map(|((not, values), within)| Relation::Is { not: not.is_some(), values, within });
    let relation = choice((meets, bounded(formula.clone()).map(Relation::Band), is)).labelled(Label::Test);
    let relation = roomy(relation.boxed());
    let test = what.then(relation).validate(|(what, relation), extra, emitter| {
        let kind = match (relation, what) {
            (Relation::Meets { misses, spec, at }, what) => TestKind::Meets { what, misses, spec, at },
            (Relation::Band(band), what) => TestKind::Band { what, band },
            (Relation::Is { not, values, within }, what) => match named(what) {
                Ok((name, at)) => TestKind::Is { name, at, not, values, within },
                Err(span) => {
                    emitter.emit(Mistake::said(extra.span(), Saying::FormulaIs));
                    let name = Name { text: String::new(), span };
                    TestKind::Is { name, at: None, not, values, within }
                }
            },
        };
        Test { kind, span: span_of(extra.slice()) }
    });
    roomy(test.boxed())
}

/// What `is` asks about: a name, or a name at one place; of anything else where it stands.
fn named(what: Expr) -> Result<(Name, Option<Name>), Span> {
    match what {
        Expr::Name(name) => Ok((name, None)),
        Expr::At(inner, at) => match *inner {
            Expr::Name(name) => Ok((name, Some(at))),
            other => Err(other.span().to(at.span)),
        },
        other => Err(other.span()),
    }
}

/// `within 0 ± 12 V`, `at least 85 °C`, `exactly 5`; the band is left where the formulas of two tests would meet.
pub(super) fn bounded<'t>(formula: Rule<'t, Expr>) -> Rule<'t, Band> {
    let within = word(Word::Within).ignore_then(band(formula.clone()));
    let at = word(Word::At);
    let side = choice((
        at.clone().then(word(Word::Least)).ignore_then(formula.clone()).map(BandForm::AtLeast),
        at.then(word(Word::Most)).ignore_then(formula.clone()).map(BandForm::AtMost),
        word(Word::Above).ignore_then(formula.clone()).map(BandForm::Above),
        word(Word::Below).ignore_then(formula).map(BandForm::Below),
        word(Word::Exactly).ignore_then(amount(Where::Anywhere)).map(BandForm::Exactly),
    ));
    let second = two_sided()
        .map_with(|form, extra| plain(form, extra.slice()))
        .delimited_by(sign(TokenKind::OpenParen), sign(TokenKind::CloseParen));
    let side = side.map_with(|form, extra| plain(form, extra.slice())).then(second.or_not()).map_with(
        |(band, second), extra| {
            lifted(Band { second: second.map(Box::new), span: span_of(extra.slice()), ..band })
        },
    );
    roomy(roomy(within.boxed()).or(roomy(side.boxed())).boxed())
}

fn plain(form: BandForm, tokens: &[Tok<'_>]) -> Band {
    Band { form, target: None, second: None, span: span_of(tokens) }
}

/// `dark or flickers`, `k9, k9h`: after `or` a name is another value unless a new test begins with it.
fn answers<'t>() -> impl Parser<'t, Input<'t>, Vec<Name>, Extra> + Clone + 't {
    let goes_on = token(Expected::default(), |next| {
        begins_test(next)
            || next.is(Word::Of)
            || matches!(
                next.kind,
                TokenKind::Plus | TokenKind::Minus | TokenKind::Times | TokenKind::Over | TokenKind::Unit
            )
    });
    let more = sign(TokenKind::Comma)
        .ignore_then(value())
        .or(word(Word::Or).ignore_then(value()).then_ignore(goes_on.not()));
    value()
        .then(more.repeated().collect::<Vec<_>>())
        .map(|(first, more)| std::iter::once(first).chain(more).collect())
}
