//! The readings of a job, each as found and as left, with its verdict, its band and its tool.

use super::{Job, part, time};
use crate::words::{plain, upper_first};
use dwell_record::event::{Measured, ReadingName, Tested};
use dwell_record::report::{Found, ReadingLine};
use dwell_record::{Event, Report, Side, What};
use maud::{Markup, html};

/// The table of all readings.
pub(super) fn section(job: &Job<'_>, sums: &Report) -> Markup {
    let several = sums
        .readings
        .iter()
        .any(|line| sums.begun.as_ref().is_some_and(|begun| begun.procedure != line.reading.procedure));
    html! {
        @if !sums.readings.is_empty() {
            section.part {
                h2 { "Readings, as found and as left" }
                table.list.readings {
                    thead { tr { th { "Reading" } th { "" } th { "Value" } th { "Verdict" } th { "Held against" } th { "Tool, time" } } }
                    @for line in &sums.readings { (one(job.events, line, several)) }
                }
            }
        }
    }
}

/// What was decided besides: steadiness, what readings come to together, answers, states.
pub(super) fn decided(sums: &Report) -> Markup {
    let lines: Vec<Markup> =
        sums.decided.iter().map(|one| html! { (upper_first(one.name())) ": " (one.came()) }).collect();
    part("Decided besides", &lines)
}

fn one(events: &[Event], line: &ReadingLine, several: bool) -> Markup {
    let taken = taken(events, &line.reading);
    let once = line.as_found == line.as_left && line.measured <= 1;
    let rows = if once { "1" } else { "2" };
    html! {
        tbody {
            tr {
                th rowspan=(rows) {
                    (upper_first(&line.reading.words()))
                    @if several { div.faint { "in " (plain(&line.reading.procedure)) } }
                    @if line.measured == 0 { div.faint { "worked out" } }
                }
                (cells(if once { "as found and left" } else { "as found" }, &line.as_found, taken.first().copied(), events, &line.reading))
            }
            @if !once { tr { (cells("as left", &line.as_left, taken.last().copied(), events, &line.reading)) } }
        }
    }
}

fn cells(
    when: &str,
    found: &Found,
    taken: Option<(&Event, &Measured)>,
    events: &[Event],
    reading: &ReadingName,
) -> Markup {
    let words = found.words().unwrap_or_else(|| "not judged".to_owned());
    let guarded = tested(events, reading, found).and_then(|test| test.guarded.clone());
    let is_in = found.side == Some(Side::In);
    html! {
        td.when { (when) }
        td.value {
            (found.value)
            @if let Some(how) = &found.how { div.faint { (how) } }
        }
        td {
            span class=(if is_in || found.side.is_none() { "verdict" } else { "verdict out" }) { (words) }
            @if let Some(uncertain) = &found.uncertain {
                div.faint { "± " (uncertain.uncertainty) ": " (uncertain.verdict.words()) ", probability " (uncertain.conformance) }
            }
        }
        td {
            @if let Some(band) = &found.band { @if found.adjusting { "to be set to " } (band) }
            @if let Some(guarded) = guarded { div.faint { "with guard band " (guarded) } }
        }
        td {
            @if let Some((event, measured)) = taken {
                @match (&measured.tool, &measured.tool_number) {
                    (Some(_), Some(number)) => (number),
                    (Some(tool), None) => { (tool) span.faint { ", number not noted" } },
                    (None, _) => span.faint { "read from the vehicle" },
                }
                div.faint { (time(&event.at)) }
            }
        }
    }
}

/// The times that a reading was taken, without those that were noted wrong.
fn taken<'e>(events: &'e [Event], reading: &ReadingName) -> Vec<(&'e Event, &'e Measured)> {
    let mut all: Vec<(&Event, &Measured)> = Vec::new();
    for event in events {
        match &event.what {
            What::Measured(measured) if measured.reading == *reading => all.push((event, measured)),
            What::Corrected(wrong) if wrong.reading == *reading => {
                all.retain(|(taken, _)| taken.seq < wrong.to)
            }
            _ => {}
        }
    }
    all
}

/// The test that decided by a value.
fn tested<'e>(events: &'e [Event], reading: &ReadingName, found: &Found) -> Option<&'e Tested> {
    let tests = events.iter().filter_map(|event| match &event.what {
        What::Judged(judged) => Some(&judged.tests),
        _ => None,
    });
    let same = |test: &&Tested| {
        test.reading.as_ref() == Some(reading)
            && test.value.as_ref() == Some(&found.value)
            && test.band == found.band
    };
    tests.flatten().find(same)
}
