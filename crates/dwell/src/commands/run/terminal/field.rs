//! The field in which an answer is typed: the largest thing on the screen, with what was understood and why it was not taken.

use super::clock::Waiting;
use super::desk::Desk;
use super::digits::big;
use super::rows::{Row, columns, inked, told};
use super::view::{Look, clock};
use crate::screen::Ink;
use dwell_card::meaning::Value;
use dwell_quantity::{band_shown, shown};
use dwell_record::What;
use dwell_run::{Answer, Prompt, ReadingPrompt, Session, typed_value};
use time::OffsetDateTime;

/// The field for what is asked.
pub(super) fn field(desk: &Desk, session: &Session, now: OffsetDateTime, look: Look) -> Vec<Row> {
    let prompt = session.ask();
    let mut rows = message(desk, look);
    match &prompt {
        Prompt::Reading(reading) => rows.extend(reading_field(desk, session, reading, look)),
        Prompt::Sign(sign) => {
            let name = if sign.person > 1 { "name of the second person" } else { "name" };
            rows.extend(words_of(name, &desk.typed, look));
        }
        Prompt::Confirm(_) => {
            rows.extend(Waiting::of(session).into_iter().flat_map(|waiting| clock(waiting, now, look)));
        }
        Prompt::Need { .. } | Prompt::Question(_) | Prompt::Done { .. } => {}
    }
    rows
}

/// A field for words.
pub(super) fn words(name: &str, desk: &Desk, look: Look) -> Vec<Row> {
    let mut rows = message(desk, look);
    rows.extend(words_of(name, &desk.typed, look));
    rows
}

fn words_of(name: &str, typed: &str, look: Look) -> Vec<Row> {
    let mut rows = told(Some(Ink::Blue), "", &format!("{name}:"), look.width);
    rows.push(vec![inked(
        Ink::Bold,
        &format!("  {}", with_cursor(typed, look.width.saturating_sub(2), look)),
    )]);
    rows
}

/// What is typed with the cursor; of a long text its end.
fn with_cursor(typed: &str, width: usize, look: Look) -> String {
    let cursor = if look.ascii { "_" } else { "█" };
    let mut letters: Vec<char> = typed.chars().collect();
    let mut cut = false;
    while columns(&letters.iter().collect::<String>()) + 3 > width && !letters.is_empty() {
        letters.remove(0);
        cut = true;
    }
    let mark = if cut { "<" } else { "" };
    format!("{mark}{}{cursor}", letters.into_iter().collect::<String>())
}

fn message(desk: &Desk, look: Look) -> Vec<Row> {
    desk.message.iter().flat_map(|words| told(Some(Ink::Yellow), "! ", words, look.width)).collect()
}

fn reading_field(desk: &Desk, session: &Session, reading: &ReadingPrompt, look: Look) -> Vec<Row> {
    let unit = desk.unit(reading);
    let name = match &reading.place {
        Some(place) => format!("{}, {place}", reading.name),
        None => reading.name.clone(),
    };
    let round =
        if reading.of > 1 { format!(" ({} of {})", reading.round, reading.of) } else { String::new() };
    let before = before(session, reading);
    let before = if before.is_empty() { before } else { format!(", before: {before}") };
    let name = format!("{}{round}{before}:", name.replace('-', " "));
    let mut rows = told(Some(Ink::Blue), "", &name, look.width);
    let typed = desk.typed.replace(',', ".");
    match big(&typed, look.width.saturating_sub(20), look.ascii).filter(|_| look.roomy) {
        Some(digits) => {
            let last = digits.len().saturating_sub(1);
            rows.extend(digits.into_iter().enumerate().map(|(place, row)| {
                let behind = if place == last {
                    format!(" {} {unit}", with_cursor("", 4, look))
                } else {
                    String::new()
                };
                vec![inked(Ink::Bold, &format!("  {row}{behind}"))]
            }));
        }
        None => {
            // A unit that is typed takes the place of the one asked for.
            let own = desk.typed.trim_end().ends_with(|c: char| !c.is_ascii_digit() && !",.".contains(c));
            let unit = if own { "" } else { unit.symbol() };
            let shown = with_cursor(&desk.typed, look.width.saturating_sub(columns(unit) + 3), look);
            rows.push(vec![inked(Ink::Bold, format!("  {shown} {unit}").trim_end())]);
        }
    }
    rows.extend(echo(desk, reading, look));
    rows
}

/// What was understood, where it is not letter by letter what is typed in the unit that is asked for.
fn echo(desk: &Desk, reading: &ReadingPrompt, look: Look) -> Vec<Row> {
    if desk.typed.is_empty() || reading.sampled.is_some() {
        return Vec::new();
    }
    let Ok(Answer::Value { text, unit }) = desk.value(reading) else { return Vec::new() };
    let unit = unit.unwrap_or_default();
    let Some(Value::Read(band)) = typed_value(&text, &unit, reading.kind) else { return Vec::new() };
    let decimals = reading.decimals.saturating_add(2);
    let understood = match (&band.low, &band.high) {
        (Some(low), Some(high)) if low.value == high.value => {
            shown(&low.value, reading.unit, reading.kind, decimals)
        }
        _ => band_shown(&band, reading.unit, reading.kind, decimals),
    };
    let own_unit = text.ends_with(|c: char| !c.is_ascii_digit());
    let asked = unit == reading.unit.symbol();
    if text == desk.typed.trim() && asked && !own_unit {
        return Vec::new();
    }
    let words = match (asked && !own_unit, own_unit || unit.is_empty()) {
        (true, _) => format!("taken as {text} {unit}"),
        (false, true) => format!("taken as {text} = {understood}"),
        (false, false) => format!("taken as {text} {unit} = {understood}"),
    };
    told(None, "  ", &words, look.width)
}

/// The values of this measurement that were typed before this one.
fn before(session: &Session, reading: &ReadingPrompt) -> String {
    let sampled = session.events().iter().rev().map_while(|event| match &event.what {
        What::Sampled(sampled) => Some(sampled),
        _ => None,
    });
    let mut all: Vec<String> = sampled
        .filter(|sampled| sampled.reading.number == reading.reading && sampled.round < reading.round)
        .map(|sampled| sampled.sample.words())
        .collect();
    all.reverse();
    all.join(", ")
}
