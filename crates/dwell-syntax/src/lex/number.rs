//! Numbers, dates, and the ways of writing a number that are refused with a repair instead of being read as something else.

use dwell_quantity::look_alike;

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
        if start == first && self.read_date(start) {
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
    fn number_token(&mut self, start: usize, end: usize, mended: Option<String>) {
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
            self.slip(start, end, message);
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

    /// `2031-02-11`.
    fn read_date(&mut self, start: usize) -> bool {
        let Some([year, month, day]) = date(self.from(start)) else { return false };
        let end = start + 10;
        self.skip_to(end);
        if !real_day(year, month, day) {
            let typed = self.between(start, end).to_owned();
            self.slip(start, end, format!("{typed} is no day of the calendar"))
                .help("a date is written year-month-day, such as 2031-02-11");
        }
        self.token(TokenKind::Date, start, end);
        true
    }

    /// `1.234,5`: points between thousands and a decimal comma.
    fn european(&mut self, start: usize, first: usize) -> bool {
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
        let slip = self.slip(start, end, "a number has one point and nothing between its thousands");
        if clear {
            slip.fix(Span::new(start, end), mended.clone());
        } else {
            slip.help("write the digits without grouping and the decimals after one point");
        }
        self.number_token(start, end, Some(mended));
        true
    }

    /// `36,5`: a decimal comma, grouping, or a list without blanks; never read as two numbers in silence.
    fn comma(&mut self, start: usize, first: usize, whole: usize) -> bool {
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
            self.slip(start, end, "this number can be read in two ways").help(format!(
                "write `{}` or `{mended}`: decimals stand after a point, thousands are not parted",
                typed.replace(',', "")
            ));
        } else if grouped {
            self.slip(start, end, "the thousands of a number are not parted").fix(span, mended.clone());
        } else {
            self.slip(start, end, "decimals stand after a point, not after a comma")
                .help("for two numbers put a blank after the comma")
                .fix(span, mended.clone());
        }
        self.number_token(start, end, Some(mended));
        true
    }

    /// `1e5`.
    fn exponent(&mut self, start: usize, end: usize) -> bool {
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
    fn dashed(&mut self, start: usize, end: usize) -> bool {
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
            self.slip(start, end, "a fraction cannot have 0 below its line");
        }
        let mended = (gap > 0).then(|| {
            let split = self.between(start, first + whole);
            format!("{split} {}", self.between(first + whole + gap, end))
        });
        self.number_token(start, end, mended.filter(|mended| *mended != typed));
        true
    }

    /// `2 000`, or two numbers side by side after a lost sign.
    fn parted(&mut self, start: usize, first: usize, whole: usize) -> bool {
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

/// `text` with a look-alike of its sign put right.
fn plain_sign(text: &str) -> Option<String> {
    let sign = text.chars().next().filter(|c| !c.is_ascii())?;
    let instead =
        look_alike(sign).map(|found| found.instead).filter(|instead| matches!(*instead, "-" | "+"))?;
    Some(format!("{instead}{}", text.get(sign.len_utf8()..)?))
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

/// A number that is written with other digits than 0 to 9: its bytes and what it means.
fn disguised(text: &str) -> Option<(usize, String)> {
    let mut mended = String::new();
    let mut length = 0;
    let mut odd = false;
    for (at, c) in text.char_indices() {
        let instead = look_alike(c).map(|found| found.instead);
        match instead {
            _ if c.is_ascii_digit() => mended.push(c),
            Some(fraction) if fraction.contains('/') && fraction.len() > 1 => {
                if !mended.is_empty() {
                    mended.push(' ');
                }
                mended.push_str(fraction);
                return Some((at + c.len_utf8(), mended));
            }
            Some(digit) if digit.starts_with(|c: char| c.is_ascii_digit()) && !c.is_alphabetic() => {
                mended.push_str(digit);
                odd = true;
            }
            Some(".") => {
                mended.push('.');
                odd = true;
            }
            _ if c == '.' && odd && text.get(at + 1..).is_some_and(|rest| !rest.starts_with('.')) => {
                mended.push('.')
            }
            _ => break,
        }
        length = at + c.len_utf8();
    }
    odd.then_some((length, mended))
}

/// A number with the letter O for a zero or the letter l or I for a one: its bytes and what it means. `2l` is two litres.
fn lettered(text: &str) -> Option<(usize, String)> {
    let length = text.bytes().take_while(|b| b.is_ascii_alphanumeric() || *b == b'.').count();
    let run = text.get(..length)?.trim_end_matches('.');
    let tail = run.get(decimal(run)..)?;
    let looks = |c: char| c.is_ascii_digit() || matches!(c, '.' | 'O' | 'o' | 'l' | 'I');
    let goes_on = text.get(run.len()..)?.starts_with(|c| in_word(c) || c == '-');
    if tail.is_empty() || goes_on || run.contains("..") || !run.chars().all(looks) {
        return None;
    }
    if matches!(dwell_quantity::lookup(tail), dwell_quantity::Lookup::Unit(_)) {
        return None;
    }
    Some((run.len(), run.replace(['O', 'o'], "0").replace(['l', 'I'], "1")))
}

/// Year, month and day at the start of `text`, if ten characters there have the form of a date.
fn date(text: &str) -> Option<[u32; 3]> {
    let (year, rest) = text.split_at_checked(4)?;
    let (month, rest) = rest.strip_prefix('-')?.split_at_checked(2)?;
    let (day, rest) = rest.strip_prefix('-')?.split_at_checked(2)?;
    let plain = [year, month, day].iter().all(|part| part.bytes().all(|b| b.is_ascii_digit()));
    let ends = !rest.starts_with(in_word);
    if !plain || !ends {
        return None;
    }
    Some([year.parse().ok()?, month.parse().ok()?, day.parse().ok()?])
}

/// Whether the Gregorian calendar has this day.
fn real_day(year: u32, month: u32, day: u32) -> bool {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let length = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=length).contains(&day)
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
