//! Formulas: sums of products of readings and numbers. Their depth is bounded before parsing; what stands in front of a value is read in a loop.

use chumsky::prelude::*;

use super::amount::{Where, number_of, paired, unit};
use super::input::{Extra, Input, Place, Rule, Tok, roomy, span_of};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::{at_spot, fold_of, name, sign, token, word};
use crate::lex::TokenKind;
use crate::tree::{Amount, Expr, Fold, Function, Operator, Span};
use crate::words::Word;

/// What stands in front of a value.
enum Prefix {
    /// `highest of`.
    Fold(Fold, Span),
    /// `sine of`.
    Function(Function, Span),
    /// `70 % of`.
    Share(Amount),
}

/// A formula.
pub(super) fn formula<'t>() -> Rule<'t, Expr> {
    recursive(|formula| {
        let operand = operand(formula);
        let times = sign(TokenKind::Times).to(Operator::Times).or(sign(TokenKind::Over).to(Operator::Over));
        let product = roomy(operand.clone().foldl(times.then(operand).repeated(), join).boxed());
        product.clone().foldl(plus_or_minus().then(product).repeated(), join)
    })
    .labelled(Label::Formula)
    .boxed()
}

fn join(left: Expr, (operator, right): (Operator, Expr)) -> Expr {
    Expr::Binary(operator, Box::new(left), Box::new(right))
}

/// A value with what stands in front of it: `highest of`, `70 % of`.
fn operand<'t>(formula: impl Parser<'t, Input<'t>, Expr, Extra> + Clone + 't) -> Rule<'t, Expr> {
    prefix()
        .repeated()
        .collect::<Vec<_>>()
        .then(value(formula))
        .map(|(prefixes, value)| {
            prefixes.into_iter().rev().fold(value, |value, prefix| match prefix {
                Prefix::Fold(fold, span) => Expr::Fold(fold, Box::new(value), span),
                Prefix::Function(function, span) => Expr::Function(function, Box::new(value), span),
                Prefix::Share(share) => Expr::Share(share, Box::new(value)),
            })
        })
        .boxed()
}

/// A fold or a share, if `of` follows it.
fn prefix<'t>() -> impl Parser<'t, Input<'t>, Prefix, Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let before = place.cursor();
        let found = place.next();
        let prefix = found.and_then(|found| match fold_of(&found) {
            Some(fold) => Some(Prefix::Fold(fold, found.span)),
            None if found.is(Word::Sine) => Some(Prefix::Function(Function::Sine, found.span)),
            None if found.is(Word::Root) => Some(Prefix::Function(Function::Root, found.span)),
            None if found.kind == TokenKind::Number => {
                let unit = place
                    .peek()
                    .filter(|next| next.kind == TokenKind::Unit)
                    .and_then(|_| unit(place, Where::Anywhere));
                let span = unit.as_ref().map_or(found.span, |unit| found.span.to(unit.span));
                Some(Prefix::Share(Amount { number: number_of(&found), unit, second: None, span }))
            }
            None => None,
        });
        match (prefix, place.peek()) {
            (Some(prefix), Some(next)) if next.is(Word::Of) => {
                place.skip();
                Ok(prefix)
            }
            _ => Err(Mistake::expected(place.span_since(&before), Expected::default())),
        }
    })
}

/// A number, a name with its place, `first tension`, `target of clearance`, a formula in parentheses.
fn value<'t>(formula: impl Parser<'t, Input<'t>, Expr, Extra> + Clone + 't) -> Rule<'t, Expr> {
    let first = word(Word::First).ignore_then(word_that_is_read()).map(Expr::First);
    let target = word(Word::Target).then(word(Word::Of)).ignore_then(name()).map(Expr::TargetOf);
    let group = formula
        .delimited_by(sign(TokenKind::OpenParen), sign(TokenKind::CloseParen))
        .map_with(|inner, extra| Expr::Group(Box::new(inner), span_of(extra.slice())));
    let placed = choice((target, first, name().map(Expr::Name), group))
        .foldl(at_spot().repeated().at_most(2), |inner, place| Expr::At(Box::new(inner), place));
    paired(Where::Anywhere).map(Expr::Amount).or(placed).boxed()
}

/// A name after `first` that is not the test on a reading called `first`.
fn word_that_is_read<'t>() -> impl Parser<'t, Input<'t>, crate::tree::Name, Extra> + Clone + 't {
    token(Expected::label(Label::Name), |found: &Tok<'t>| found.is_name() && !begins_test(found))
        .map(|found| found.name())
}

/// Whether a test can begin with this word.
pub(super) fn begins_test(found: &Tok<'_>) -> bool {
    matches!(
        found.word,
        Some(
            Word::Meets
                | Word::Misses
                | Word::Within
                | Word::Above
                | Word::Below
                | Word::Exactly
                | Word::At
                | Word::Is
                | Word::Are
        )
    )
}

/// `+` or `-`; a number that carries its own sign where one of them must stand is said to lack a blank.
fn plus_or_minus<'t>() -> impl Parser<'t, Input<'t>, Operator, Extra> + Clone + 't {
    let glued = custom(|place: &mut Place<'t, '_>| {
        let before = place.cursor();
        let next = place.peek().filter(|next| matches!(next.kind, TokenKind::Number | TokenKind::Compound));
        let operator = next.and_then(|next| match next.text.chars().next() {
            Some('-') => Some(Operator::Minus),
            Some('+') => Some(Operator::Plus),
            _ => None,
        });
        match operator {
            Some(operator) => {
                let ahead = place.save();
                place.skip();
                let span = place.span_since(&before);
                place.rewind(ahead);
                place.emit(Mistake::said(span, Saying::GluedSign));
                Ok(operator)
            }
            None => Err(Mistake::expected(place.span_since(&before), Expected::default())),
        }
    });
    choice((sign(TokenKind::Plus).to(Operator::Plus), sign(TokenKind::Minus).to(Operator::Minus), glued))
}
