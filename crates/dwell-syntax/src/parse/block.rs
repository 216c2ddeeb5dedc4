//! Blocks: statements between braces, with what could not be read left out and every `otherwise` where it belongs.

use chumsky::prelude::*;
use chumsky::span::SimpleSpan;

use super::condition::condition_before_block;
use super::handle::handle;
use super::input::{Extra, Input, Place, Rule, roomy, span_of};
use super::keep::keep;
use super::lost::arm::otherwise;
use super::lost::verb::is_plain;
use super::measure::measure;
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::{name, sign, token, word};
use super::recovery::{skip_statement, skip_to_block};
use super::statement;
use crate::lex::TokenKind;
use crate::tree::{Arm, Block, Condition, Expr, Side, Span, Statement, StatementKind};
use crate::words::Word;

/// The productions that statements share.
#[derive(Clone)]
pub(super) struct Parts<'t> {
    pub(super) formula: Rule<'t, Expr>,
    pub(super) condition: Rule<'t, Condition>,
    /// A block, also after something that could not be read.
    pub(super) body: Rule<'t, Block>,
    pub(super) arms: Rule<'t, Vec<Arm>>,
}

/// One piece of a block.
#[derive(Clone)]
pub(super) enum Piece {
    Whole(Statement),
    /// `otherwise` that stands by itself; the place of the word in the tokens.
    Orphan(Vec<Arm>, SimpleSpan<usize>),
    Broken(Span),
}

/// A block, which is all that is recursive among statements.
pub(super) fn body<'t>(formula: &Rule<'t, Expr>, condition: &Rule<'t, Condition>) -> Rule<'t, Block> {
    let (formula, condition) = (formula.clone(), condition.clone());
    let block = recursive(move |block| {
        let body = or_after_skipping(block);
        let arms = arms(body.clone());
        let parts = Parts { formula, condition, body, arms };
        piece(&parts)
            .repeated()
            .collect::<Vec<_>>()
            .delimited_by(sign(TokenKind::OpenBrace), sign(TokenKind::CloseBrace))
            .validate(|pieces, extra, emitter| {
                let statements = assemble(pieces, |span| emitter.emit(Mistake::said(span, Saying::Orphan)));
                Block { statements, span: span_of(extra.slice()) }
            })
    });
    or_after_skipping(block)
}

/// A block, or the next block on the line after what does not belong there.
fn or_after_skipping<'t>(block: impl Parser<'t, Input<'t>, Block, Extra> + Clone + 't) -> Rule<'t, Block> {
    roomy(block.clone().recover_with(via_parser(skip_to_block().ignore_then(block))).boxed())
}

/// The arms of `otherwise`.
pub(super) fn arms<'t>(body: Rule<'t, Block>) -> Rule<'t, Vec<Arm>> {
    let side = choice((
        word(Word::No).then(word(Word::Reading)).to(Side::NoReading),
        word(Word::Low).to(Side::Low),
        word(Word::High).to(Side::High),
    ));
    let of = side.then(name().or_not());
    let arms = otherwise()
        .ignore_then(of.or_not())
        .then(body)
        .map_with(|(side, block), extra| {
            let (side, of) = side.map_or((None, None), |(side, of)| (Some(side), of));
            Arm { side, of, block, span: span_of(extra.slice()) }
        })
        .repeated()
        .collect();
    roomy(arms.boxed())
}

/// A statement, an orphan, or what is skipped.
fn piece<'t>(parts: &Parts<'t>) -> Rule<'t, Piece> {
    roomy(readable(parts).recover_with(via_parser(skip_statement().map(Piece::Broken))).boxed())
}

/// A statement or an orphan.
pub(super) fn readable<'t>(parts: &Parts<'t>) -> Rule<'t, Piece> {
    let arms = parts.arms.clone();
    let orphan = token(Expected::default(), |found| found.is(Word::Otherwise)).rewind().ignore_then(
        arms.filter(|arms| !arms.is_empty()).map_with(|arms, extra| {
            let span: SimpleSpan<usize> = extra.span();
            Piece::Orphan(arms, SimpleSpan::from(span.start..span.start + 1))
        }),
    );
    statement(parts).or(orphan).boxed()
}

