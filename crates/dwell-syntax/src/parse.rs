//! Text to tree: always a tree; what could not be read stands beside it, one slip for each place.
//!
//! Tokens come from the lexer; braces are balanced and depth is bounded before parsing, so that neither the grammar nor
//! whoever walks or drops the tree can exhaust the stack; then the grammar reads on, going on after each mistake at the
//! next line that can begin something.

mod ahead;
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
mod lost;
mod measure;
mod mistake;
mod name;
mod near;
mod opening;
mod procedure;
mod recovery;
mod saying;
mod spec;
mod state;
mod statement;
mod synonyms;
mod waiver;

#[cfg(test)]
mod tests;

use chumsky::Parser;

use self::input::Tok;
use self::mistake::Mistake;
use crate::lex::{Lexed, Token, TokenKind, lex};
use crate::slip::Slip;
use crate::tree::{File, Trivia};

pub use ahead::{Ahead, ahead};
pub use limits::{DEEPEST, LONGEST_FORMULA};
pub use mistake::Label;
pub use synonyms::verb_synonym;

/// How many bytes of text are read with one grammar at most, unless one text has more.
const TOGETHER: usize = 256 * 1024;

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

/// Who says that something is wrong; of those who speak of the same bytes the first is heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum By {
    Lexer,
    Braces,
    Grammar,
}

/// Reads `text`. Never fails and never panics, whatever the text.
pub fn parse(text: &str) -> Parsed {
    together(&[text]).pop().unwrap_or_default()
}

/// Reads many texts, each as [`parse`] does, and calls `done` with the place of each and what it says, in order. The
/// grammar is built once for many of them, which for small files takes as long as reading one.
pub fn parse_all(texts: &[&str], mut done: impl FnMut(usize, Parsed)) {
    let mut begun = 0;
    while let Some(rest) = texts.get(begun..).filter(|rest| !rest.is_empty()) {
        let mut bytes = 0;
        let fits = |text: &&&str| {
            bytes += text.len();
            bytes <= TOGETHER
        };
        let count = rest.iter().take_while(fits).count().max(1);
        for (place, parsed) in together(rest.get(..count).unwrap_or_default()).into_iter().enumerate() {
            done(begun + place, parsed);
        }
        begun += count;
    }
}

/// Reads texts with one grammar; all their tokens are there at once.
fn together(texts: &[&str]) -> Vec<Parsed> {
    let mut all: Vec<(Lexed, Vec<Slip>)> = Vec::with_capacity(texts.len());
    for text in texts {
        let mut lexed = lex(text);
        let slips = std::mem::take(&mut lexed.slips);
        all.push((lexed, slips));
    }
    let mut read: Vec<(Option<File>, Vec<Slip>)> = Vec::with_capacity(texts.len());
    {
        let mut prepared = Vec::with_capacity(texts.len());
        for (text, (lexed, slips)) in texts.iter().zip(&mut all) {
            let told: Vec<(Slip, By)> =
                std::mem::take(slips).into_iter().map(|slip| (slip, By::Lexer)).collect();
            let mut slips = Vec::new();
            let tokens = input::tokens(text, lexed);
            let tokens = limits::within_limits(tokens, &mut slips);
            let mut spares = Vec::new();
            let tokens = braces::balanced(text, tokens, &mut slips, &mut spares);
            prepared.push((tokens, slips, spares, told));
        }
        let grammar = declaration::file();
        for (tokens, slips, spares, told) in &mut prepared {
            let tokens = &*tokens;
            let (tree, mistakes) = grammar.parse(tokens.as_slice()).into_output_errors();
            let spares = unexplained(std::mem::take(spares), &mistakes, tokens);
            told.extend(slips.drain(..).chain(spares).map(|slip| (slip, By::Braces)));
            told.extend(mistakes.iter().map(|mistake| (saying::said(mistake, tokens), By::Grammar)));
            read.push((tree, one_for_each_place(std::mem::take(told))));
        }
    }
    let both = all.into_iter().zip(read);
    both.map(|((lexed, _), (tree, slips))| Parsed {
        tree: tree.unwrap_or_default(),
        slips,
        trivia: lexed.trivia,
        tokens: lexed.tokens,
    })
    .collect()
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
fn one_for_each_place(mut told: Vec<(Slip, By)>) -> Vec<Slip> {
    told.sort_by_key(|(slip, by)| (slip.span.start, *by, slip.span.end));
    let mut kept: Vec<Slip> = Vec::with_capacity(told.len());
    let mut end = 0;
    // Where a word ends that cannot stand there: what is wrong with the signs right behind it says nothing more.
    let mut odd_word = None;
    for (slip, by) in told {
        let again = kept.last().is_some_and(|last| slip.span.start < end || slip.span == last.span)
            || (by == By::Lexer && odd_word == Some(slip.span.start));
        if !again {
            odd_word = (by == By::Grammar).then_some(slip.span.end);
            end = end.max(slip.span.end);
            kept.push(slip);
        }
    }
    kept
}
