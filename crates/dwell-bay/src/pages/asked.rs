//! What is asked: the cautions first, each with its signal word, then the instruction and all that belongs to it, then the answer.

use super::parts::{button, caution, keeping, located};
use super::scale::{place, scale};
use crate::clock::millis;
use crate::job::Look;
use dwell_quantity::{Unit, band_shown};
use dwell_record::event::Doing;
use dwell_run::shown::{Waiting, before, in_unit, in_words, name_of, units};
use dwell_run::{Confirm, Prompt, QuestionPrompt, ReadingPrompt, SignPrompt};
use maud::{Markup, html};

/// The question of the moment, inside of its form. `mine` says whether this device answers.
pub(crate) fn asked(look: &Look, mine: bool) -> Markup {
    html! {
        @for known in look.prompt.cautions() { (caution(known)) }
        @match &look.prompt {
            Prompt::Confirm(confirm) => (confirmed(look, confirm, mine)),
            Prompt::Need { says, located: at, .. } => {
                h2.says { (says) }
                p.more { "Is that so?" }
                (located(at))
                @if mine { div.buttons { (button("yes", "Yes", "strong")) (button("no", "No", "")) } }
            },
            Prompt::Reading(reading) => (read(look, reading, mine)),
            Prompt::Question(question) => (questioned(question, mine)),
            Prompt::Sign(sign) => (signed(sign, mine)),
            Prompt::Done { .. } => {},
        }
        (keeping(&look.session.keeping(), mine))
    }
}

fn confirmed(look: &Look, confirm: &Confirm, mine: bool) -> Markup {
    let waiting = Waiting::of(&look.session);
    let left = waiting.as_ref().map_or(0, |waiting| waiting.left(&look.at));
    let words = match confirm.doing {
        Doing::Work => "Done",
        Doing::Wait if left > 0 && look.hurried => "Go on before the time is over",
        Doing::Wait => "Go on",
        Doing::Note => "I have read it",
    };
    html! {
        h2.says { (confirm.says) }
        @if let Some(text) = &confirm.text { p.more { (text) } }
        (located(&confirm.located))
        @for tool in &confirm.tools { p.more { "with the " (tool) } }
        @if let Some(band) = &confirm.band { p.limit { "to " (band) } }
        @if let Some(set) = &confirm.setting { p.limit { "with the adapter, set to " (set) } }
        @if let Some(condition) = &confirm.condition { p.more { (condition) } }
        @if let Some(waiting) = &waiting {
            p.clock data-until=(millis(&waiting.from) + i64::try_from(waiting.seconds).unwrap_or_default() * 1000) data-now=(millis(&look.at)) data-seconds=(waiting.seconds) {
                span.value { (in_words(left)) } " " span.left { (if left > 0 { "left" } else { "the time is over" }) }
            }
        }
        @if mine { div.buttons { (button("done", words, "strong")) } }
    }
}

fn questioned(question: &QuestionPrompt, mine: bool) -> Markup {
    html! {
        h2.says { (question.text) }
        @if mine {
            // Each answer is a form of its own kind: one tap answers.
            input type="hidden" name="do" value="choice";
            div.buttons.answers {
                @for value in &question.values {
                    button.button type="submit" name="text" value=(value) { (value) }
                }
            }
        } @else { ul.notes { @for value in &question.values { li { (value) } } } }
    }
}

fn signed(sign: &SignPrompt, mine: bool) -> Markup {
    html! {
        h2.says { (sign.title) }
        p.more { (if sign.of > 1 { "Two persons sign." } else { "To be signed." }) }
        @for name in &sign.signed { p.more { "signed: " (name) } }
        @if mine {
            label for="name" { (if sign.person > 1 { "Name of the second person" } else { "Name" }) }
            input.words #name name="name" autocomplete="off" maxlength="80" data-first;
            div.buttons { (button("sign", "Sign", "strong")) }
        }
    }
}

