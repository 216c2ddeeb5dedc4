//! Braces and parentheses before parsing: how deep they go, and which line a missing or spare brace is blamed on.

use super::input::Tok;
use crate::lex::TokenKind;
use crate::lines::Lines;
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

/// An opening brace that is still open.
struct Open {
    indent: usize,
    line: usize,
}

/// Makes every brace have its partner: where one is missing or spare, the first line is blamed whose indentation
/// contradicts its depth. What is said of closing braces without a partner goes to `spares`.
pub(super) fn balanced<'t>(
    text: &str,
    tokens: Vec<Tok<'t>>,
    slips: &mut Vec<Slip>,
    spares: &mut Vec<Slip>,
) -> Vec<Tok<'t>> {
    let (mut missing, mut spare) = imbalance(&tokens);
    if missing == 0 && spare == 0 {
        return tokens;
    }
    let lines = Lines::of(text);
    let told = indented(text, &lines, &tokens);
    let mut kept: Vec<Tok<'t>> = Vec::with_capacity(tokens.len() + missing);
    let mut open: Vec<Open> = Vec::new();
    let mut last_line = usize::MAX;
    let mut indent = 0;
    for token in tokens {
        let line = lines.line(token.span.start);
        let first = line != last_line;
        last_line = line;
        if first {
            indent = width(text, lines.start(line), token.span.start);
        }
        let closes = token.kind == TokenKind::CloseBrace;
        while first && told && missing > 0 {
            let Some(top) =
                open.pop_if(|top| if closes { indent < top.indent } else { indent <= top.indent })
            else {
                break;
            };
            missing -= 1;
            slips.push(missing_before(&token, &top, kept.last()));
            kept.push(closing(kept.last()));
        }
        match token.kind {
            TokenKind::OpenBrace => open.push(Open { indent, line }),
            TokenKind::CloseBrace => {
                let odd = open.last().is_none_or(|top| {
                    told && spare > 0 && if first { indent > top.indent } else { line != top.line }
                });
                if odd {
                    spare = spare.saturating_sub(1);
                    let mut slip = slip(token.span, "there is no `{` for this `}`".to_owned(), "remove it");
                    slip.fix(token.span, "");
                    spares.push(slip);
                    continue;
                }
                open.pop();
            }
            _ => {}
        }
        kept.push(token);
    }
    close_the_rest(&open, &mut kept, slips);
    kept
}

/// How many opening and closing braces have no partner.
fn imbalance(tokens: &[Tok<'_>]) -> (usize, usize) {
    let (mut open, mut spare) = (0usize, 0usize);
    for token in tokens {
        match token.kind {
            TokenKind::OpenBrace => open += 1,
            TokenKind::CloseBrace if open == 0 => spare += 1,
            TokenKind::CloseBrace => open -= 1,
            _ => {}
        }
    }
    (open, spare)
}

/// Whether the lines of this text are indented at all, so that indentation says something.
fn indented(text: &str, lines: &Lines, tokens: &[Tok<'_>]) -> bool {
    tokens.iter().any(|token| {
        let start = lines.start(lines.line(token.span.start));
        token.kind == TokenKind::LineWord
            && start < token.span.start
            && width(text, start, token.span.start) > 0
    })
}

/// The indentation of a line up to `end`: blanks count one, tabs four.
fn width(text: &str, start: usize, end: usize) -> usize {
    let mut width = 0;
    for c in text.get(start..end).unwrap_or("").chars() {
        match c {
            '\t' => width += 4,
            c if c.is_whitespace() => width += 1,
            _ => break,
        }
    }
    width
}

/// A brace that is not in the text, right after what stands before.
fn closing<'t>(before: Option<&Tok<'t>>) -> Tok<'t> {
    let end = before.map_or(0, |before| before.span.end);
    Tok { kind: TokenKind::CloseBrace, word: None, text: "}", span: Span::new(end, end) }
}

fn missing_before(token: &Tok<'_>, top: &Open, before: Option<&Tok<'_>>) -> Slip {
    let help = format!("the `{{` on line {} is still open here", top.line + 1);
    let mut slip = slip(token.span, "a `}` is missing before this line".to_owned(), &help);
    let end = before.map_or(token.span.start, |before| before.span.end);
    slip.fix(Span::new(end, end), format!("\n{}}}", " ".repeat(top.indent)));
    slip
}

/// Closes what is open at the end of the file.
fn close_the_rest(open: &[Open], kept: &mut Vec<Tok<'_>>, slips: &mut Vec<Slip>) {
    let Some(top) = open.last() else { return };
    let last = kept.last().map_or(Span::default(), |last| last.span);
    let help = format!("the `{{` on line {} is not closed", top.line + 1);
    let mut slip = slip(last, "the file ends before its last `}`".to_owned(), &help);
    let closers: String =
        open.iter().rev().take(DEEPEST).map(|one| format!("\n{}}}", " ".repeat(one.indent))).collect();
    slip.fix(Span::new(last.end, last.end), closers);
    slips.push(slip);
    for _ in open {
        let brace = closing(kept.last());
        kept.push(brace);
    }
}

fn slip(span: Span, message: String, help: &str) -> Slip {
    let mut slip = Slip { rule: "syntax", span, message, help: None, fix: None };
    slip.help(help);
    slip
}
