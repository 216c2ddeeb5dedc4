//! Declarations and the file they make.

use chumsky::prelude::*;

use super::condition::condition;
use super::formula::formula;
use super::input::{Rule, roomy, span_of};
use super::line::{HandlingLine, braced, each_place, handling_line, line};
use super::mistake::{Expected, Label};
use super::name::{head, level, name, names, sign, text, token, trailing_text, values};
use super::procedure::procedure;
use super::recovery::skip_declaration;
use super::spec::{series, spec, table};
use crate::lex::TokenKind;
use crate::tree::{
    Choice, Declaration, DeclarationKind, Expr, File, Handling, Hazard, Item, Line, Quantity, Tool,
};
use crate::words::Word;

/// A whole file.
pub(super) fn file<'t>() -> Rule<'t, File> {
    let formula = formula();
    let condition = condition(formula.clone());
    let of = Word::begins_declaration;
    let kind = choice((
        roomy(head(Word::Use, of).ignore_then(text()).map(DeclarationKind::Use).boxed()),
        roomy(head(Word::Handling, of).ignore_then(handling(&formula)).boxed()),
        roomy(head(Word::Item, of).ignore_then(item(&formula)).boxed()),
        roomy(head(Word::Quantity, of).ignore_then(quantity(&formula)).boxed()),
        roomy(head(Word::Spec, of).ignore_then(spec(&formula)).boxed()),
        roomy(head(Word::Table, of).ignore_then(table(&formula)).boxed()),
        roomy(head(Word::Series, of).ignore_then(series(&formula)).boxed()),
        roomy(head(Word::Tool, of).ignore_then(tool(&formula)).boxed()),
        roomy(head(Word::Hazard, of).ignore_then(hazard()).boxed()),
        roomy(head(Word::Variant, of).ignore_then(named_values()).map(DeclarationKind::Variant).boxed()),
        roomy(head(Word::Positions, of).ignore_then(named_values()).map(DeclarationKind::Positions).boxed()),
        roomy(head(Word::Procedure, of).ignore_then(procedure(&formula, &condition)).boxed()),
    ));
    kind.map_with(|kind, extra| Declaration { kind, span: span_of(extra.slice()) })
        .labelled(Label::Declaration)
        .recover_with(via_parser(
            skip_declaration().map(|span| Declaration { kind: DeclarationKind::Broken, span }),
        ))
        .repeated()
        .collect()
        .map(|declarations| File { declarations })
        .then_ignore(end())
        .boxed()
}

/// `name: value, value`.
fn named_values<'t>() -> Rule<'t, Choice> {
    name()
        .then_ignore(sign(TokenKind::Colon))
        .then(values())
        .map(|(name, values)| Choice { name, values })
        .boxed()
}

/// `handling hose { states … }`, after its word.
fn handling<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    name()
        .then(braced(handling_line(formula)))
        .map(|(name, lines)| {
            let mut handling =
                Handling { name, states: Vec::new(), transitions: Vec::new(), lines: Vec::new() };
            for line in lines {
                match line {
                    HandlingLine::States(states) => handling.states.extend(states),
                    HandlingLine::Transition(transition) => handling.transitions.push(transition),
                    HandlingLine::Line(line) => handling.lines.push(line),
                }
            }
            DeclarationKind::Handling(handling)
        })
        .boxed()
}

/// The lines between braces, where there are any.
fn own_lines<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, Vec<Line>> {
    let opens = token(Expected::kind(TokenKind::OpenBrace), |next| next.kind == TokenKind::OpenBrace);
    opens.rewind().ignore_then(braced(line(formula))).or_not().map(Option::unwrap_or_default).boxed()
}

/// `item engine: startable, heatable at each … "engine" { … }`, after its word.
fn item<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    name()
        .then_ignore(sign(TokenKind::Colon))
        .then(names())
        .then(each_place())
        .then(trailing_text())
        .then(own_lines(formula))
        .map(|((((name, handlings), at_each), label), lines)| {
            DeclarationKind::Item(Item { name, handlings, at_each, label, lines })
        })
        .boxed()
}

/// `quantity toe: angle at each front-wheel "…" { … }`, after its word.
fn quantity<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    name()
        .then_ignore(sign(TokenKind::Colon))
        .then(name())
        .then(each_place())
        .then(trailing_text())
        .then(own_lines(formula))
        .map(|((((name, kind), at_each), label), lines)| {
            DeclarationKind::Quantity(Quantity { name, kind, at_each, label, lines })
        })
        .boxed()
}

/// `tool belt-meter: clip-on "belt tension meter" { … }`, after its word.
fn tool<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    name()
        .then_ignore(sign(TokenKind::Colon))
        .then(names())
        .then(trailing_text())
        .then(own_lines(formula))
        .map(|(((name, handlings), label), lines)| {
            DeclarationKind::Tool(Tool { name, handlings, label, lines })
        })
        .boxed()
}

/// `hazard exhaust-gas: warning "…"`, after its word.
fn hazard<'t>() -> Rule<'t, DeclarationKind> {
    name()
        .then_ignore(sign(TokenKind::Colon))
        .then(level())
        .then(trailing_text())
        .map(|((name, level), text)| DeclarationKind::Hazard(Hazard { name, level, text }))
        .boxed()
}
