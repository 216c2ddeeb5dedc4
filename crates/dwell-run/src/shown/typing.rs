//! What belongs to a reading while it is typed: its name, the values before it, and what was understood.

use crate::answer::Answer;
use crate::prompt::ReadingPrompt;
use crate::session::Session;
use crate::typed::typed_value;
use dwell_card::meaning::Value;
use dwell_quantity::{band_shown, shown};
use dwell_record::What;

/// The name of a reading as people say it, with the number of the value where there are several: `run out (2 of 3)`.
pub fn name_of(reading: &ReadingPrompt) -> String {
    let name = match &reading.place {
        Some(place) => format!("{}, {place}", reading.name),
        None => reading.name.clone(),
    };
    let round =
        if reading.of > 1 { format!(" ({} of {})", reading.round, reading.of) } else { String::new() };
    format!("{}{round}", name.replace('-', " "))
}

/// The values of this measurement that were typed before this one: `54.6 Hz, 54.8 Hz`.
pub fn before(session: &Session, reading: &ReadingPrompt) -> String {
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

/// What was understood of a value, where that is not letter by letter what is typed in the unit that is asked for:
/// `taken as 62.3 Hz`.
pub fn understood(typed: &str, answer: &Answer, reading: &ReadingPrompt) -> Option<String> {
    if typed.trim().is_empty() || reading.sampled.is_some() {
        return None;
    }
    let Answer::Value { text, unit } = answer else { return None };
    let unit = unit.as_deref().unwrap_or_default();
    let Some(Value::Read(band)) = typed_value(text, unit, reading.kind) else { return None };
    let decimals = reading.decimals.saturating_add(2);
    let understood = match (&band.low, &band.high) {
        (Some(low), Some(high)) if low.value == high.value => {
            shown(&low.value, reading.unit, reading.kind, decimals)
        }
        _ => band_shown(&band, reading.unit, reading.kind, decimals),
    };
    let own_unit = text.ends_with(|c: char| !c.is_ascii_digit());
    let asked = unit == reading.unit.symbol();
    if *text == typed.trim() && asked && !own_unit {
        return None;
    }
    Some(match (asked && !own_unit, own_unit || unit.is_empty()) {
        (true, _) => format!("taken as {text} {unit}"),
        (false, true) => format!("taken as {text} = {understood}"),
        (false, false) => format!("taken as {text} {unit} = {understood}"),
    })
}
