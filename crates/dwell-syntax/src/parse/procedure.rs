//! Procedures and their parts.

use chumsky::prelude::*;

use super::block::{Parts, Piece, arms, assemble, body, readable};
use super::case::case;
use super::input::{Extra, Input, Rule, Tok, roomy, span_of};
use super::keep::keep;
use super::lost::head::{lost_before_title, lost_part};
use super::lost::{must, or_lost_name};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::{count, date, head, name, sign, text, token, trailing_text, values, word};
use super::recovery::{skip_line, skip_part, skip_to_block};
use super::state::{persons, state_line};
use crate::lex::TokenKind;
use crate::tree::{
    Block, Choice, Condition, DeclarationKind, Expr, Name, Need, Part, Procedure, Span, StateOf, Statement,
    StatementKind, Step,
};
use crate::words::Word;

/// A part of a procedure, or one statement among them.
#[derive(Clone)]
enum Entry {
    Part(Part),
    Piece(Piece),
}

/// `procedure name "title" { … }`; `named` reads the word and the name.
pub(super) fn procedure<'t>(
    named: Rule<'t, Name>,
    formula: &Rule<'t, Expr>,
    condition: &Rule<'t, Condition>,
) -> Rule<'t, DeclarationKind> {
    let body = body(formula, condition);
    let parts = Parts {
        formula: formula.clone(),
        condition: condition.clone(),
        body: body.clone(),
        arms: arms(body.clone()),
    };
    let entry = choice((
        revision(),
        withdrawn(),
        part(Word::Decide)
            .ignore_then(word(Word::Guarded).to(true).or(word(Word::Simple).to(false)))
            .map_with(|guarded, extra| Part::Decide { guarded, span: span_of(extra.slice()) })
            .boxed(),
        part(Word::Applies)
            .then(must(Word::To, |next| next.is_name()))
            .ignore_then(name())
            .then(values())
            .map(|(name, values)| Part::Applies(Choice { name, values }))
            .boxed(),
        roomy(needs()),
        roomy(leaves()),
        roomy(keep(&parts).map_with(|keep, extra| Part::Keep(keep, span_of(extra.slice()))).boxed()),
        roomy(step(body.clone())),
        roomy(restore(body.clone())),
        roomy(case()),
        roomy(without_its_word(body)),
    ))
    .labelled(Label::Part)
    .map(Entry::Part)
    .or(token(Expected::label(Label::Part), |next| !begins_only_a_part(next))
        .rewind()
        .ignore_then(readable(&parts))
        .map(Entry::Piece))
    .recover_with(via_parser(skip_part().map(|span| Entry::Piece(Piece::Broken(span)))));
    let block = roomy(entry.boxed())
        .map_with(|entry, extra| (entry, extra.span()))
        .repeated()
        .collect::<Vec<_>>()
        .delimited_by(sign(TokenKind::OpenBrace), sign(TokenKind::CloseBrace))
        .validate(|entries, extra, emitter| {
            let mut parts = Vec::with_capacity(entries.len());
            // After something out of place, more of the same is one mistake: most often a `{` is missing above.
            let mut told = false;
            for (entry, span) in entries {
                let piece = match entry {
                    Entry::Part(part) => {
                        parts.push(part);
                        told = false;
                        continue;
                    }
                    Entry::Piece(piece) => piece,
                };
                told |= matches!(piece, Piece::Broken(_));
                let mut orphan = None;
                let statements =
                    assemble(vec![piece], |span| orphan = Some(Mistake::said(span, Saying::Orphan)));
                let loose = statements.iter().any(|statement| !stands_alone(statement));
                let mistake = orphan.or(loose.then(|| Mistake::said(span, Saying::Loose)));
                if let Some(mistake) = mistake {
                    if !told {
                        emitter.emit(mistake);
                    }
                    told = true;
                }
                parts.extend(statements.into_iter().map(Part::Statement));
            }
            (parts, span_of(extra.slice()))
        })
        .boxed();
    let block = block.clone().recover_with(via_parser(skip_to_block().ignore_then(block)));
    named
        .then(trailing_text())
        .then(block)
        .map(|((name, title), (parts, body)): (_, (Vec<Part>, Span))| {
            DeclarationKind::Procedure(Box::new(Procedure { name, title, parts, body }))
        })
        .boxed()
}

/// Whether a part of a procedure begins here and nothing else, so that it is no verb.
fn begins_only_a_part(next: &Tok<'_>) -> bool {
    next.word.is_some_and(|word| word.begins_part() && word != Word::Keep)
}

