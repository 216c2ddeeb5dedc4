//! What came of an answer: each decision with its value, its word and its shape, and what has to be known before going on.

use super::bar::bar;
use super::digits::big;
use super::rows::{Row, inked, plain, told, turned};
use super::view::Look;
use crate::screen::Ink;
use dwell_quantity::{Exact, from_base};
use dwell_record::event::{Measured, Tested};
use dwell_record::{Event, Outcome, Side, Value, What};
use dwell_run::{Prompt, ReadingPrompt, Session};

/// Whether something came that is shown before the next thing is asked.
pub(super) fn is_worth_a_look(events: &[Event], session: &Session) -> bool {
    let over = matches!(session.ask(), Prompt::Done { .. });
    !over
        && events.iter().any(|event| {
            matches!(
                event.what,
                What::Judged(_)
                    | What::Chosen(_)
                    | What::Cause(_)
                    | What::Doubt(_)
                    | What::Ended(_)
                    | What::Lost(_)
            )
        })
}

/// The word of a side with its shape: neither needs colour.
pub(super) fn shape(side: Side, ascii: bool) -> (&'static str, Ink) {
    match (side, ascii) {
        (Side::In, false) => ("■", Ink::Green),
        (Side::Low, false) => ("▼", Ink::Red),
        (Side::High, false) => ("▲", Ink::Red),
        (Side::NoReading, false) => ("○", Ink::Yellow),
        (Side::Other, false) => ("◆", Ink::Red),
        (Side::In, true) => ("=", Ink::Green),
        (Side::Low, true) => ("v", Ink::Red),
        (Side::High, true) => ("^", Ink::Red),
        (Side::NoReading, true) => ("o", Ink::Yellow),
        (Side::Other, true) => ("x", Ink::Red),
    }
}

/// The rows that tell what came.
pub(super) fn rows(events: &[Event], read: Option<&ReadingPrompt>, look: Look) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut measured: Vec<&Measured> = Vec::new();
    let mut last = None;
    let width = look.width;
    for event in events {
        match &event.what {
            What::Begun(begun) => {
                rows.extend(told(Some(Ink::Bold), "", &begun.title, width));
                if let Some(revision) = &begun.revision {
                    rows.extend(told(
                        None,
                        "",
                        &format!("revision {} of {}", revision.number, revision.date),
                        width,
                    ));
                }
                for (axis, value) in &begun.variants {
                    rows.extend(told(None, "", &format!("{} {value}", axis.replace('-', " ")), width));
                }
                rows.push(Vec::new());
            }
            What::NoticeShown(words) => {
                rows.extend(told(None, "", &words.text, width));
                rows.push(Vec::new());
            }
            What::TakenUp(taken) => {
                rows.extend(told(Some(Ink::Bold), "", &taken.words(), width));
                let lists = [
                    ("open", &taken.open),
                    ("run out since", &taken.expired),
                    ("proved before", &taken.proved),
                ];
                for (what, list) in lists {
                    rows.extend(
                        list.iter().flat_map(|one| told(None, "- ", &format!("{what}: {one}"), width)),
                    );
                }
            }
            What::Measured(one) => measured.push(one),
            What::Judged(judged) => {
                for test in &judged.tests {
                    let told = (test.reading.clone(), test.value.clone());
                    // The same value held against the band to set to is not shown twice.
                    let again = told.0.is_some() && last.as_ref() == Some(&told);
                    rows.extend(tested(test, judged.adjusting, again, &measured, read, look));
                    last = Some(told);
                }
            }
            What::Chosen(chosen) => {
                let words =
                    format!("{}: {} (nearest to {})", chosen.reading.words(), chosen.shown, chosen.wanted);
                rows.extend(told(Some(Ink::Bold), "= ", &words, width));
            }
            What::Cause(cause) => {
                let more = cause.text.as_ref().map(|text| format!(": {text}")).unwrap_or_default();
                rows.extend(told(
                    Some(Ink::Bold),
                    "> ",
                    &format!("Probable cause: {}{more}", cause.item),
                    width,
                ));
            }
            What::Doubt(words) => {
                rows.extend(told(Some(Ink::Yellow), "! ", &format!("In doubt: {}", words.text), width));
            }
            What::Lost(lost) => rows.extend(told(Some(Ink::Yellow), "! ", &lost.words(), width)),
            What::Ended(ended) => {
                let word = match ended.outcome {
                    Outcome::Referred => {
                        format!("go on with {}", ended.refer.as_deref().unwrap_or("another procedure"))
                    }
                    other => other.words().to_owned(),
                };
                let more = ended.text.as_ref().map(|text| format!(": {text}")).unwrap_or_default();
                rows.extend(told(Some(Ink::Bold), "> ", &format!("{word}{more}"), width));
            }
            _ => {}
        }
    }
    rows
}

/// One test: the name, the value as the largest thing, the word with its shape, the band and the bar.
fn tested(
    test: &Tested,
    adjusting: bool,
    again: bool,
    measured: &[&Measured],
    read: Option<&ReadingPrompt>,
    look: Look,
) -> Vec<Row> {
    let mut rows = if again { Vec::new() } else { value(test, look) };
    let words = match (test.side, &test.band) {
        (Side::In, None) => "yes".to_owned(),
        (Side::Other, _) => "no".to_owned(),
        _ => test.words(),
    };
    let (shape, ink) = shape(test.side, look.ascii);
    rows.push(vec![plain("  "), turned(Some(ink), &format!(" {shape} {words} "))]);
    let what = if adjusting { "set to" } else { "band" };
    let band = test.guarded.as_ref().or(test.band.as_ref());
    rows.extend(band.iter().flat_map(|band| told(None, "  ", &format!("{what} {band}"), look.width)));
    rows.extend(on_bar(test, adjusting, measured, read, look));
    rows.push(Vec::new());
    rows
}

/// The name of what was tested, and its value as the largest thing.
fn value(test: &Tested, look: Look) -> Vec<Row> {
    let mut rows = Vec::new();
    let name = test.reading.as_ref().map_or_else(|| test.name.clone(), |name| name.words());
    rows.extend(told(Some(Ink::Bold), "", &name, look.width));
    let number = test.value.as_deref().and_then(|value| value.split_once(' '));
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
        _ => rows.extend(test.value.iter().flat_map(|value| told(Some(Ink::Bold), "  ", value, look.width))),
    }
    rows
}

/// The bar with the reading on it, for the reading that was just taken.
fn on_bar(
    test: &Tested,
    adjusting: bool,
    measured: &[&Measured],
    read: Option<&ReadingPrompt>,
    look: Look,
) -> Option<Row> {
    let of = test.reading.as_ref()?;
    let asked = read.filter(|asked| asked.reading == of.number)?;
    let held = asked.held.iter().find(|held| held.adjusting == adjusting)?;
    let mut band = held.band.clone();
    for end in [&mut band.low, &mut band.high].into_iter().flatten() {
        end.value = from_base(&end.value, asked.unit, asked.kind);
    }
    if asked.unit.descending() {
        std::mem::swap(&mut band.low, &mut band.high);
    }
    let one = measured.iter().find(|one| one.reading == *of)?;
    let value: &Exact = match &one.value {
        Value::Number(number) => &number.0,
        Value::Between(_) | Value::NoReading => return None,
    };
    let drawn = bar(&band, Some((value, test.side)), look.width.saturating_sub(2).min(70), look.ascii);
    Some(vec![plain("  "), plain(&drawn)])
}
