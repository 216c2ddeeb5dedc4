//! What was so before the work, and the work itself, in order.

use super::{part, time};
use crate::head::signal_word;
use dwell_record::event::Doing;
use dwell_record::{Event, Report, What};
use maud::{Markup, html};

/// What was asked before the work and at its decisions: needs and questions.
pub(super) fn before(events: &[Event]) -> Markup {
    let rows: Vec<Markup> = events
        .iter()
        .filter_map(|event| match &event.what {
            What::NeedAnswered(need) => Some(row(
                event,
                html! { (need.says.trim_end_matches('.')) },
                match (need.holds, need.asked) {
                    (true, true) => "yes",
                    (false, true) => "no",
                    (true, false) => "yes, known from this job",
                    (false, false) => "no: a proof was needed first",
                },
            )),
            What::Answered(answered) => Some(row(event, html! { (answered.text) }, &answered.answer)),
            What::Chosen(chosen) => {
                let what =
                    html! { "Size chosen for " (chosen.reading.words()) ", nearest to " (chosen.wanted) };
                Some(row(event, what, &chosen.shown))
            }
            _ => None,
        })
        .collect();
    html! {
        @if !rows.is_empty() {
            section.part {
                h2 { "Conditions and answers" }
                table.list {
                    thead { tr { th { "Time" } th { "What was asked" } th { "Answer" } } }
                    tbody { @for row in &rows { (row) } }
                }
            }
        }
    }
}

fn row(event: &Event, what: Markup, answer: &str) -> Markup {
    html! { tr { td.time { (time(&event.at)) } td { (what) } td { strong { (answer) } } } }
}

/// The work by hand, with what was set and with which tool.
pub(super) fn work(events: &[Event]) -> Markup {
    let mut rows: Vec<Markup> = Vec::new();
    for event in events {
        match &event.what {
            What::Opened(procedure) => {
                rows.push(html! { tr.title { td colspan="3" { (procedure.title) } } });
            }
            What::StepBegun(step) => rows.push(html! { tr.step { td colspan="3" { (step.title) } } }),
            What::Done(done) if done.doing != Doing::Note => rows.push(html! {
                tr {
                    td.time { (time(&event.at)) }
                    td {
                        (done.says)
                        @if let Some(more) = &done.text { " " (more) }
                        @if let Some(band) = &done.band { div { "to " strong { (band) } } }
                        @if let Some(setting) = &done.setting { div { "set to " strong { (setting) } } }
                    }
                    td { (done.tools.join(", ")) }
                }
            }),
            What::Cannot(cannot) => rows.push(note(event, "cannot", &cannot.words())),
            What::Stopped(why) => rows.push(note(event, "STOP", &why.text)),
            What::Lost(lost) => rows.push(note(event, "not held", &lost.says)),
            What::Cause(cause) => {
                let words = cause
                    .text
                    .as_ref()
                    .map_or_else(|| cause.item.clone(), |why| format!("{}: {why}", cause.item));
                rows.push(note(event, "probable cause", &words));
            }
            _ => {}
        }
    }
    let some = events.iter().any(|event| match &event.what {
        What::Done(done) => done.doing != Doing::Note,
        What::Cannot(_) | What::Stopped(_) | What::Lost(_) | What::Cause(_) => true,
        _ => false,
    });
    html! {
        @if some {
            section.part {
                h2 { "The work, in its order" }
                table.list.work {
                    thead { tr { th { "Time" } th { "What was done" } th { "Tool" } } }
                    tbody { @for row in &rows { (row) } }
                }
            }
        }
    }
}

fn note(event: &Event, word: &str, words: &str) -> Markup {
    html! { tr { td.time { (time(&event.at)) } td colspan="2" { strong { (word) ": " } (words) } } }
}

/// The cautions that were shown.
pub(super) fn cautions(sums: &Report) -> Markup {
    let lines: Vec<Markup> = sums
        .cautions
        .iter()
        .map(|caution| html! { (signal_word(&caution.level)) " " (caution.text) })
        .collect();
    part("Cautions that were shown", &lines)
}
