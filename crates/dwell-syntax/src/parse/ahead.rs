//! What could stand at a place of a text that is still being typed: what the grammar waits for there.

use chumsky::Parser;

use super::declaration;
use super::input::{self, Tok};
use super::limits;
use super::mistake::{Expected, Label};
use crate::lex::{TokenKind, lex};
use crate::tree::Span;
use crate::words::{WORDS, Word};

/// A sign that is no token: the grammar stops at it and says what it waited for.
const STOP: char = '?';

/// What the grammar waits for at a place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ahead(Expected);

impl Ahead {
    /// Whether something of that sort could stand there.
    pub fn has(&self, label: Label) -> bool {
        self.0.has_label(label)
    }

    /// Whether this word of the language could stand there.
    pub fn word(&self, word: Word) -> bool {
        self.0.can_be(word)
    }

    /// All words of the language that could stand there.
    pub fn words(&self) -> impl Iterator<Item = Word> {
        WORDS.iter().copied().filter(|word| self.word(*word))
    }

    /// Whether this sign could stand there.
    pub fn sign(&self, kind: TokenKind) -> bool {
        self.0.has_kind(kind)
    }
}

/// What could stand at a byte, whatever stands behind it. A word that is half typed there is not to be counted in: ask at its
/// first byte. Only the declaration that the byte stands in is read.
pub fn ahead(text: &str, at: usize) -> Ahead {
    let before = text.get(..at).unwrap_or(text);
    let mut cut = before.get(declared_at(before)..).unwrap_or_default().to_owned();
    cut.push(STOP);
    let lexed = lex(&cut);
    let mut tokens = limits::within_limits(input::tokens(&cut, &lexed), &mut Vec::new());
    let Some(stop) = tokens.len().checked_sub(1) else { return Ahead::default() };
    let mut open = 0usize;
    for token in &tokens {
        match token.kind {
            TokenKind::OpenBrace => open += 1,
            TokenKind::CloseBrace => open = open.saturating_sub(1),
            _ => {}
        }
    }
    let end = Span::new(cut.len(), cut.len());
    let closing =
        Tok { kind: TokenKind::CloseBrace, word: None, text: "}", span: end, first: true, fresh: true };
    tokens.extend(std::iter::repeat_n(closing, open));
    let (_, mistakes) = declaration::file().parse(tokens.as_slice()).into_output_errors();
    let here = mistakes.iter().filter(|mistake| mistake.start == stop);
    Ahead(here.fold(Expected::default(), |all, mistake| all.and(mistake.expected)))
}

/// Where the last declaration begins that begins a line.
fn declared_at(before: &str) -> usize {
    let starts = before.match_indices('\n').map(|(end, _)| end + 1);
    let begins = |start: &usize| {
        let line = before.get(*start..).unwrap_or_default();
        let word = line.split(|letter: char| letter.is_whitespace()).next().unwrap_or_default();
        Word::of(word).is_some_and(Word::begins_declaration) && line.len() > word.len()
    };
    starts.rev().find(begins).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Ahead {
        ahead(text, text.len())
    }

    #[test]
    fn an_instruction_where_one_can_begin() {
        let here = at("item a: b\nprocedure p \"P\" {\n    step s \"S\" {\n        ");
        assert!(here.has(Label::Statement) && here.word(Word::Measure));
        assert!(!here.word(Word::Step));
    }

    #[test]
    fn what_follows_in_a_statement() {
        let step = "procedure p {\n step s {\n  ";
        let spec = at(&format!("{step}expect tension meets "));
        assert!(spec.has(Label::Name) && !spec.has(Label::Statement));
        let more = at(&format!("{step}measure tension: force "));
        assert!(more.word(Word::With) && more.word(Word::Take) && more.word(Word::Over));
        assert!(at(&format!("{step}refer ")).word(Word::To));
        assert!(at(&format!("{step}end ")).word(Word::Failed));
        let number = at("spec s: force {\n check 62 ");
        assert!(number.sign(TokenKind::PlusMinus) && number.word(Word::Target));
    }

    #[test]
    fn what_stands_wrong_before_does_not_matter() {
        let here = at("spec ( {\n\nprocedure p {\n step s {\n  measure 3 3\n  back ");
        assert!(here.word(Word::To), "{here:?}");
    }
}
