//! Signs: `+`, `-`, `*` and `/` with blanks on both sides calculate; a sign glued to a number is the number's.

use super::TokenKind;
use super::disguise::lettered;
use super::scan::Scan;
use crate::tree::Span;

/// Whether `c` parts tokens as a blank does.
pub(super) fn blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\u{A0}' | '\u{202F}')
}

/// How many bytes of blanks `text` begins with; line ends are none.
pub(super) fn blanks(text: &str) -> usize {
    text.len() - text.trim_start_matches(blank).len()
}

impl Scan<'_> {
    /// Reads a sign that stands at `start` and ends where the walk is.
    pub(super) fn read_sign(&mut self, start: usize) {
        let end = self.at();
        let sign = self.between(start, end);
        if sign == "+"
            && let Some(length) = spread_plus_minus(self.from(start))
        {
            let span = Span::new(start, start + length);
            self.skip_to(span.end);
            self.slip(span.start, span.end, "plus or minus is written `±` or `+-`").fix(span, "±");
            return self.token(TokenKind::PlusMinus, span.start, span.end);
        }
        let kind = match sign {
            "+" | "\u{FF0B}" => TokenKind::Plus,
            "*" | "·" | "\u{D7}" => TokenKind::Times,
            "/" | "\u{2215}" | "\u{2044}" | "\u{FF0F}" | "\u{F7}" => TokenKind::Over,
            _ => TokenKind::Minus,
        };
        let before = self.before(start);
        if kind == TokenKind::Over && self.glued_deviations(start, end) {
            return;
        }
        let free_before = before
            .is_none_or(|c| blank(c) || matches!(c, '\n' | '\r' | '(' | ',' | ':' | '±' | '.' | '{' | '/'));
        let next = self.rest().chars().next();
        if matches!(kind, TokenKind::Plus | TokenKind::Minus)
            && free_before
            && (next.is_some_and(|c| c.is_ascii_digit()) || letter_for_digit(self.rest()))
        {
            return self.read_number(start, end);
        }
        if matches!(kind, TokenKind::Plus | TokenKind::Minus)
            && free_before
            && let Some(point) = self.rest().strip_prefix('.')
            && point.starts_with(|c: char| c.is_ascii_digit())
        {
            self.skip(1);
            return self.read_bare_point(start, end);
        }
        let parted = before.is_none_or(|c| blank(c) || matches!(c, '\n' | '\r'))
            && next.is_none_or(|c| blank(c) || matches!(c, '\n' | '\r'));
        if !parted && !self.slipped_right_before(end) {
            let shown = self.between(start, end).to_owned();
            let left = if before.is_none_or(blank) { "" } else { " " };
            let right = if next.is_none_or(blank) { "" } else { " " };
            self.slip(start, end, format!("`{shown}` has a blank on both sides when it calculates"))
                .help("put a blank before it and after it")
                .fix(Span::new(start, end), format!("{left}{shown}{right}"));
        }
        self.token(kind, start, end);
    }

    /// `+3/-1`: the upper and the lower deviation with a slash between.
    fn glued_deviations(&mut self, start: usize, end: usize) -> bool {
        let lower =
            self.rest().strip_prefix('-').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
        let upper = self.last().is_some_and(|last| {
            last.span.end == start
                && last.kind == TokenKind::Number
                && self.between(last.span.start, last.span.end).starts_with('+')
        });
        if lower && upper {
            self.slip(
                start,
                end,
                "the upper and the lower deviation stand one after the other, with a blank between",
            )
            .fix(Span::new(start, end), " ");
        }
        lower && upper
    }

    /// Reads a lone point.
    pub(super) fn read_point(&mut self, start: usize) {
        let free_before = self.before(start).is_none_or(|c| !c.is_alphanumeric() && c != '.');
        if free_before && self.rest().starts_with(|c: char| c.is_ascii_digit()) {
            return self.read_bare_point(start, start);
        }
        let word_before = self.last().filter(|last| last.span.end == start);
        let after_word =
            word_before.is_some_and(|last| matches!(last.kind, TokenKind::Word | TokenKind::LineWord));
        let slip = self.slip(start, start + 1, "a lone point means nothing here");
        if after_word {
            slip.help("nothing is shortened with a point: write the whole word");
        } else {
            slip.fix(Span::new(start, start + 1), "");
        }
        self.error(start, start + 1);
    }

    /// Reads two points; more than two are a slip.
    pub(super) fn read_dots(&mut self, start: usize) {
        let more = self.rest().len() - self.rest().trim_start_matches('.').len();
        if more > 0 {
            let end = self.at() + more;
            self.skip(more);
            self.slip(start, end, "from … to is written with two points: `..`")
                .fix(Span::new(start, end), "..");
            return self.token(TokenKind::DotDot, start, end);
        }
        self.token(TokenKind::DotDot, start, start + 2);
    }

    /// Reads `)`; after a series of numbers in parentheses a unit may follow.
    pub(super) fn read_close_paren(&mut self, start: usize) {
        let series = self.series;
        let end = self.at();
        self.token(TokenKind::CloseParen, start, end);
        if series {
            self.read_unit();
        }
        self.series = false;
    }
}

/// Whether a number begins here whose first digit is a letter that looks like one: `O.1` for `0.1`.
fn letter_for_digit(text: &str) -> bool {
    let run = lettered(text).and_then(|(length, _)| text.get(..length));
    run.is_some_and(|run| run.contains(|c: char| c.is_ascii_digit()))
}

/// The bytes of a plus-minus with blanks inside, such as `+ / -`.
fn spread_plus_minus(text: &str) -> Option<usize> {
    let after_plus = text.strip_prefix('+')?;
    let over = after_plus.get(blanks(after_plus)..)?;
    let after_over = over.strip_prefix('/')?;
    let minus = after_over.get(blanks(after_over)..)?;
    let rest = minus.strip_prefix('-')?;
    Some(text.len() - rest.len())
}
