//! The times of a sheet of paper that is typed in: a day is given once, each line may begin with the time that stands on the sheet.

use super::now;
use anyhow::Context;
use dwell_record::event::{By, FromPaper};
use std::collections::BTreeMap;
use time::format_description::well_known::Rfc3339;
use time::{Date, OffsetDateTime, Time, UtcOffset};

/// Where the typing stands.
pub(crate) struct Sheet {
    /// Who types.
    by: By,
    /// The last time that was typed.
    at: OffsetDateTime,
    /// The numbers of the sheet's lines, by their nodes.
    lines: BTreeMap<usize, String>,
}

impl Sheet {
    /// Begins at a moment of the sheet.
    pub(crate) fn new(by: By, at: OffsetDateTime) -> Sheet {
        Sheet { by, at, lines: BTreeMap::new() }
    }

    /// With the numbers that its lines have.
    pub(crate) fn with_lines(self, lines: BTreeMap<usize, String>) -> Sheet {
        Sheet { lines, ..self }
    }

    /// The number of a line.
    pub(super) fn line(&self, node: usize) -> Option<&str> {
        self.lines.get(&node).map(String::as_str)
    }

    /// The time on the sheet that counts now.
    pub(crate) fn now(&self) -> anyhow::Result<String> {
        self.at.format(&Rfc3339).context("this time cannot be written")
    }

    /// Who types, and when.
    pub(crate) fn typed(&self) -> anyhow::Result<FromPaper> {
        Ok(FromPaper { by: self.by.clone(), at: now()? })
    }

    /// Takes `09:14`, or `2031-04-13 00:05`, off the beginning of a line; the rest is the answer. A line without a time is of the
    /// time before.
    pub(super) fn timed(&mut self, line: &str) -> Result<String, String> {
        let line = line.trim();
        let (first, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
        let (day, clock, rest) = match day(first) {
            Some(day) => {
                let (clock, rest) =
                    rest.trim_start().split_once(char::is_whitespace).unwrap_or((rest.trim(), ""));
                (Some(day), clock, rest)
            }
            None => (None, first, rest),
        };
        let Some(clock) = clock_of(clock) else {
            return match day {
                Some(day) => {
                    Err(format!("behind the day {day} its time is missing: `{day} 00:05`, then the answer"))
                }
                None => Ok(line.to_owned()),
            };
        };
        let clock = clock?;
        let at = OffsetDateTime::new_in_offset(day.unwrap_or(self.at.date()), clock, self.at.offset());
        if at < self.at {
            return Err(format!(
                "{} is before {}, which was typed last: the times of a sheet do not run backwards. Read it again; after midnight \
                 type the day too, as in `{} 00:05`",
                shown(at),
                shown(self.at),
                self.at.date().next_day().unwrap_or(self.at.date())
            ));
        }
        if at > OffsetDateTime::now_utc() {
            return Err(format!("{} has not come yet: read the time on the sheet again", shown(at)));
        }
        self.at = at;
        Ok(rest.trim().to_owned())
    }
}

fn shown(at: OffsetDateTime) -> String {
    let (date, time) = (at.date(), at.time());
    format!("{date} {:02}:{:02}", time.hour(), time.minute())
}

/// Reads `2031-04-13`.
pub(crate) fn day(text: &str) -> Option<Date> {
    dwell_tools::day(text).filter(|_| text.len() == 10)
}

/// Reads `9:14`, `09:14`, `09:14:30`; none where it does not look like a time, wrong where there is no such one.
pub(crate) fn clock_of(text: &str) -> Option<Result<Time, String>> {
    let parts: Vec<&str> = text.split(':').collect();
    let digits =
        |part: &&str| (1..=2).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
    if !(2..=3).contains(&parts.len()) || !parts.iter().all(digits) {
        return None;
    }
    let number = |place: usize| parts.get(place).map_or(Some(0), |part| part.parse::<u8>().ok());
    let time = || Time::from_hms(number(0)?, number(1)?, number(2)?).ok();
    Some(time().ok_or_else(|| format!("`{text}` is no time of a day: write it as 09:14")))
}

/// Reads `+02:00`, `-05:00`, `Z`.
pub(crate) fn zone(text: &str) -> Result<UtcOffset, String> {
    let wrong = || "write the distance from UTC: +02:00".to_owned();
    if matches!(text, "Z" | "z" | "UTC") {
        return Ok(UtcOffset::UTC);
    }
    let (sign, rest) = match (text.strip_prefix('+'), text.strip_prefix('-')) {
        (Some(rest), _) => (1_i8, rest),
        (_, Some(rest)) => (-1, rest),
        _ => return Err(wrong()),
    };
    let (hours, minutes) = rest.split_once(':').ok_or_else(wrong)?;
    let read =
        |part: &str| part.parse::<i8>().ok().filter(|number| part.len() == 2 && (0..60).contains(number));
    let (hours, minutes) = read(hours).zip(read(minutes)).ok_or_else(wrong)?;
    UtcOffset::from_hms(sign * hours, sign * minutes, 0).map_err(|_| wrong())
}

#[cfg(test)]
mod tests {
    use super::*;
    use time::macros::datetime;

    fn sheet() -> Sheet {
        Sheet::new(By::default(), datetime!(2024-04-12 09:05 +2))
    }

    #[test]
    fn a_line_may_begin_with_its_time_or_with_its_day_too() {
        let mut sheet = sheet();
        assert_eq!(sheet.timed("62.3"), Ok("62.3".to_owned()));
        assert_eq!(sheet.timed("9:14 62.3 Hz"), Ok("62.3 Hz".to_owned()));
        assert_eq!(sheet.now().unwrap(), "2024-04-12T09:14:00+02:00");
        assert_eq!(sheet.timed("09:14"), Ok(String::new()));
        assert_eq!(sheet.timed(" 2024-04-13 00:05   no reading "), Ok("no reading".to_owned()));
        assert_eq!(sheet.now().unwrap(), "2024-04-13T00:05:00+02:00");
    }

    #[test]
    fn no_time_runs_backwards_and_none_lies_ahead() {
        let mut sheet = sheet();
        assert!(sheet.timed("09:04 62").unwrap_err().contains("2024-04-12 09:04 is before 2024-04-12 09:05"));
        assert!(sheet.timed("2024-04-11 23:00").is_err());
        assert!(sheet.timed("24:10 62").unwrap_err().contains("no time of a day"));
        assert!(sheet.timed("2024-04-13 62").unwrap_err().contains("its time is missing"));
        assert!(sheet.timed("9998-01-01 00:00 62").unwrap_err().contains("has not come yet"));
        assert_eq!(sheet.now().unwrap(), "2024-04-12T09:05:00+02:00");
    }

    #[test]
    fn a_zone_is_a_distance_from_utc() {
        assert_eq!(zone("+05:30"), Ok(UtcOffset::from_hms(5, 30, 0).unwrap()));
        assert_eq!(zone("-05:00"), Ok(UtcOffset::from_hms(-5, 0, 0).unwrap()));
        for bad in ["05:00", "+5", "+25:99", "CET", "+-1:00", "+2:0"] {
            assert!(zone(bad).is_err(), "{bad}");
        }
    }
}
