//! Words that begin a statement other than a test, misspelt or lost before what can only follow them.

use chumsky::prelude::*;

use super::super::input::{Extra, Input, Place, Tok};
use super::super::mistake::{Expected, Label, Mistake, Saying};
use super::super::name::{fold_of, name, word};
use super::super::near::nearest;
use super::ahead::{
    ahead, asks, begins_nothing, block_on_line, is, is_going_on, is_word, nearly, nearly_first, note,
    note_lost, note_misspelt, refused, takes,
};
use super::asked::tests;
use crate::lex::TokenKind;
use crate::tree::{Fold, Name, Span};
use crate::words::{Group, Word};

/// Nothing, where `adjust` is missing before `x to y up to …`.
pub(in crate::parse) fn lost_before_pair<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        if !place.peek().is_some_and(|what| begins_nothing(what) && !is_slip(&what)) {
            return refused(place, Expected::word(Word::Adjust));
        }
        let [_, to, limit, next] = ahead(place);
        let goes_on = is_word(next, Word::Up) || is_word(next, Word::By) || is(next, TokenKind::Comma);
        if is_word(to, Word::To) && is_going_on(limit) && goes_on {
            note_lost(place, Word::Adjust);
            return Ok(());
        }
        refused(place, Expected::word(Word::Adjust))
    })
}

/// `ask` and the name of the answer; misspelt or lost where a question follows.
pub(in crate::parse) fn ask_word<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    let lost = custom(|place: &mut Place<'t, '_>| {
        let [next, second, third] = ahead(place);
        if nearly_first(next, Word::Ask) && is_going_on(second) && asks(third) {
            note_misspelt(place, Word::Ask);
        } else if next.is_some_and(begins_nothing) && asks(second) && !is(third, TokenKind::OpenBrace) {
            note_lost(place, Word::Ask);
        } else {
            return refused(place, Expected::word(Word::Ask));
        }
        Ok(place.next().map_or_else(no_name, |named| named.name()))
    });
    word(Word::Ask).ignore_then(name()).or(lost)
}

/// `waive` and the name of the rule; lost where its reason follows.
pub(in crate::parse) fn lost_before_reason<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let [rule, because, reason] = ahead(place);
        if let Some(rule) = rule.filter(|rule| begins_nothing(*rule))
            && is_word(because, Word::Because)
            && is(reason, TokenKind::Str)
        {
            note_lost(place, Word::Waive);
            place.skip();
            return Ok(rule.name());
        }
        refused(place, Expected::word(Word::Waive))
    })
}

/// Nothing, where `end` is missing before an outcome that nothing else follows.
pub(in crate::parse) fn lost_before_outcome<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let [outcome, next] = ahead(place);
        let outcome = outcome.filter(|outcome| outcome.kind == TokenKind::LineWord);
        let known = matches!(
            outcome.and_then(|outcome| outcome.word),
            Some(Word::Passed | Word::Failed | Word::Unfinished)
        );
        let ends = next.is_none_or(|next| {
            next.first || matches!(next.kind, TokenKind::Str | TokenKind::LineStr | TokenKind::CloseBrace)
        });
        if known && ends {
            note_lost(place, Word::End);
            return Ok(());
        }
        refused(place, Expected::word(Word::End))
    })
}

/// `for`, misspelt or lost before `each` and a block.
pub(in crate::parse) fn for_word<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        if takes(place, Word::For) {
            return Ok(());
        }
        let [next, each] = ahead(place);
        match next {
            Some(_) if nearly_first(next, Word::For) && is_word(each, Word::Each) => {
                note_misspelt(place, Word::For);
            }
            Some(found) if found.first && found.is(Word::Each) && block_on_line(place).is_some() => {
                note_lost(place, Word::For);
            }
            _ => return refused(place, Expected::word(Word::For)),
        }
        Ok(())
    })
}

/// `keep` and the thing that is kept; misspelt or lost where the state or the band and a block follow.
pub(in crate::parse) fn keep_word<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    let lost = custom(|place: &mut Place<'t, '_>| {
        if !place.peek().is_some_and(begins_nothing) {
            return refused(place, Expected::word(Word::Keep));
        }
        let [next, second, third] = ahead(place);
        let held = block_on_line(place);
        if nearly_first(next, Word::Keep) && is_going_on(second) && held.is_some() {
            note_misspelt(place, Word::Keep);
        } else if is_kept(second, third, held) && !next.is_some_and(|next| is_slip(&next)) {
            note_lost(place, Word::Keep);
        } else {
            return refused(place, Expected::word(Word::Keep));
        }
        Ok(place.next().map_or_else(no_name, |kept| kept.name()))
    });
    word(Word::Keep).ignore_then(name()).or(lost)
}

/// Whether it is nearly another word that begins something here.
fn is_slip(found: &Tok<'_>) -> bool {
    let begins = |word: Word| word.begins_statement() || word.begins_part();
    found.word.is_none() && nearest(found.text, begins).is_some()
}

/// Whether what stands after a thing and before a block can only be how it is kept; `held` says whether there is a block,
/// and a text or `with` before it.
fn is_kept(second: Option<Tok<'_>>, third: Option<Tok<'_>>, held: Option<bool>) -> bool {
    let state = is_going_on(second)
        && (is(third, TokenKind::Str) || is(third, TokenKind::OpenBrace) || is_word(third, Word::With));
    match held {
        None => false,
        Some(true) => state || tests(second, third),
        Some(false) => state,
    }
}

/// `take mean`: how several values become one; either word may be misspelt, and `take` lost.
pub(in crate::parse) fn take<'t>() -> impl Parser<'t, Input<'t>, (Fold, Span), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let known = takes(place, Word::Take);
        if !known && !place.peek().is_some_and(|next| next.is_word()) {
            return refused(place, Expected::word(Word::Take));
        }
        let [next, second] = ahead(place);
        let folds = second.is_some_and(|second| !second.fresh && fold_of(&second).is_some());
        match next {
            _ if known => {}
            Some(found) if nearly(&found, Word::Take) && folds => note_misspelt(place, Word::Take),
            Some(found) if fold_of(&found).is_some() && (!found.first || is(second, TokenKind::Str)) => {
                note_lost(place, Word::Take);
            }
            _ => return refused(place, Expected::word(Word::Take)),
        }
        let [fold] = ahead(place);
        let Some(found) = fold.filter(|fold| !fold.fresh || fold_of(fold).is_some()) else {
            return refused(place, Expected::label(Label::Fold));
        };
        if let Some(fold) = fold_of(&found) {
            place.skip();
            return Ok((fold, found.span));
        }
        let near = nearest(found.text, |word| word.group() == Group::Fold);
        let Some(meant) = near.filter(|_| found.is_word() && found.word.is_none()) else {
            return refused(place, Expected::label(Label::Fold));
        };
        note(place, |span| Mistake::said(span, Saying::Misspelt(meant)));
        place.skip();
        Ok((Fold::Mean, found.span))
    })
}

fn no_name() -> Name {
    Name { text: String::new(), span: Span::default() }
}
