//! The end of a sheet: all readings as found and as left, what was not done, the result, who signs.

use super::formula::in_words;
use crate::items::Writer;
use crate::parts::result;
use crate::words::upper_first;
use dwell_card::graph::Act;
use dwell_card::limit::Reading;
use maud::{Markup, html};
use std::collections::BTreeSet;

/// The readings, with large boxes.
pub(super) fn readings(writer: &Writer<'_>) -> Markup {
    let card = writer.card;
    let told: BTreeSet<usize> = writer
        .written()
        .into_iter()
        .filter_map(|node| card.nodes.get(node))
        .flat_map(|node| match &node.act {
            Act::Measure(measure) => measure.readings.clone(),
            Act::Choose(choose) => vec![choose.reading],
            _ => Vec::new(),
        })
        .collect();
    // What a size is chosen by is worked out where it is chosen.
    let chosen: BTreeSet<usize> = card
        .nodes
        .iter()
        .flat_map(|node| match &node.act {
            Act::Choose(choose) => choose.nearest.readings(),
            _ => Vec::new(),
        })
        .collect();
    let judged = |place: usize| !writer.held(place).is_empty();
    let only_here = |place: usize, reading: &Reading| reading.formula.is_some() && !chosen.contains(&place);
    let rows: Vec<_> = card
        .readings
        .iter()
        .enumerate()
        .filter(|(place, reading)| told.contains(place) && judged(*place) || only_here(*place, reading))
        .collect();
    html! {
        @if !rows.is_empty() {
            section.found-left {
                h2 { "As found and as left" }
                table.values {
                    thead {
                        tr { th { "Reading" } th { "Limits" } th { "As found" } th { "" } th { "As left" } th { "" } }
                    }
                    tbody {
                        @for (place, reading) in rows {
                            tr {
                                td { strong { (upper_first(&reading.words())) } @if !reading.unit.is_empty() { " in " (reading.unit) } (worked_out(writer, reading)) }
                                td { (limits(writer, place)) }
                                td.blank {} td.sides { (sides(true)) } td.blank {} td.sides { (sides(true)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// How a reading is worked out by hand, where it is.
fn worked_out(writer: &Writer<'_>, reading: &Reading) -> Markup {
    html! {
        @if reading.formula.is_some() {
            @match in_words(writer.card, reading) {
                Some(words) => div.formula { "= " (words) },
                None => div.formula { "worked out when it is typed in: not by hand from this sheet" },
            }
        }
    }
}

fn limits(writer: &Writer<'_>, reading: usize) -> Markup {
    let held = writer.held(reading);
    html! {
        @for against in &held {
            @for case in &against.cases {
                div {
                    @if !case.when.is_empty() { span.faint { (case.when) ": " } }
                    @if let Some(check) = &case.check { strong { (check.ends) } @for more in &check.others { " (" (more) ")" } }
                    @if let Some(set) = &case.set { @if case.check.is_some() { "; " } "set to " strong { (set.ends) } @for more in &set.others { " (" (more) ")" } }
                }
            }
            @if !against.rows.is_empty() { div { "as the rows of the table say" } }
        }
    }
}

/// The ways in which a value can come out; one that is held against nothing is there or not.
pub(crate) fn sides(judged: bool) -> Markup {
    let words: &[&str] = if judged { &["LOW", "IN", "HIGH", "no reading"] } else { &["no reading"] };
    html! {
        @for word in words { span.side { span.tick {} (word) } " " }
    }
}

/// What was not done, with the reason.
pub(super) fn deviations() -> Markup {
    html! {
        section.deviations {
            h2 { "Not done, not held, noticed" }
            table.values.lines {
                thead { tr { th { "Line" } th { "What, and why" } th { "Time" } th { "Initials" } } }
                tbody { @for _ in 0..4 { tr { td.blank {} td.blank {} td.blank {} td.blank {} } } }
            }
        }
    }
}

/// The result and the signature.
pub(super) fn close() -> Markup {
    html! {
        section.close {
            h2 { "Result" }
            p.outcomes { @for word in ["passed", "adjusted and passed", "failed", "unfinished", "referred"] { span.side { span.tick {} (result(word)) } " " } }
            p { "Still open at the vehicle: " span.write.wide {} }
            div.fields {
                div.field.double { span.label { "Name" } span.box {} }
                div.field.double { span.label { "Signature" } span.box {} }
                div.field { span.label { "Ended at" } span.box {} }
                div.field { span.label { "Typed in as job" } span.box {} }
            }
        }
    }
}
