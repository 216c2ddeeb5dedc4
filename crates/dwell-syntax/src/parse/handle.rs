//! A verb with its item: the statement that has no keyword.

use chumsky::prelude::*;

use super::amount::band;
use super::block::Piece;
use super::input::{Rule, Tok, span_of};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::trailing_text;
use super::name::{at_each, at_spot, name, names, token, word};
use super::near::within;
use crate::lex::TokenKind;
use crate::tree::{Expr, Handle, Name, Statement, StatementKind, To};
use crate::words::{Group, Word};

/// What can follow the item, in any order.
enum More {
    To(To),
    AtEach(Name),
    At(Name),
    With(Vec<Name>),
}

/// `tighten bolt to bolt-torque at each stud with wrench "…"`.
pub(super) fn handle<'t>(formula: Rule<'t, Expr>) -> Rule<'t, Piece> {
    let verb = token(Expected::label(Label::Statement), is_verb);
    let item =
        token(Expected::label(Label::ItemOnLine), |found| found.kind == TokenKind::Word && found.is_name());
    let begins_band = token(Expected::label(Label::Band), |next| {
        matches!(next.kind, TokenKind::Number | TokenKind::Compound)
            || matches!(next.word, Some(Word::At | Word::Within | Word::Above | Word::Below | Word::Exactly))
    });
    let target = begins_band.rewind().ignore_then(band(formula)).map(To::Band).or(name().map(To::Name));
    let more = choice((
        word(Word::To).ignore_then(target).map(More::To),
        at_each().map(More::AtEach),
        at_spot().map(More::At),
        word(Word::With).ignore_then(names()).map(More::With),
    ));
    verb.then(item)
        .then(more.repeated().collect::<Vec<_>>())
        .then(trailing_text())
        .validate(|(((verb, item), more), text), extra, emitter| {
            let span = span_of(extra.slice());
            if let Some(meant) = misspelt(&verb, &item) {
                let at = extra.span().start;
                emitter.emit(Mistake::said((at..at + 1).into(), Saying::Misspelt(meant)));
                return Piece::Broken(span);
            }
            let mut handle = Handle {
                verb: verb.name(),
                item: item.name(),
                to: None,
                at_each: None,
                at: None,
                with: Vec::new(),
                text,
            };
            for one in more {
                match one {
                    More::To(to) => handle.to = Some(to),
                    More::AtEach(positions) => handle.at_each = Some(positions),
                    More::At(place) => handle.at = Some(place),
                    More::With(tools) => handle.with.extend(tools),
                }
            }
            Piece::Whole(Statement { kind: StatementKind::Handle(handle), span })
        })
        .boxed()
}

/// Whether a word can be a user's verb: first on its line, no hard word, no word that begins a statement or a step.
fn is_verb(found: &Tok<'_>) -> bool {
    found.kind == TokenKind::LineWord
        && found.is_name()
        && !found.word.is_some_and(|word| {
            word.begins_statement()
                || matches!(word, Word::Step | Word::Restore | Word::Procedure | Word::Case)
        })
}

/// The keyword that a verb is a slip of the pen for, where that is beyond doubt.
fn misspelt(verb: &Tok<'_>, item: &Tok<'_>) -> Option<Word> {
    if verb.word.is_some() {
        return None;
    }
    let ends = item.word.is_some_and(|word| word.group() == Group::Outcome);
    if ends && within(verb.text, Word::End.text(), 2) {
        return Some(Word::End);
    }
    crate::words::WORDS
        .iter()
        .copied()
        .find(|word| word.begins_statement() && word.text().len() >= 5 && within(verb.text, word.text(), 1))
}