/// A reading: on a wide screen what is asked stands beside where it is typed.
fn read(look: &Look, reading: &ReadingPrompt, mine: bool) -> Markup {
    let unit = look.unit.unwrap_or(reading.unit);
    html! {
        div.read {
            div {
                h2.says { (reading.says) }
                @if let Some(text) = &reading.text { p.more { (text) } }
                @if let Some(tool) = reading.tool.as_ref().filter(|tool| !reading.says.contains(tool.as_str())) {
                    p.more { "with the " (tool) }
                }
                (limits(reading, unit))
                @if let Some(signs) = &reading.signs { p.more { (signs) } }
                @for condition in &reading.conditions { p.more { (condition) } }
                (live(look))
            }
            @if mine { div { (typed(look, reading, unit)) } }
        }
    }
}

/// Where a value is typed: the largest thing, with what was understood below it.
fn typed(look: &Look, reading: &ReadingPrompt, unit: Unit) -> Markup {
    let before = before(&look.session, reading);
    html! {
        label.name for="text" { (name_of(reading)) @if !before.is_empty() { ", before: " (before) } ":" }
        @if let Some(sampled) = &reading.sampled { p.more { (sampled.how(unit.symbol())) } }
        div.entry {
            input.reading #text name="text" value=(look.typed) inputmode="decimal" autocomplete="off" spellcheck="false"
                maxlength=(if reading.sampled.is_some() { 2000 } else { 60 }) data-first enterkeyhint="done"
                aria-describedby="understood";
            span.unit { (unit.symbol()) }
        }
        p #understood .more.understood aria-live="polite" {}
        div.buttons {
            // The first button of a form is what Enter means.
            button #take .button.strong type="submit" name="do" value="value" { "Take this value" }
            @let take = look.live.as_ref().and_then(|live| live.take);
            button #take-live .button.strong type="submit" name="do" value="live" hidden[take.is_none()] { (take.unwrap_or_default()) }
            @match look.live.as_ref().filter(|_| reading.sampled.is_some()) {
                Some(live) if live.name.is_none() => (button("anew", "Begin to measure now", "")),
                Some(live) if live.measuring => (button("anew", "Measure anew", "")),
                _ => {},
            }
            (button("no-reading", "Not readable", ""))
            @if units(reading).len() > 1 { (button("unit", "Other unit", "")) }
        }
    }
}

/// The limits as numbers, in the unit that is typed too, and as a bar.
fn limits(reading: &ReadingPrompt, unit: Unit) -> Markup {
    let drawn = reading.held.first().filter(|_| reading.sampled.is_none() || reading.bands.len() == 1);
    html! {
        @for (at, words) in reading.bands.iter().enumerate() {
            @let other = reading.held.get(at).filter(|_| unit != reading.unit);
            // The same rounding as everywhere: inwards, never a looser limit.
            @let other = other.map(|held| format!(", {}", band_shown(&held.band, unit, reading.kind, reading.decimals)));
            p.limit { @if !words.starts_with("set to") { "band " } (words) (other.unwrap_or_default()) }
        }
        @if let Some(held) = drawn {
            @let band = in_unit(&held.band, reading.unit, reading.kind);
            @let says = reading.bands.first().map_or_else(String::new, |words| format!("band {words}"));
            @if let Some(drawn) = scale(&band, None, &says) { (drawn) }
        }
    }
}

/// What an instrument sends.
fn live(look: &Look) -> Markup {
    let known = look.live.as_ref();
    let at = known.and_then(|known| Some(place(known.spot?, known.ends.0, known.ends.1)));
    html! {
        section.live #live hidden[known.is_none()] data-at=[at] {
            p #live-name { (shows(known.and_then(|known| known.name.as_deref()))) }
            p.value #live-value { (known.map_or("", |known| known.shown.as_str())) }
            p.more #live-stands { (known.map_or("", |known| known.stands.as_str())) }
        }
    }
}

/// `DMM-9 shows, not taken yet:`.
fn shows(name: Option<&str>) -> String {
    format!("{} shows, not taken yet:", name.unwrap_or("The instrument"))
}
