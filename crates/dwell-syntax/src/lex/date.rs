//! Dates: year-month-day, and the forms that are refused.

use super::TokenKind;
use super::letters::in_word;
use super::scan::Scan;
use crate::tree::Span;

impl Scan<'_> {
    /// `2031-02-11`.
    pub(super) fn read_date(&mut self, start: usize) -> bool {
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

    /// `11.02.2031`: a date as people write it in letters.
    pub(super) fn pointed_date(&mut self, start: usize) -> bool {
        let Some((length, [year, month, day])) = pointed(self.from(start)) else { return false };
        let end = start + length;
        self.skip_to(end);
        let typed = self.between(start, end).to_owned();
        let slip = self.slip(start, end, format!("`{typed}` is neither a number nor a date"));
        slip.help("a date is written year-month-day, such as 2031-02-11");
        if day > 12 && real_day(year, month, day) {
            slip.fix(Span::new(start, end), format!("{year:04}-{month:02}-{day:02}"));
        }
        self.token(TokenKind::Date, start, end);
        true
    }
}

/// Year, month and day at the start of `text`, if ten characters there have the form of a date.
pub(super) fn date(text: &str) -> Option<[u32; 3]> {
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

/// The bytes and the year, month and day of `11.02.2031` at the start of `text`.
fn pointed(text: &str) -> Option<(usize, [u32; 3])> {
    let length = text.bytes().take_while(|b| b.is_ascii_digit() || *b == b'.').count();
    let run = text.get(..length)?;
    let (day, rest) = run.split_once('.')?;
    let (month, year) = rest.split_once('.')?;
    let fits = day.len() <= 2 && month.len() <= 2 && year.len() == 4;
    let numbers = [year.parse().ok()?, month.parse().ok()?, day.parse().ok()?];
    fits.then_some((length, numbers))
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
