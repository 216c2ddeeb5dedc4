//! Ways of writing a number that are refused with a repair: decimal commas, grouping, exponents, dashes.

use dwell_quantity::look_alike;

use super::TokenKind;
use super::date::date;
use super::number::{decimal, digits};
use super::scan::Scan;
use super::sign::blanks;
use crate::tree::Span;

/// A comma looks like the point that should stand there.
const COMMA: &str = "look-alike-character";

impl Scan<'_> {
    /// `1.234,5`: points between thousands and a decimal comma.
    pub(super) fn european(&mut self, start: usize, first: usize) -> bool {
        let text = self.from(first);
        let length = text.bytes().take_while(|b| b.is_ascii_digit() || matches!(b, b'.' | b',')).count();
        let run = text.get(..length).unwrap_or("").trim_end_matches(['.', ',']);
        let points = run.matches('.').count();
        let commas = run.matches(',').count();
        if (points < 2 && commas == 0) || run.contains("..") || (points == 1 && !tail_digits(run, '.', ',')) {
            return false;
        }
        let end = first + run.len();
        self.skip_to(end);
        let plain = run.replace('.', "").replace(',', ".");
        let clear = commas == 1 && run.rfind(',') > run.rfind('.');
        let mended = format!("{}{}", self.between(start, first), plain);
        let slip =
            self.slip_of(COMMA, start, end, "a number has one point and nothing between its thousands");
        if clear {
            slip.fix(Span::new(start, end), mended.clone());
        } else {
            slip.help("write the digits without grouping and the decimals after one point");
        }
        self.number_token(start, end, Some(mended));
        true
    }

    /// `36,5`: a decimal comma, grouping, or a list without blanks; never read as two numbers in silence.
    pub(super) fn comma(&mut self, start: usize, first: usize, whole: usize) -> bool {
        let text = self.from(first);
        let mut groups = Vec::new();
        let mut length = whole;
        while let Some(rest) = text.get(length..).and_then(|rest| rest.strip_prefix(',')) {
            let count = digits(rest);
            if count == 0 {
                break;
            }
            groups.push(count);
            length += 1 + count;
        }
        if groups.is_empty() {
            return false;
        }
        let sign = self.between(start, first).to_owned();
        let typed = text.get(..length).unwrap_or("").to_owned();
        let decimals = text.get(length..).and_then(|rest| rest.strip_prefix('.')).map_or(0, digits);
        let grouped = whole <= 3 && !typed.starts_with('0') && groups.iter().all(|count| *count == 3);
        let mut end = first + length;
        let mended = if grouped && (decimals > 0 || groups.len() > 1) {
            if decimals > 0 {
                end += 1 + decimals;
            }
            format!("{sign}{}", self.between(first, end).replace(',', ""))
        } else {
            format!("{sign}{}", typed.replacen(',', ".", 1).replace(',', ""))
        };
        self.skip_to(end);
        let span = Span::new(start, end);
        if groups.len() > 1 && !grouped {
            let list = format!("{sign}{}", typed.replace(',', ", "));
            self.slip(start, end, "after a comma between two numbers stands a blank").fix(span, list);
        } else if grouped && groups.len() == 1 && decimals == 0 {
            self.slip_of(COMMA, start, end, "this number can be read in two ways").help(format!(
                "write `{}` or `{mended}`: decimals stand after a point, thousands are not parted",
                typed.replace(',', "")
            ));
        } else if grouped {
            self.slip(start, end, "the thousands of a number are not parted").fix(span, mended.clone());
        } else {
            self.slip_of(COMMA, start, end, "decimals stand after a point, not after a comma")
                .help(format!("write `{mended}`; for two numbers put a blank after the comma"))
                .fix(span, mended.clone());
        }
        self.number_token(start, end, Some(mended));
        true
    }

    /// `1e5`.
    pub(super) fn exponent(&mut self, start: usize, end: usize) -> bool {
        let Some(rest) = self.from(end).strip_prefix(['e', 'E']) else { return false };
        let signed = usize::from(rest.starts_with(['+', '-']));
        let count = rest.get(signed..).map_or(0, digits);
        if count == 0 {
            return false;
        }
        let stop = end + 1 + signed + count;
        let mantissa = self.between(start, end).to_owned();
        let plain = rest
            .get(..signed + count)
            .and_then(|power| power.parse::<i32>().ok())
            .and_then(|power| shifted(&mantissa, power));
        self.skip_to(stop);
        let slip = self.slip(start, stop, "a number is written without an exponent");
        match &plain {
            Some(plain) => {
                slip.fix(Span::new(start, stop), plain.clone());
            }
            None => {
                slip.help("choose a unit in which the number is short");
            }
        }
        self.number_token(start, stop, Some(plain.unwrap_or(mantissa)));
        true
    }

    /// `5-8`: from … to with a dash.
    pub(super) fn dashed(&mut self, start: usize, end: usize) -> bool {
        let mut chars = self.from(end).chars();
        let Some(dash) =
            chars.next().filter(|c| *c == '-' || look_alike(*c).is_some_and(|found| found.instead == "-"))
        else {
            return false;
        };
        let second = end + dash.len_utf8();
        let length = decimal(self.from(second));
        if length == 0 {
            return false;
        }
        let (low, high) =
            (self.between(start, end).to_owned(), self.between(second, second + length).to_owned());
        self.slip(start, second + length, "from … to is written with two points: `..`")
            .fix(Span::new(start, second + length), format!("{low} .. {high}"));
        self.token(TokenKind::Number, start, end);
        self.token(TokenKind::DotDot, end, second);
        self.number_token(second, second + length, None);
        true
    }

    /// `2 000`, or two numbers side by side after a lost sign.
    pub(super) fn parted(&mut self, start: usize, first: usize, whole: usize) -> bool {
        let text = self.from(first);
        let mut length = whole;
        let mut groups = 0;
        let mut last = 0;
        while let Some(rest) = text.get(length..) {
            let gap = group_gap(rest);
            let after = rest.get(gap..).unwrap_or("");
            let count = digits(after);
            if gap == 0 || count == 0 || (groups > 0 && count != 3) || date(after).is_some() {
                break;
            }
            if after.get(count..).is_some_and(|more| more.starts_with('/')) {
                break;
            }
            (length, last, groups) = (length + gap + count, count, groups + 1);
            if count != 3 {
                break;
            }
        }
        if groups == 0 {
            return false;
        }
        let end = first + length;
        if last == 3 && whole <= 3 && !text.starts_with('0') {
            let end = end
                + text.get(length..).and_then(|rest| rest.strip_prefix('.')).map_or(0, |rest| {
                    match digits(rest) {
                        0 => 0,
                        count => count + 1,
                    }
                });
            let mended: String = self
                .between(start, end)
                .chars()
                .filter(|c| c.is_ascii_digit() || matches!(c, '.' | '+' | '-'))
                .collect();
            self.slip(start, end, "the thousands of a number are not parted")
                .fix(Span::new(start, end), mended.clone());
            self.number_token(start, end, Some(mended));
        } else {
            self.slip(start, end, "two numbers stand side by side")
                .help("a sign between them is missing: `±`, `..` or a comma");
            self.number_token(start, first + whole, None);
        }
        true
    }
}