/// A statement.
fn statement<'t>(parts: &Parts<'t>) -> Rule<'t, Piece> {
    let condition = condition_before_block(parts.condition.clone());
    let one = |mine: Word| move |word: Word| word == mine;
    let calculates = |word| matches!(word, Word::Let | Word::Read | Word::Choose);
    let goes = |word| matches!(word, Word::Perform | Word::Refer | Word::End | Word::Back | Word::On);
    let measure = roomy(measure(parts.condition.clone()).map(StatementKind::Measure).boxed());
    let branches = roomy(statement::branches(parts.formula.clone(), condition.clone(), parts.body.clone()));
    let for_each = roomy(statement::for_each(condition, parts.body.clone()));
    let keep = roomy(keep(parts).map(StatementKind::Keep).boxed());
    let keyword = choice((
        ahead(begins_action).ignore_then(roomy(statement::actions())),
        ahead(one(Word::Measure)).ignore_then(measure),
        ahead(one(Word::Expect)).ignore_then(roomy(statement::expect(parts))),
        ahead(one(Word::Adjust)).ignore_then(roomy(statement::adjust(parts))),
        ahead(one(Word::If)).ignore_then(branches),
        ahead(one(Word::For)).ignore_then(for_each),
        ahead(calculates).ignore_then(roomy(statement::calculations(parts))),
        ahead(goes).ignore_then(roomy(statement::ways(parts))),
        ahead(one(Word::Keep)).ignore_then(keep),
    ));
    let keyword = no_plain_verb().ignore_then(roomy(keyword.boxed()));
    keyword
        .map_with(|kind, extra| Piece::Whole(Statement { kind, span: span_of(extra.slice()) }))
        .or(roomy(handle(parts.formula.clone())))
        .labelled(Label::Statement)
        .boxed()
}

/// Whether a word begins a statement of [`statement::actions`].
fn begins_action(word: Word) -> bool {
    let says = matches!(word, Word::Danger | Word::Warning | Word::Caution | Word::Notice | Word::Note);
    says || matches!(word, Word::Do | Word::Ask | Word::Wait | Word::Cause | Word::Waive)
}

/// Goes on only where a word that fits is next or where a keyword may be lost or misspelt, so that productions that cannot
/// begin here are not tried one by one. It names nothing that could stand here: the label of the whole does.
fn ahead<'t>(fits: impl Fn(Word) -> bool + Clone + 't) -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        let word = place.peek().and_then(|next| next.word);
        if word.is_none_or(|word| fits(word) || !word.begins_statement()) {
            return Ok(());
        }
        let before = place.cursor();
        place.skip();
        Err(Mistake::expected(place.span_since(&before), Expected::default()))
    })
}

/// Goes on unless a user's verb with its item stands here, beyond doubt.
fn no_plain_verb<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let begins = place.peek().and_then(|next| next.word).is_some_and(Word::begins_statement);
        if begins || !is_plain(place) {
            return Ok(());
        }
        let before = place.cursor();
        place.skip();
        Err(Mistake::expected(place.span_since(&before), Expected::default()))
    })
}

/// Puts every `otherwise` with its statement; one that has none is told of, unless what stood before was not read.
pub(super) fn assemble(pieces: Vec<Piece>, mut orphan: impl FnMut(SimpleSpan<usize>)) -> Vec<Statement> {
    let mut statements: Vec<Statement> = Vec::with_capacity(pieces.len());
    let mut broken = false;
    for piece in pieces {
        match piece {
            Piece::Whole(statement) => {
                statements.push(statement);
                broken = false;
            }
            Piece::Broken(span) => {
                statements.push(Statement { kind: StatementKind::Broken, span });
                broken = true;
            }
            Piece::Orphan(arms, span) if !broken => {
                orphan(span);
                let first = arms.first().map_or(Span::default(), |arm| arm.span);
                let span = arms.last().map_or(first, |arm| first.to(arm.span));
                statements.push(Statement { kind: StatementKind::Broken, span });
            }
            Piece::Orphan(arms, _) => {
                let taker = statements.iter_mut().rev().find_map(|statement| arms_of(&mut statement.kind));
                if let Some(mine) = taker
                    && mine.is_empty()
                {
                    mine.extend(arms);
                }
            }
        }
    }
    statements
}

/// The arms of a statement that can have some.
fn arms_of(kind: &mut StatementKind) -> Option<&mut Vec<Arm>> {
    match kind {
        StatementKind::Expect { otherwise, .. }
        | StatementKind::Adjust { otherwise, .. }
        | StatementKind::Perform { otherwise, .. }
        | StatementKind::Back { otherwise, .. }
        | StatementKind::Choose { otherwise, .. } => Some(otherwise),
        StatementKind::Keep(keep) => Some(&mut keep.otherwise),
        _ => None,
    }
}
