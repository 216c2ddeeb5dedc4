//! `keep`: a state or a band that holds for a block, or until `restore`.

use chumsky::prelude::*;

use super::block::Parts;
use super::condition::bounded;
use super::input::{Rule, span_of};
use super::lost::or_lost_name;
use super::lost::statement::keep_word;
use super::name::{at_spot, name, trailing_text, word};
use crate::tree::{Band, Keep, Kept, Name, StateOf};
use crate::words::Word;

/// What is said of the thing that is kept.
enum Held {
    State(Name),
    Band(Band),
}

/// `keep battery-lead connected`, `keep engine-speed within 2500 ± 300 rpm with analyser "…" { … } otherwise { … }`.
pub(super) fn keep<'t>(parts: &Parts<'t>) -> Rule<'t, Keep> {
    let state = word(Word::Is).or(word(Word::Are)).or_not().ignore_then(or_lost_name()).map(Held::State);
    let held = bounded(parts.formula.clone()).map(Held::Band).or(state);
    let what =
        keep_word().then(at_spot().or_not()).then(held).map_with(|((name, at), held), extra| match held {
            Held::Band(band) => Kept::Quantity(name, band),
            Held::State(state) => {
                Kept::State(StateOf { item: name, at, state, span: span_of(extra.slice()) })
            }
        });
    let block = super::name::sign(crate::lex::TokenKind::OpenBrace).rewind().ignore_then(parts.body.clone());
    what.then(word(Word::With).ignore_then(name()).or_not())
        .then(trailing_text())
        .then(block.or_not())
        .then(parts.arms.clone())
        .map(|((((what, with), text), block), otherwise)| Keep { what, with, text, block, otherwise })
        .boxed()
}
