//! States, effects and conditions on states, as declarations and statements share them.

use chumsky::prelude::*;

use super::input::{Rule, span_of};
use super::name::{at_spot, first_name, name, sign, value, word};
use crate::lex::TokenKind;
use crate::tree::{Effect, Name, StateOf, When};
use crate::words::Word;

/// `engine is stopped`, `camber-bolt at left is loose`.
pub(super) fn state_of<'t>() -> Rule<'t, StateOf> {
    state_after(name().boxed())
}

/// `engine is stopped` as the first on its line.
pub(super) fn state_line<'t>() -> Rule<'t, StateOf> {
    state_after(first_name().boxed())
}

fn state_after<'t>(item: Rule<'t, Name>) -> Rule<'t, StateOf> {
    item.then(at_spot().or_not())
        .then_ignore(word(Word::Is).or(word(Word::Are)))
        .then(name())
        .map_with(|((item, at), state), extra| StateOf { item, at, state, span: span_of(extra.slice()) })
        .boxed()
}

/// States with commas between.
pub(super) fn states<'t>() -> Rule<'t, Vec<StateOf>> {
    state_of().separated_by(sign(TokenKind::Comma)).at_least(1).collect().boxed()
}

/// Hazards and states, with commas between: the name first, then whether `is` follows.
pub(super) fn effects<'t>() -> Rule<'t, Vec<Effect>> {
    let state = at_spot().or_not().then_ignore(word(Word::Is).or(word(Word::Are))).then(name());
    name()
        .then(state.or_not())
        .map_with(|(name, state), extra| match state {
            None => Effect::Hazard(name),
            Some((at, state)) => {
                Effect::State(StateOf { item: name, at, state, span: span_of(extra.slice()) })
            }
        })
        .separated_by(sign(TokenKind::Comma))
        .at_least(1)
        .collect()
        .boxed()
}

/// `when charging is single and market is hot`; nothing where no `when` stands.
pub(super) fn when<'t>() -> Rule<'t, Vec<When>> {
    let or = sign(TokenKind::Comma).or(word(Word::Or));
    let one = name()
        .then_ignore(word(Word::Is).or(word(Word::Are)))
        .then(value().separated_by(or).at_least(1).collect::<Vec<_>>())
        .map_with(|(name, values), extra| When { name, values, span: span_of(extra.slice()) });
    word(Word::When)
        .ignore_then(one.separated_by(word(Word::And)).at_least(1).collect::<Vec<_>>())
        .or_not()
        .map(Option::unwrap_or_default)
        .boxed()
}

/// `signed`, `signed twice`: how many sign.
pub(super) fn persons<'t>() -> Rule<'t, u8> {
    word(Word::Signed)
        .ignore_then(word(Word::Twice).or_not())
        .map(|twice| if twice.is_some() { 2 } else { 1 })
        .boxed()
}
