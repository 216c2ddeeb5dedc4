//! The field in which an answer is typed: the largest thing on the screen, with what was understood and why it was not taken.

use super::clock::Clock;
use super::desk::Desk;
use super::digits::big;
use super::rows::{Row, columns, inked, told};
use super::source;
use super::view::{Look, clock};
use crate::screen::Ink;
use dwell_run::shown::{before, name_of, understood};
use dwell_run::{Prompt, ReadingPrompt, Session};
use time::OffsetDateTime;

/// The field for what is asked.
pub(super) fn field(desk: &Desk, session: &Session, now: OffsetDateTime, look: Look) -> Vec<Row> {
    let prompt = session.ask();
    let mut rows = message(desk, look);
    match &prompt {
        Prompt::Reading(reading) => {
            rows.extend(source::rows(desk, reading, look));
            if desk.live.is_none() || !desk.typed.is_empty() {
                rows.extend(reading_field(desk, session, reading, look));
            }
        }
        Prompt::Sign(sign) => {
            let name = if sign.person > 1 { "name of the second person" } else { "name" };
            rows.extend(words_of(name, &desk.typed, look));
        }
        Prompt::Confirm(_) => {
            rows.extend(Clock::of(session).into_iter().flat_map(|waiting| clock(waiting, now, look)));
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
    let before = before(session, reading);
    let before = if before.is_empty() { before } else { format!(", before: {before}") };
    let name = format!("{}{before}:", name_of(reading));
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
    let Ok(answer) = desk.value(reading) else { return Vec::new() };
    let words = understood(&desk.typed, &answer, reading);
    words.iter().flat_map(|words| told(None, "  ", words, look.width)).collect()
}
