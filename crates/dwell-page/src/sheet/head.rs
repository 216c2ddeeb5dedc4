//! The head of a sheet: what it is for, the code, boxes for vehicle, day and person, what is dangerous, what is needed.

use super::code::qr;
use crate::head::{about, connecting, hazards, new_parts};
use crate::vehicle::Vehicle;
use crate::words::{plain, upper_first};
use dwell_card::Card;
use maud::{Markup, html};

/// How many characters the number of a vehicle has: ISO 3779.
const VIN: usize = 17;

pub(super) fn head(card: &Card, vehicle: &Vehicle, hash: &str, short: &str) -> Markup {
    html! {
        header data-node="0" {
            div.top {
                div {
                    h1 { (card.title) }
                    p.about {
                        span { (plain(&card.procedure)) }
                        @if let Some(revision) = &card.revision {
                            span { "revision " (revision.number) " of " (revision.date) }
                        }
                    }
                    p { "Card " strong.code { (short) } }
                    @if let Some(withdrawn) = &card.withdrawn {
                        p.withdrawn { strong { "Withdrawn from " (withdrawn.on) " on. " } (withdrawn.why) }
                    }
                }
                div.back { (qr(&format!("dwell card {hash}"))) }
            }
            div.fields {
                div.field.wide { span.label { "Vehicle number" } span.comb { @for _ in 0..VIN { span {} } } }
                div.field { span.label { "Order" } span.box {} }
                div.field { span.label { "Distance (km or mi)" } span.box {} }
                div.field { span.label { "Date (year-month-day)" } span.box {} }
                div.field { span.label { "Begun at" } span.box {} }
                div.field.double { span.label { "Done by" } span.box {} }
                @for (place, axis) in card.axes.iter().enumerate() {
                    div.field.double {
                        span.label { (upper_first(&plain(&axis.name))) }
                        span.choices {
                            @match vehicle.value(place).and_then(|value| axis.values.get(value)) {
                                Some(value) => strong { (plain(value)) },
                                None => { @for value in &axis.values { span { span.tick {} (plain(value)) } } }
                            }
                        }
                    }
                }
            }
            p.notice { (card.notice) }
            p.faint {
                "A wrong value is struck through once, so that it stays readable, with the right one and initials beside it. "
                "A line without a tick was not done; a number that is missing belongs to other vehicles. Where something cannot be done, say so at the end and go on with what is put back."
            }
            @if card.guarded {
                p { "Decided with the tool's accuracy as guard band: what lies nearer to a limit than that is out." }
            }
        }
        (hazards(card))
        (equipment(card))
    }
}

fn equipment(card: &Card) -> Markup {
    let parts = new_parts(card);
    html! {
        @if !card.tools.is_empty() || !parts.is_empty() {
            section.equipment {
                h2 { "What you need" }
                table.needed {
                    thead { tr { th { "Tool or new part" } th { "Number" } th { "Good until" } } }
                    tbody {
                        @for tool in &card.tools {
                            tr {
                                td {
                                    span.tick {} strong { (tool.label) }
                                    @let about = about(tool);
                                    @if !about.is_empty() { div.faint { (about.join(", ")) } }
                                    @for how in connecting(card, tool) { div.faint { (how) } }
                                }
                                td.blank {}
                                td.blank {}
                            }
                        }
                        @for part in parts {
                            tr { td { span.tick {} "new, used once: " strong { (part) } } td.blank {} td.none {} }
                        }
                    }
                }
            }
        }
    }
}