/// A block that has lost its word: states that are needed, or else statements.
fn without_its_word<'t>(body: Rule<'t, Block>) -> Rule<'t, Part> {
    let needs = lost_part().filter(|states| *states).ignore_then(needs_list());
    let needs = needs.map_with(|needs, extra| Part::Needs(needs, span_of(extra.slice())));
    let rest = lost_part()
        .filter(|states| !*states)
        .ignore_then(body)
        .map_with(|block, extra| Part::Restore { block, signed: 0, span: span_of(extra.slice()) });
    needs.or(rest).boxed()
}

/// Whether a statement may stand among the parts of a procedure (what was not read is told of elsewhere).
fn stands_alone(statement: &Statement) -> bool {
    matches!(
        statement.kind,
        StatementKind::Caution { .. }
            | StatementKind::Note(_)
            | StatementKind::Waive { .. }
            | StatementKind::Broken
    )
}

/// `revision 4 on 2031-02-11 "…"`.
fn revision<'t>() -> Rule<'t, Part> {
    part(Word::Revision)
        .ignore_then(count())
        .then_ignore(must(Word::On, |next| next.kind == TokenKind::Date))
        .then(date())
        .then(trailing_text())
        .map_with(|((number, date), why), extra| Part::Revision {
            number,
            date,
            why,
            span: span_of(extra.slice()),
        })
        .boxed()
}

/// `withdrawn on 2031-05-01 "…"`.
fn withdrawn<'t>() -> Rule<'t, Part> {
    part(Word::Withdrawn)
        .then(must(Word::On, |next| next.kind == TokenKind::Date))
        .ignore_then(date().then(text()))
        .map(|(date, why)| Part::Withdrawn(date, why))
        .boxed()
}

/// The word of a part; one that is nearly it is taken for it, since no verb can stand here.
fn part<'t>(word: Word) -> impl Parser<'t, Input<'t>, super::input::Tok<'t>, Extra> + Clone + 't {
    head(word, |word| {
        word.begins_part() || matches!(word, Word::Danger | Word::Warning | Word::Caution | Word::Notice)
    })
}

/// `needs { … }`.
fn needs<'t>() -> Rule<'t, Part> {
    part(Word::Needs)
        .ignore_then(needs_list())
        .map_with(|needs, extra| Part::Needs(needs, span_of(extra.slice())))
        .boxed()
}

/// `{ engine is stopped  battery is charged by battery-check }`.
fn needs_list<'t>() -> Rule<'t, Vec<Need>> {
    let by = word(Word::By).ignore_then(name()).or_not();
    list(state_line().then(by).map(|(state, by)| Need { state, by }).boxed())
}

/// `leaves { … }`.
fn leaves<'t>() -> Rule<'t, Part> {
    part(Word::Leaves)
        .ignore_then(list::<StateOf>(state_line()))
        .map_with(|states, extra| Part::Leaves(states, span_of(extra.slice())))
        .boxed()
}

/// States between braces, one after the other; a comma between them is no harm.
fn list<'t, T: Clone + 't>(one: Rule<'t, T>) -> Rule<'t, Vec<T>> {
    let block = one
        .then_ignore(sign(TokenKind::Comma).or_not())
        .map(Some)
        .recover_with(via_parser(skip_line().map(|_| None)))
        .repeated()
        .collect::<Vec<_>>()
        .delimited_by(sign(TokenKind::OpenBrace), sign(TokenKind::CloseBrace))
        .map(|entries| entries.into_iter().flatten().collect::<Vec<_>>())
        .boxed();
    block.clone().recover_with(via_parser(skip_to_block().ignore_then(block))).boxed()
}

/// `signed`, `signed twice`: how many sign; none where it does not stand.
fn signed<'t>() -> impl Parser<'t, Input<'t>, u8, Extra> + Clone + 't {
    persons().or_not().map(Option::unwrap_or_default)
}

/// `step tension "Check the belt tension" signed { … }`.
fn step<'t>(body: Rule<'t, Block>) -> Rule<'t, Part> {
    part(Word::Step)
        .ignore_then(or_lost_name())
        .or(lost_before_title(Word::Step))
        .then(trailing_text())
        .then(signed())
        .then(body)
        .map_with(|(((name, title), signed), block), extra| {
            Part::Step(Step { name, title, signed, block, span: span_of(extra.slice()) })
        })
        .boxed()
}

/// `restore signed twice { … }`.
fn restore<'t>(body: Rule<'t, Block>) -> Rule<'t, Part> {
    part(Word::Restore)
        .ignore_then(signed())
        .then(body)
        .map_with(|(signed, block), extra| Part::Restore { block, signed, span: span_of(extra.slice()) })
        .boxed()
}
