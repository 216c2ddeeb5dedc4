//! Declarations and the file they make.

use chumsky::prelude::*;

use super::condition::condition;
use super::formula::formula;
use super::input::{Rule, roomy, span_of};
use super::line::{HandlingLine, braced, each_place, handling_line, line};
use super::lost::head::{lost_before_kind, lost_before_title};
use super::lost::{colon, or_lost_name, to_its_block};
use super::mistake::Label;
use super::name::{head, level, sign, text, trailing_text, values};
use super::procedure::procedure;
use super::recovery::skip_declaration;
use super::spec::{series, spec, table};
use super::waiver::waivers;
use crate::lex::TokenKind;
use crate::tree::{
    Choice, Declaration, DeclarationKind, Expr, File, Handling, Hazard, Item, Line, Name, Quantity, Tool,
};
use crate::words::Word;

/// A whole file.
pub(super) fn file<'t>() -> Rule<'t, File> {
    let formula = formula();
    let condition = condition(formula.clone());
    let of = Word::begins_declaration;
    let named_procedure =
        head(Word::Procedure, of).ignore_then(or_lost_name()).or(lost_before_title(Word::Procedure));
    let whole = choice((
        roomy(head(Word::Use, of).ignore_then(text()).map(DeclarationKind::Use).boxed()),
        roomy(head(Word::Handling, of).ignore_then(handling(&formula)).boxed()),
        roomy(item(named(Word::Item), &formula)),
        roomy(quantity(named(Word::Quantity), &formula)),
        roomy(spec(named(Word::Spec), &formula)),
        roomy(table(named(Word::Table), &formula)),
        roomy(tool(named(Word::Tool), &formula)),
        roomy(procedure(named_procedure.boxed(), &formula, &condition)),
    ));
    // These have no lines of their own, and braces only for a waiver.
    let short = choice((
        roomy(head(Word::Series, of).ignore_then(series(&formula)).boxed()),
        roomy(head(Word::Hazard, of).ignore_then(hazard()).boxed()),
        roomy(head(Word::Variant, of).ignore_then(named_values()).map(DeclarationKind::Variant).boxed()),
        roomy(head(Word::Positions, of).ignore_then(named_values()).map(DeclarationKind::Positions).boxed()),
    ));
    let whole = whole.map(|kind| (kind, Vec::new()));
    whole
        .or(short.then(waivers()))
        .map_with(|(kind, waivers), extra| Declaration { kind, waivers, span: span_of(extra.slice()) })
        .labelled(Label::Declaration)
        .recover_with(via_parser(skip_declaration().map(|span| Declaration {
            kind: DeclarationKind::Broken,
            waivers: Vec::new(),
            span,
        })))
        .repeated()
        .collect()
        .map(|declarations| File { declarations })
        .then_ignore(end())
        .boxed()
}

/// The word of a declaration and its name; where the word got lost and it is plain which, the name alone.
fn named<'t>(word: Word) -> Rule<'t, Name> {
    head(word, Word::begins_declaration).ignore_then(or_lost_name()).or(lost_before_kind(word)).boxed()
}

/// `name: value, value`.
fn named_values<'t>() -> Rule<'t, Choice> {
    or_lost_name().then_ignore(colon()).then(values()).map(|(name, values)| Choice { name, values }).boxed()
}

/// `handling hose { states … }`, after its word.
fn handling<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    or_lost_name()
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

/// The handlings of an item or a tool; none where they got lost.
fn handlings<'t>() -> Rule<'t, Vec<Name>> {
    let one = or_lost_name().map(|name| if name.text.is_empty() { Vec::new() } else { vec![name] });
    let more = sign(TokenKind::Comma).ignore_then(or_lost_name()).repeated().collect::<Vec<_>>();
    one.then(more)
        .map(|(first, more)| {
            let more = more.into_iter().filter(|name| !name.text.is_empty());
            first.into_iter().chain(more).collect()
        })
        .boxed()
}

/// The lines between braces, where there are any.
fn own_lines<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, Vec<Line>> {
    to_its_block().ignore_then(braced(line(formula))).or_not().map(Option::unwrap_or_default).boxed()
}

/// `item engine: startable, heatable at each … "engine" { … }`; `named` reads the word and the name.
fn item<'t>(named: Rule<'t, Name>, formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    named
        .then_ignore(colon())
        .then(handlings())
        .then(each_place())
        .then(trailing_text())
        .then(own_lines(formula))
        .map(|((((name, handlings), at_each), label), lines)| {
            DeclarationKind::Item(Item { name, handlings, at_each, label, lines })
        })
        .boxed()
}

/// `quantity toe: angle at each front-wheel "…" { … }`; `named` reads the word and the name.
fn quantity<'t>(named: Rule<'t, Name>, formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    named
        .then_ignore(colon())
        .then(or_lost_name())
        .then(each_place())
        .then(trailing_text())
        .then(own_lines(formula))
        .map(|((((name, kind), at_each), label), lines)| {
            DeclarationKind::Quantity(Quantity { name, kind, at_each, label, lines })
        })
        .boxed()
}

/// `tool belt-meter: clip-on "belt tension meter" { … }`; `named` reads the word and the name.
fn tool<'t>(named: Rule<'t, Name>, formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    named
        .then_ignore(colon())
        .then(handlings())
        .then(trailing_text())
        .then(own_lines(formula))
        .map(|(((name, handlings), label), lines)| {
            DeclarationKind::Tool(Tool { name, handlings, label, lines })
        })
        .boxed()
}

/// `hazard exhaust-gas: warning "…"`, after its word.
fn hazard<'t>() -> Rule<'t, DeclarationKind> {
    or_lost_name()
        .then_ignore(colon())
        .then(level())
        .then(trailing_text())
        .map(|((name, level), text)| DeclarationKind::Hazard(Hazard { name, level, text }))
        .boxed()
}
