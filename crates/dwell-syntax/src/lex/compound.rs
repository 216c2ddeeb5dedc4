//! Compound numbers: degrees with minutes, hours with minutes, in one token.

use super::TokenKind;
use super::number::decimal;
use super::scan::Scan;
use super::sign::blanks;
use super::spellings::parted;
use crate::tree::Span;

impl Scan<'_> {
    /// Degrees with minutes, or hours with minutes, as one token. The first number stands at `start` to `end`.
    pub(super) fn compound(&mut self, start: usize, end: usize, mended: Option<&str>) -> bool {
        let first = mended.unwrap_or_else(|| self.between(start, end));
        if !first.trim_start_matches(['+', '-']).bytes().all(|b| b.is_ascii_digit()) {
            return false;
        }
        let mut text = first.to_owned();
        let mut stop = end;
        let mut pieces = 0;
        let mut rank = None;
        let mut odd = None;
        let mut digits_end = end;
        loop {
            let gap = blanks(self.from(digits_end));
            let Some(mark) = mark(self.from(digits_end + gap), rank) else { break };
            stop = digits_end + gap + mark.length;
            pieces += 1;
            if mark.odd {
                odd = odd.or(Some((digits_end + gap, stop, mark.written.trim())));
            }
            text.push_str(mark.written);
            rank = Some(mark.rank);
            let gap = blanks(self.from(stop));
            let number = decimal(self.from(stop + gap));
            if number == 0 || mark.last() {
                break;
            }
            digits_end = stop + gap + number;
            let next = self.from(digits_end);
            let Some(_) = self::mark(next.get(blanks(next)..).unwrap_or(""), rank) else { break };
            text.push(' ');
            text.push_str(self.between(stop + gap, digits_end));
        }
        if pieces < 2 {
            return false;
        }
        self.skip_to(stop);
        self.token(TokenKind::Compound, start, stop);
        if text != self.between(start, stop) {
            self.mend(text);
        }
        if let Some((from, to, written)) = odd {
            self.slip_of(
                "look-alike-character",
                from,
                to,
                format!("this part of an angle is written `{written}`"),
            )
            .fix(Span::new(from, to), written);
        }
        true
    }
}

/// A part of a compound number.
struct Mark {
    /// Its place in the order: degrees 0, minutes 1, seconds 2; hours 10, minutes 11, seconds 12.
    rank: u8,
    length: usize,
    written: &'static str,
    odd: bool,
}

impl Mark {
    fn last(&self) -> bool {
        matches!(self.rank, 2 | 12)
    }
}

/// The mark at the start of `text` that may follow one of rank `after`.
fn mark(text: &str, after: Option<u8>) -> Option<Mark> {
    const MARKS: [(&str, u8, &str, bool); 11] = [
        ("°", 0, "°", false),
        ("deg", 0, "°", false),
        ("º", 0, "°", true),
        ("˚", 0, "°", true),
        ("′", 1, "′", false),
        ("'", 1, "′", true),
        ("\u{2019}", 1, "′", true),
        ("″", 2, "″", false),
        ("h", 10, " h", false),
        ("min", 11, " min", false),
        ("s", 12, " s", false),
    ];
    MARKS.iter().find_map(|(spelling, rank, written, odd)| {
        let rest = text.strip_prefix(spelling)?;
        let lettered = spelling.ends_with(char::is_alphanumeric) && *spelling != "º";
        let fits = match after {
            None => matches!(rank, 0 | 10 | 11),
            Some(after) => *rank > after && rank / 10 == after / 10,
        };
        let ends = !lettered || parted(rest);
        (fits && ends).then_some(Mark { rank: *rank, length: spelling.len(), written, odd: *odd })
    })
}
