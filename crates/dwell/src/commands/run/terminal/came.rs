//! What came of an answer, drawn: each decision with its value, its word and its shape, and what has to be known before going on.

use super::bar::bar;
use super::digits::big;
use super::rows::{Row, inked, plain, told, turned};
use super::view::Look;
use crate::screen::Ink;
use dwell_record::{Event, Side};
use dwell_run::ReadingPrompt;
use dwell_run::shown::{Mark, Told, Verdict};

/// The shape of a side, with a colour that nobody needs.
pub(super) fn shape(side: Side, ascii: bool) -> (&'static str, Ink) {
    let (plain, ink) = match side {
        Side::In => ("=", Ink::Green),
        Side::Low => ("v", Ink::Red),
        Side::High => ("^", Ink::Red),
        Side::NoReading => ("o", Ink::Yellow),
        Side::Other => ("x", Ink::Red),
    };
    (if ascii { plain } else { side.shape() }, ink)
}

/// The rows that tell what came.
pub(super) fn rows(events: &[Event], read: Option<&ReadingPrompt>, look: Look) -> Vec<Row> {
    let all = dwell_run::shown::told(events, read);
    all.iter().flat_map(|one| one_told(one, look)).collect()
}

fn one_told(one: &Told, look: Look) -> Vec<Row> {
    let width = look.width;
    match one {
        Told::Begun(title, lines) => {
            let mut rows = told(Some(Ink::Bold), "", title, width);
            rows.extend(lines.iter().flat_map(|line| told(None, "", line, width)));
            rows.push(Vec::new());
            rows
        }
        Told::Notice(words) => {
            let mut rows = told(None, "", words, width);
            rows.push(Vec::new());
            rows
        }
        Told::TakenUp(words, lines) => {
            let mut rows = told(Some(Ink::Bold), "", words, width);
            rows.extend(lines.iter().flat_map(|line| told(None, "- ", line, width)));
            rows
        }
        Told::Verdict(verdict) => verdict_rows(verdict, look),
        Told::Words(Mark::Is, words) => told(Some(Ink::Bold), "= ", words, width),
        Told::Words(Mark::Leads, words) => told(Some(Ink::Bold), "> ", words, width),
        Told::Words(Mark::Heed, words) => told(Some(Ink::Yellow), "! ", words, width),
    }
}

/// One decision: the name, the value as the largest thing, the word with its shape, the band and the bar.
fn verdict_rows(verdict: &Verdict, look: Look) -> Vec<Row> {
    let mut rows = match &verdict.of {
        Some((name, value)) => value_rows(name, value.as_deref(), look),
        None => Vec::new(),
    };
    let (shape, ink) = shape(verdict.side, look.ascii);
    rows.push(vec![plain("  "), turned(Some(ink), &format!(" {shape} {} ", verdict.words))]);
    rows.extend(verdict.band.iter().flat_map(|band| told(None, "  ", band, look.width)));
    rows.extend(verdict.drawn.iter().map(|(band, value)| {
        let wide = look.width.saturating_sub(2).min(70);
        vec![plain("  "), plain(&bar(band, Some((value, verdict.side)), wide, look.ascii))]
    }));
    rows.push(Vec::new());
    rows
}

/// The name of what was tested, and its value as the largest thing.
fn value_rows(name: &str, value: Option<&str>, look: Look) -> Vec<Row> {
    let mut rows = told(Some(Ink::Bold), "", name, look.width);
    let number = value.and_then(|value| value.split_once(' '));
    let digits =
        number.filter(|_| look.roomy).and_then(|(number, _)| big(number, look.width / 2, look.ascii));
    match (digits, number) {
        (Some(digits), Some((_, unit))) => {
            let last = digits.len().saturating_sub(1);
            rows.extend(digits.into_iter().enumerate().map(|(place, row)| {
                let unit = if place == last { format!(" {unit}") } else { String::new() };
                vec![inked(Ink::Bold, &format!("  {row}{unit}"))]
            }));
        }
        _ => rows.extend(value.iter().flat_map(|value| told(Some(Ink::Bold), "  ", value, look.width))),
    }
    rows
}
