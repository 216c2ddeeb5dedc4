//! Braces before parsing: every one gets its partner, and the line is found that a missing or spare one is blamed on.

use super::input::Tok;
use super::limits::DEEPEST;
use super::opening;
use crate::lex::TokenKind;
use crate::lines::Lines;
use crate::slip::Slip;
use crate::tree::Span;
use crate::words::Word;

/// An opening brace that is still open.
struct Open {
    indent: usize,
    line: usize,
}

/// Makes every brace have its partner: where one is missing or spare, the first line is blamed whose indentation
/// contradicts its depth, one declaration after the other. What is said of closing braces without a partner goes to
/// `spares`.
pub(super) fn balanced<'t>(
    text: &str,
    tokens: Vec<Tok<'t>>,
    slips: &mut Vec<Slip>,
    spares: &mut Vec<Slip>,
) -> Vec<Tok<'t>> {
    if imbalance(&tokens) == (0, 0) {
        return tokens;
    }
    let lines = Lines::of(text);
    let told = indented(text, &lines, &tokens);
    let kept = Vec::with_capacity(tokens.len());
    let mut balance = Balance { text, lines, told, kept, open: Vec::new(), spare_at: None };
    let mut rest = tokens.as_slice();
    while let Some(first) = rest.first() {
        let more = rest.get(1..).unwrap_or(&[]);
        let length =
            more.iter().position(|token| told && balance.begins(token)).map_or(rest.len(), |at| at + 1);
        let (segment, after) = rest.split_at_checked(length).unwrap_or((rest, &[]));
        let opened = balance.opened(segment, slips);
        balance.segment(&opened, first.span.start, slips, spares);
        balance.close(after.first(), slips);
        rest = after;
    }
    balance.kept
}

/// A walk that gives every brace its partner.
struct Balance<'t, 's> {
    text: &'s str,
    lines: Lines,
    /// Whether indentation says something.
    told: bool,
    kept: Vec<Tok<'t>>,
    open: Vec<Open>,
    /// How much was kept when the last spare closing brace was found.
    spare_at: Option<usize>,
}

impl<'t> Balance<'t, '_> {
    /// Whether a declaration begins here, seen by where it stands.
    fn begins(&self, token: &Tok<'t>) -> bool {
        token.first
            && token.word.is_some_and(Word::begins_declaration)
            && self.lines.start(self.lines.line(token.span.start)) == token.span.start
    }

    /// Walks over one declaration, whose first byte is `start`.
    fn segment(&mut self, tokens: &[Tok<'t>], start: usize, slips: &mut Vec<Slip>, spares: &mut Vec<Slip>) {
        let (mut missing, mut spare) = imbalance(tokens);
        let mut indent = width(self.text, self.lines.start(self.lines.line(start)), start);
        for token in tokens {
            let line = self.lines.line(token.span.start);
            if token.first {
                indent = width(self.text, self.lines.start(line), token.span.start);
            }
            let closes = token.kind == TokenKind::CloseBrace;
            while token.first && self.told && missing > 0 {
                let contradicts =
                    |top: &mut Open| if closes { indent < top.indent } else { indent <= top.indent };
                let Some(top) = self.open.pop_if(contradicts) else { break };
                missing -= 1;
                slips.push(missing_before(token, &top, self.kept.last()));
                self.kept.push(closing(self.kept.last()));
            }
            match token.kind {
                TokenKind::OpenBrace => self.open.push(Open { indent, line }),
                TokenKind::CloseBrace => {
                    let odd = self.open.last().is_none_or(|top| {
                        self.told
                            && spare > 0
                            && if token.first { indent > top.indent } else { line != top.line }
                    });
                    if odd {
                        spare = spare.saturating_sub(1);
                        self.spare(token.span, spares);
                        continue;
                    }
                    self.open.pop();
                }
                _ => {}
            }
            self.kept.push(*token);
        }
    }

    /// Says that a closing brace has no partner; of a run of them once.
    fn spare(&mut self, span: Span, spares: &mut Vec<Slip>) {
        let again = self.spare_at.replace(self.kept.len()) == Some(self.kept.len());
        match spares.last_mut().filter(|_| again) {
            Some(last) => {
                last.span = last.span.to(span);
                last.message = "there is no `{` for these `}`".to_owned();
                last.fix = None;
                last.help("remove them");
            }
            None => {
                let mut slip = slip(span, "there is no `{` for this `}`".to_owned(), "remove it");
                slip.fix(span, "");
                spares.push(slip);
            }
        }
    }

    /// Puts the opening braces in that one declaration lacks.
    fn opened(&self, tokens: &[Tok<'t>], slips: &mut Vec<Slip>) -> Vec<Tok<'t>> {
        let (_, spare) = imbalance(tokens);
        let mut out = tokens.to_vec();
        if !self.told || spare == 0 {
            return out;
        }
        let column = |token: &Tok<'_>| {
            width(self.text, self.lines.start(self.lines.line(token.span.start)), token.span.start)
        };
        let mut places = opening::places(tokens, column);
        places.truncate(spare);
        for place in places.into_iter().rev() {
            let Some(before) = place.checked_sub(1).and_then(|before| tokens.get(before)) else { continue };
            let end = before.span.end;
            let mut slip = slip(
                before.span,
                "a `{` is missing after this".to_owned(),
                "a block stands between `{` and `}`",
            );
            slip.fix(Span::new(end, end), " {");
            slips.push(slip);
            if let Some(next) = out.get_mut(place)
                && next.kind == TokenKind::Word
            {
                next.kind = TokenKind::LineWord;
            }
            out.insert(place, Tok { kind: TokenKind::OpenBrace, text: "{", ..closing(Some(before)) });
        }
        out
    }

    /// Closes what is still open before `next`, the first token of the next declaration, or at the end of the file.
    fn close(&mut self, next: Option<&Tok<'t>>, slips: &mut Vec<Slip>) {
        let Some(top) = self.open.last() else { return };
        let last = self.kept.last().map_or(Span::default(), |last| last.span);
        let help = format!("the `{{` on line {} is not closed", top.line + 1);
        let mut slip = match next {
            Some(next) => slip(next.span, "a `}` is missing before this".to_owned(), &help),
            None => slip(last, "the file ends before its last `}`".to_owned(), &help),
        };
        let closers =
            self.open.iter().rev().take(DEEPEST).map(|one| format!("\n{}}}", " ".repeat(one.indent)));
        slip.fix(Span::new(last.end, last.end), closers.collect::<String>());
        slips.push(slip);
        for _ in self.open.drain(..) {
            let brace = closing(self.kept.last());
            self.kept.push(brace);
        }
    }
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
    Tok {
        kind: TokenKind::CloseBrace,
        word: None,
        text: "}",
        span: Span::new(end, end),
        first: false,
        fresh: false,
    }
}

fn missing_before(token: &Tok<'_>, top: &Open, before: Option<&Tok<'_>>) -> Slip {
    let help = format!("the `{{` on line {} is still open here", top.line + 1);
    let mut slip = slip(token.span, "a `}` is missing before this line".to_owned(), &help);
    let end = before.map_or(token.span.start, |before| before.span.end);
    slip.fix(Span::new(end, end), format!("\n{}}}", " ".repeat(top.indent)));
    slip
}

fn slip(span: Span, message: String, help: &str) -> Slip {
    let mut slip = Slip { rule: "syntax", span, message, help: None, fix: None };
    slip.help(help);
    slip
}
