//! Words that begin a declaration, a part of a procedure, or a group of lines, misspelt or lost before what follows them.

use chumsky::prelude::*;

use super::super::input::{Extra, Input, Place};
use super::super::mistake::{Expected, Label, Mistake, Saying};
use super::ahead::{
    FAR, ahead, begins_nothing, block_on_line, is, is_going_on, is_word, nearly, nearly_first, note,
    note_lost, note_misspelt, refused, takes,
};
use crate::lex::TokenKind;
use crate::tree::Name;
use crate::words::{Group, Word};

/// A name with a title and a block that stands without its word `meant`.
pub(in crate::parse) fn lost_before_title<'t>(
    meant: Word,
) -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        let [next, title, block] = ahead(place);
        let named = next.filter(|next| begins_nothing(*next) && !nearly(next, Word::Case));
        let blocked = is(block, TokenKind::OpenBrace) || is_word(block, Word::Signed);
        if let Some(named) = named.filter(|_| is(title, TokenKind::Str) && blocked) {
            note_lost(place, meant);
            place.skip();
            return Ok(named.name());
        }
        refused(place, Expected::word(meant))
    })
}

/// `case`, misspelt or missing before its title.
pub(in crate::parse) fn case_word<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        if takes(place, Word::Case) {
            return Ok(());
        }
        let [next, title, block] = ahead(place);
        let titled = is(title, TokenKind::Str) && is(block, TokenKind::OpenBrace);
        match next {
            Some(next) if titled && next.kind == TokenKind::LineWord && nearly(&next, Word::Case) => {
                note_misspelt(place, Word::Case);
            }
            Some(next) if next.kind == TokenKind::LineStr && is(title, TokenKind::OpenBrace) => {
                note_lost(place, Word::Case);
            }
            _ => return refused(place, Expected::word(Word::Case)),
        }
        Ok(())
    })
}

/// Nothing, before a block that has lost its word among the parts of a procedure: whether states stand in it.
pub(in crate::parse) fn lost_part<'t>() -> impl Parser<'t, Input<'t>, bool, Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let [block, name, is_or_are] = ahead(place);
        if !is(block, TokenKind::OpenBrace) {
            return refused(place, Expected::label(Label::Part));
        }
        note(place, |span| Mistake::said(span, Saying::LostPart));
        let test = |word| is_word(is_or_are, word);
        Ok(name.is_some_and(|name| name.is_name()) && (test(Word::Is) || test(Word::Are) || test(Word::At)))
    })
}

/// A declaration's name that stands without its word `meant`, before its kind and a block: what stands there tells which.
pub(in crate::parse) fn lost_before_kind<'t>(
    meant: Word,
) -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        if let Some(named) = place
            .peek()
            .filter(|next| begins_nothing(*next) && !next.word.is_some_and(Word::begins_declaration))
            && declared(place) == Some(meant)
        {
            note_lost(place, meant);
            place.skip();
            return Ok(named.name());
        }
        refused(place, Expected::default())
    })
}

/// Which declaration `name: kind … {` begins, by what stands before its block and first in it.
fn declared(place: &mut Place<'_, '_>) -> Option<Word> {
    let [_, colon, kind] = ahead(place);
    if !is(colon, TokenKind::Colon) || !is_going_on(kind) {
        return None;
    }
    let before = place.save();
    place.skip();
    let (mut labelled, mut by) = (false, false);
    let mut first = None;
    for _ in 0..FAR {
        match place.next() {
            Some(next) if next.kind == TokenKind::OpenBrace => {
                first = place.next();
                break;
            }
            Some(next) if next.first => break,
            Some(next) => {
                labelled |= next.kind == TokenKind::Str;
                by |= next.is(Word::By);
            }
            None => break,
        }
    }
    place.rewind(before);
    let first = first?;
    match first.word {
        _ if by => Some(Word::Table),
        Some(Word::Check | Word::Adjust | Word::Not | Word::Stages | Word::Source | Word::Condition) => {
            Some(Word::Spec)
        }
        Some(Word::Measures | Word::Sets | Word::Resolution | Word::Warms | Word::Impedance) => {
            Some(Word::Tool)
        }
        Some(Word::Positive | Word::Negative | Word::Never | Word::Means | Word::Limits | Word::Moves) => {
            Some(Word::Quantity)
        }
        _ if labelled => Some(Word::Item),
        _ => None,
    }
}

/// `rows` before `when …`, misspelt or lost.
pub(in crate::parse) fn rows_word<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        if takes(place, Word::Rows) {
            return Ok(());
        }
        let [next, when] = ahead(place);
        match next {
            Some(_) if nearly_first(next, Word::Rows) && is_word(when, Word::When) => {
                note_misspelt(place, Word::Rows);
            }
            Some(found) if found.first && found.is(Word::When) && block_on_line(place).is_some() => {
                note_lost(place, Word::Rows);
            }
            _ => return refused(place, Expected::word(Word::Rows)),
        }
        Ok(())
    })
}

/// `ends` before its outcome, misspelt or lost.
pub(in crate::parse) fn ends_word<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    let is_outcome = |word: Word| word.group() == Group::Outcome;
    custom(move |place: &mut Place<'t, '_>| {
        if takes(place, Word::Ends) {
            return Ok(());
        }
        let [next, outcome] = ahead(place);
        let ended = outcome.is_some_and(|outcome| outcome.word.is_some_and(is_outcome) && !outcome.fresh);
        match next {
            Some(next) if nearly(&next, Word::Ends) && ended => note_misspelt(place, Word::Ends),
            Some(next) if next.word.is_some_and(is_outcome) && is(outcome, TokenKind::CloseBrace) => {
                note_lost(place, Word::Ends);
            }
            _ => return refused(place, Expected::word(Word::Ends)),
        }
        Ok(())
    })
}
