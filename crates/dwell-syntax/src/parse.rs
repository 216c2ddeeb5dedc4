//! Text to tree: always a tree; what could not be read stands beside it, one slip for each place.
//!
//! Tokens come from the lexer; braces are balanced and depth is bounded before parsing, so that neither the grammar nor
//! whoever walks or drops the tree can exhaust the stack; then the grammar reads on, going on after each mistake at the
//! next line that can begin something.

mod amount;
mod block;
mod braces;
mod case;
mod condition;
mod declaration;
mod formula;
mod handle;
mod input;
mod keep;
mod limits;
mod line;
mod measure;
mod mistake;
mod name;
mod near;
mod procedure;
mod recovery;
mod saying;
mod spec;
mod state;
mod statement;
mod synonyms;

#[cfg(test)]
mod tests;

use chumsky::Parser;

use self::input::Tok;
use self::mistake::Mistake;
use crate::lex::{Token, TokenKind, lex};
use crate::slip::Slip;
use crate::tree::{File, Trivia};

pub use limits::{DEEPEST, LONGEST_FORMULA};
pub use synonyms::verb_synonym;

/// What a text says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Parsed {
    /// What could be read.
    pub tree: File,
    /// What could not, in order of place, one for each place. A tree with a slip never becomes a card.
    pub slips: Vec<Slip>,
    /// The comments.
    pub trivia: Trivia,
    /// The tokens, as they stand in the text.
    pub tokens: Vec<Token>,
}

/// Reads `text`. Never fails and never panics, whatever the text.
pub fn parse(text: &str) -> Parsed {
    let mut lexed = lex(text);
    let mut slips = std::mem::take(&mut lexed.slips);
    let tokens = input::tokens(text, &lexed);
    let tokens = limits::within_limits(tokens, &mut slips);
    let mut spares = Vec::new();
    let tokens = braces::balanced(text, tokens, &mut slips, &mut spares);
    let (tree, mistakes) = declaration::file().parse(tokens.as_slice()).into_output_errors();
    let mut told: Vec<(Slip, bool)> = slips.into_iter().map(|slip| (slip, false)).collect();
    told.extend(unexplained(spares, &mistakes, &tokens).map(|slip| (slip, false)));
    told.extend(mistakes.iter().map(|mistake| (saying::said(mistake, &tokens), true)));
    let slips = one_for_each_place(told);
    drop(tokens);
    Parsed { tree: tree.unwrap_or_default(), slips, trivia: lexed.trivia, tokens: lexed.tokens }
}

/// The closing braces without a partner that no missing opening brace before them explains.
fn unexplained(spares: Vec<Slip>, mistakes: &[Mistake], tokens: &[Tok<'_>]) -> impl Iterator<Item = Slip> {
    let missing = mistakes.iter().filter(|mistake| mistake.expected.has_kind(TokenKind::OpenBrace));
    let mut places: Vec<usize> =
        missing.filter_map(|mistake| tokens.get(mistake.start)).map(|found| found.span.start).collect();
    places.sort_unstable();
    let mut places = places.into_iter().peekable();
    spares.into_iter().filter(move |spare| places.next_if(|place| *place <= spare.span.start).is_none())
}

/// Keeps the first of those slips that are about the same bytes; the lexer's come before the grammar's.
fn one_for_each_place(mut told: Vec<(Slip, bool)>) -> Vec<Slip> {
    told.sort_by_key(|(slip, grammar)| (slip.span.start, *grammar, slip.span.end));
    let mut kept: Vec<Slip> = Vec::with_capacity(told.len());
    let mut end = 0;
    for (slip, _) in told {
        let again = kept.last().is_some_and(|last| slip.span.start < end || slip.span == last.span);
        if !again {
            end = end.max(slip.span.end);
            kept.push(slip);
        }
    }
    kept
}