/// The blanks (or the apostrophe) between two groups of digits.
fn group_gap(text: &str) -> usize {
    let gap = blanks(text);
    let apostrophe = text.strip_prefix(['\'', '\u{2019}']).map(|rest| (rest, text.len() - rest.len()));
    match apostrophe {
        Some((rest, length)) if gap == 0 && digits(rest) == 3 => length,
        _ => gap,
    }
}

/// Whether the digits between `point` and `comma` make a group of three.
fn tail_digits(run: &str, point: char, comma: char) -> bool {
    run.split_once(point)
        .is_some_and(|(_, tail)| tail.split(comma).next().is_some_and(|group| group.len() == 3))
}

/// `mantissa` with its point moved by `power` places, for powers that stay short.
fn shifted(mantissa: &str, power: i32) -> Option<String> {
    let places = usize::try_from(power.unsigned_abs()).ok().filter(|places| *places <= 12)?;
    let (sign, plain) = match mantissa.strip_prefix(['-', '+']) {
        Some(rest) => (mantissa.get(..1)?, rest),
        None => ("", mantissa),
    };
    let (whole, part) = plain.split_once('.').unwrap_or((plain, ""));
    let digits = if power >= 0 {
        let padded = format!("{part:0<places$}");
        let (more, left) = padded.split_at_checked(places)?;
        (format!("{whole}{more}"), left.to_owned())
    } else {
        let padded = format!("{whole:0>width$}", width = places + 1);
        let (left, more) = padded.split_at_checked(padded.len() - places)?;
        (left.to_owned(), format!("{more}{part}"))
    };
    let whole = digits.0.trim_start_matches('0');
    let whole = if whole.is_empty() { "0" } else { whole };
    Some(if digits.1.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{}", digits.1) })
}
