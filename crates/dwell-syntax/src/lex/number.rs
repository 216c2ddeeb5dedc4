//! Numbers: whole, with a point, as fractions; what is written otherwise is refused with a repair, not read as something else.

use dwell_quantity::look_alike;

use super::disguise::{disguised, lettered};
use super::letters::in_word;
use super::scan::Scan;
use super::sign::blanks;
use super::{LONGEST_NUMBER, TokenKind};
use crate::tree::Span;

/// How many bytes of ASCII digits `text` begins with.
pub(super) fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// The bytes of `12`, `12.5` at the start of `text`.
pub(super) fn decimal(text: &str) -> usize {
    let whole = digits(text);
    match text.get(whole..).and_then(|rest| rest.strip_prefix('.')) {
        Some(rest) if whole > 0 && digits(rest) > 0 => whole + 1 + digits(rest),
        _ => whole,
    }
}

impl Scan<'_> {
    /// Reads a number whose sign (if any) stands at `start` and whose first digit at `first`.
    pub(super) fn read_number(&mut self, start: usize, first: usize) {
        let text = self.from(first);
        let lettered = lettered(text).map(|found| (found, "a letter stands here for a digit"));
        let disguised =
            || disguised(text).map(|found| (found, "these are not the digits 0 to 9 and the point"));
        if let Some(((length, mended), message)) = lettered.or_else(disguised) {
            let end = first + length;
            let mended = format!("{}{mended}", self.between(start, first));
            self.skip_to(end);
            self.slip_of("look-alike-character", start, end, message)
                .help(format!("write `{mended}`"))
                .fix(Span::new(start, end), mended.clone());
            return self.number_token(start, end, Some(mended));
        }
        if start == first && (self.read_date(start) || self.pointed_date(start)) {
            return;
        }
        let whole = digits(text);
        let length = decimal(text);
        let rest = text.get(length..).unwrap_or("");
        if length > whole {
            if self.european(start, first)
                || self.exponent(start, first + length)
                || self.dashed(start, first + length)
            {
                return;
            }
            return self.number_token(start, first + length, None);
        }
        if rest.starts_with('.') && !rest.starts_with("..") {
            let end = first + whole + 1;
            let number = self.between(start, first + whole).to_owned();
            self.skip_to(end);
            self.slip(start, end, "a number does not end with a point")
                .fix(Span::new(start, end), number.clone());
            return self.number_token(start, end, Some(number));
        }
        if self.comma(start, first, whole)
            || self.exponent(start, first + whole)
            || self.dashed(start, first + whole)
            || self.fraction(start, first, whole)
            || self.parted(start, first, whole)
        {
            return;
        }
        self.number_token(start, first + whole, None);
    }

    /// Notes a number and looks for its unit.
    pub(super) fn number_token(&mut self, start: usize, end: usize, mended: Option<String>) {
        self.skip_to(end);
        let text = mended.as_deref().unwrap_or(self.between(start, end));
        let mended = plain_sign(text).or(mended);
        if self.compound(start, end, mended.as_deref()) {
            return;
        }
        self.token(TokenKind::Number, start, end);
        if let Some(mended) = mended {
            self.mend(mended);
        }
        if end - start > LONGEST_NUMBER {
            let message = format!(
                "this number has {} characters, more than the limit of {LONGEST_NUMBER}",
                end - start
            );
            self.slip_of("bad-number", start, end, message);
        }
        self.read_unit();
    }

    /// Reads `.5`, whose sign stands at `start`; the walk stands right after the point.
    pub(super) fn read_bare_point(&mut self, start: usize, sign_end: usize) {
        let after = self.at();
        let end = after + digits(self.from(after));
        let mended = format!("{}0.{}", self.between(start, sign_end), self.between(after, end));
        self.slip(start, end, "a number does not begin with a point")
            .fix(Span::new(start, end), mended.clone());
        self.number_token(start, end, Some(mended));
    }

    /// `1/32`, `2 1/4`.
    fn fraction(&mut self, start: usize, first: usize, whole: usize) -> bool {
        let text = self.from(first);
        let rest = text.get(whole..).unwrap_or("");
        let gap = blanks(rest);
        let numerator = if gap > 0 { rest.get(gap..).map_or(0, digits) } else { 0 };
        if gap > 0 && numerator == 0 {
            return false;
        }
        let Some(below) = rest.get(gap + numerator..).and_then(|rest| rest.strip_prefix('/')) else {
            return false;
        };
        let denominator = digits(below);
        if denominator == 0 || below.get(denominator..).is_some_and(|rest| rest.starts_with(in_word)) {
            return false;
        }
        let end = first + whole + gap + numerator + 1 + denominator;
        let typed = self.between(start, end).to_owned();
        if below.bytes().take(denominator).all(|b| b == b'0') {
            self.slip_of("bad-number", start, end, "a fraction cannot have 0 below its line".to_owned());
        }
        let mended = (gap > 0).then(|| {
            let split = self.between(start, first + whole);
            format!("{split} {}", self.between(first + whole + gap, end))
        });
        self.number_token(start, end, mended.filter(|mended| *mended != typed));
        true
    }
}

/// `text` with a look-alike of its sign put right.
fn plain_sign(text: &str) -> Option<String> {
    let sign = text.chars().next().filter(|c| !c.is_ascii())?;
    let instead =
        look_alike(sign).map(|found| found.instead).filter(|instead| matches!(*instead, "-" | "+"))?;
    Some(format!("{instead}{}", text.get(sign.len_utf8()..)?))
}
