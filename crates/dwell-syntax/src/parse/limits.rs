//! How deep and how long a text may be: what goes beyond is dropped before parsing, so that no walk over the tree runs out of stack.

use super::input::Tok;
use crate::lex::TokenKind;
use crate::slip::Slip;
use crate::tree::Span;
use crate::words::Word;

/// How deep braces, and parentheses within a formula, may be nested.
pub const DEEPEST: usize = 64;
/// How many signs and words such as `of` a formula may have.
pub const LONGEST_FORMULA: usize = 256;

/// Drops what is nested deeper than [`DEEPEST`] or beyond [`LONGEST_FORMULA`], with a slip; the first block that is too
/// deep stays as an empty one, so that what stands before it can still be read.
pub(super) fn within_limits<'t>(tokens: Vec<Tok<'t>>, slips: &mut Vec<Slip>) -> Vec<Tok<'t>> {
    let mut kept = Vec::with_capacity(tokens.len());
    let (mut braces, mut parens, mut joins) = (0usize, 0usize, 0usize);
    let mut told_depth = false;
    let mut told_length = false;
    for token in tokens {
        match token.kind {
            TokenKind::OpenBrace => (braces, parens, joins) = (braces + 1, 0, 0),
            TokenKind::OpenParen => parens += 1,
            TokenKind::LineWord if !token.word.is_some_and(Word::is_hard) => (parens, joins) = (0, 0),
            TokenKind::Plus | TokenKind::Minus | TokenKind::Times | TokenKind::Over => joins += 1,
            TokenKind::Number if token.text.starts_with(['-', '+']) => joins += 1,
            TokenKind::Comma => joins = 0,
            _ if token.is(Word::Of) => joins += 1,
            _ => {}
        }
        if joins == 0 {
            told_length = false;
        }
        let edge =
            braces == DEEPEST + 1 && matches!(token.kind, TokenKind::OpenBrace | TokenKind::CloseBrace);
        let deep = braces > DEEPEST || parens > DEEPEST;
        let long = joins > LONGEST_FORMULA;
        if deep && !told_depth {
            told_depth = true;
            slips.push(slip(token.span, format!("nested too deeply (limit {DEEPEST})"), "move the inner part into a step or a procedure of its own, or give a part of the formula a name with `let`"));
        } else if long && !deep && !told_length {
            told_length = true;
            slips.push(slip(
                token.span,
                format!("this formula is too long (limit {LONGEST_FORMULA} signs)"),
                "give a part of it a name with `let`",
            ));
        }
        match token.kind {
            TokenKind::CloseBrace => {
                (braces, parens, joins) = (braces.saturating_sub(1), 0, 0);
            }
            TokenKind::CloseParen => parens = parens.saturating_sub(1),
            _ => {}
        }
        if edge || (!deep && !long) {
            kept.push(token);
        }
    }
    kept
}

fn slip(span: Span, message: String, help: &str) -> Slip {
    let mut slip = Slip { rule: "syntax", span, message, help: None, fix: None };
    slip.help(help);
    slip
}
