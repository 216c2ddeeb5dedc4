//! The ways through a card as a flow chart: steps, decisions, loops, what is performed, and the ends.
//!
//! The boxes stand one under the other, each in a row of its own, indented by how deep in decisions they stand. So no box can
//! lie on another, the drawing is never wider than a column of text, and it grows with the procedure only downwards.

mod boxes;
mod draw;
mod layout;

use crate::outline::Outline;
use crate::vehicle::Vehicle;
use boxes::{Chart, Kind};
use dwell_card::Card;
use maud::{Markup, html};

/// The chart, and the same as a list for those who do not see it.
pub(crate) fn ways(card: &Card, vehicle: &Vehicle, outline: &Outline) -> Markup {
    let Some(parts) = outline.frames.first() else { return html! {} };
    let chart = Chart::of(card, vehicle, parts);
    let placed = layout::place(&chart);
    html! {
        section.ways {
            h2 { "The ways through " (card.title) }
            p.faint {
                "Every way out first goes through what is put back. A hexagon is a decision, a dashed line goes back."
            }
            (draw::svg(card, &chart, &placed))
            details {
                summary { "The same in words" }
                ol.ways-list {
                    @for (place, one) in chart.boxes.iter().enumerate() {
                        li {
                            (one.title) @if !one.more.is_empty() { ": " (one.more) }
                            @let ways = chart.edges.iter().filter(|edge| edge.from == place);
                            @for edge in ways {
                                @let to = chart.boxes.get(edge.to).map_or("", |to| to.title.as_str());
                                @let back = if edge.to <= place { "back to " } else { "to " };
                                div { @if !edge.label.is_empty() { (edge.label) ": " } (back) (edge.to + 1) ", " (to) }
                            }
                            @if matches!(one.kind, Kind::Ended(_)) { " (an end)" }
                        }
                    }
                }
            }
        }
    }
}
