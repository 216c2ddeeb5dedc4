//! What a line has on a sheet that is filled in by hand: its number, boxes for values, times, names; on a screen none of it.

use super::Writer;
use crate::outline::gather;
use crate::sheet::formula::in_words;
use dwell_card::graph::Choose;
use dwell_card::limit::{Formula, Reading};
use maud::{Markup, html};

/// The most signatures of one line.
const MOST_SIGNATURES: u32 = 4;

impl Writer<'_> {
    /// The number of a line.
    pub(crate) fn no(&self, node: usize) -> Markup {
        let number = self.sheet.as_ref().and_then(|numbers| numbers.line(node));
        html! { @if let Some(number) = number { span.no { (number) } " " } }
    }

    /// The number of a step: on a sheet with the letter of its procedure.
    pub(crate) fn step_number(&self, node: usize, number: usize) -> String {
        let own = self.sheet.as_ref().and_then(|numbers| numbers.line(node));
        own.map_or_else(|| number.to_string(), str::to_owned)
    }

    /// A box for the time at which a line was done, one for each round.
    pub(super) fn when(&self, node: usize) -> Markup {
        let rounds = self.sheet.as_ref().map_or(0, |numbers| numbers.rounds(node));
        html! { @if rounds > 0 { span class=(if rounds > 1 { "at many" } else { "at" }) { "time " @for _ in 0..rounds { span.slot {} } } } }
    }

    /// A box for the name of who does a step.
    pub(crate) fn by_whom(&self) -> Markup {
        html! { @if self.sheet.is_some() { span.at { "done by " span.slot {} } } }
    }

    /// Boxes for the values of a reading, a row for each round.
    pub(super) fn boxes(&self, node: usize, reading: &Reading, blanks: u32, judged: bool) -> Markup {
        let rounds = self.sheet.as_ref().map_or(1, |numbers| numbers.rounds(node));
        html! {
            div.reading {
                span.name { (reading.words()) }
                @if !reading.unit.is_empty() { " in " (reading.unit) }
                @if let Some(signs) = reading.signs() { span.faint { " (" (signs) ")" } }
            }
            table.rounds {
                tbody {
                    @for round in 1..=rounds {
                        tr {
                            @if rounds > 1 { td { "round " (round) } }
                            td {
                                @for _ in 0..blanks { span class=(if blanks > 1 { "value-box" } else { "value-box final" }) {} " " }
                                @if blanks > 1 { "→ " span.value-box.final {} }
                            }
                            td { (crate::sheet::sides(judged)) }
                        }
                    }
                }
            }
        }
    }

    /// What a size is to be near to: on a sheet with how it is worked out.
    pub(super) fn nearest(&self, choose: &Choose) -> Markup {
        let wanted = match &choose.nearest {
            Formula::Latest(reading) => self.card.readings.get(*reading),
            _ => None,
        };
        html! {
            @if let (Some(wanted), true) = (wanted, self.sheet.is_some()) {
                div.more {
                    "Wanted: "
                    @match in_words(self.card, wanted) { Some(words) => (words), None => (wanted.words()) }
                    " = " span.value-box {} " " (wanted.unit)
                }
            }
        }
    }

    /// Room for signatures: on a sheet with name, signature and time for each person.
    pub(super) fn signatures(&self, persons: u32) -> Markup {
        html! {
            @for person in 1..=persons.min(MOST_SIGNATURES) {
                @if self.sheet.is_some() {
                    div.signing {
                        div { span.label { @if person > 1 { "Another person: name" } @else { "Name" } } span.box {} }
                        div { span.label { "Signature" } span.box {} }
                        div { span.label { "Time" } span.box {} }
                    }
                } @else {
                    span.write.wide {}
                }
            }
        }
    }

    /// Where it goes on below: on a sheet with the number of that line.
    pub(crate) fn go_on(&self, next: Option<&str>) -> Markup {
        html! {
            @match (next, &self.sheet) {
                (Some(next), Some(_)) => { "go on with " strong { (next) } }
                _ => "go on below",
            }
        }
    }

    /// Behind an end: what is put back then.
    pub(super) fn then_back(&self, frame: usize) -> Markup {
        let first = self.sheet.as_ref().and_then(|numbers| numbers.restore(frame));
        html! { @if let Some(first) = first { " Then put back, from " strong { (first) } " on." } }
    }

    /// The nodes of all lines that can be written out, of this procedure and of those that it performs.
    pub(crate) fn written(&self) -> Vec<usize> {
        let frames = self.outline.frames.iter().flat_map(|frame| {
            let mut all = frame.all_lines();
            frame.steps.iter().for_each(|step| gather(&step.lines, &mut all));
            all
        });
        frames.map(|line| line.node).collect()
    }
}
