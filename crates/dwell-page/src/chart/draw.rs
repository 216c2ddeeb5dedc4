//! A placed chart as SVG.

use super::boxes::{Box, Chart, Kind};
use super::layout::{LINE, Layout, Placed, Route};
use crate::scale::px;
use dwell_card::Card;
use maud::{Markup, html};

/// The mark of a result: told by word and shape, not by colour alone.
pub(crate) fn mark(result: &str) -> &'static str {
    match result {
        "passed" => "✓",
        "failed" => "✕",
        "referred" => "→",
        _ => "‖",
    }
}

/// The drawing.
pub(crate) fn svg(card: &Card, chart: &Chart, layout: &Layout) -> Markup {
    let view = format!("0 0 {} {}", px(layout.wide), px(layout.high));
    let name =
        format!("Flow chart of {}: {} boxes; the list below says the same", card.title, chart.boxes.len());
    html! {
        svg.chart viewBox=(view) width=(px(layout.wide)) height=(px(layout.high)) role="img" aria-label=(name) {
            title { (name) }
            defs {
                marker #tip viewBox="0 0 8 8" refX="7" refY="4" markerWidth="8" markerHeight="8" orient="auto-start-reverse" {
                    path.tip d="M0 0 L8 4 L0 8 z" {}
                }
            }
            @for route in &layout.routes { (line(route)) }
            @for (one, placed) in chart.boxes.iter().zip(&layout.boxes) { (drawn(one, placed)) }
            @for route in &layout.routes { (words(route)) }
        }
    }
}

fn line(route: &Route) -> Markup {
    let points: Vec<String> = route.points.iter().map(|(x, y)| format!("{},{}", px(*x), px(*y))).collect();
    let class = if route.back { "way back" } else { "way" };
    html! { polyline class=(class) points=(points.join(" ")) marker-end="url(#tip)" {} }
}

fn words(route: &Route) -> Markup {
    let (x, y, ends) = route.words_at;
    html! {
        @if !route.label.is_empty() {
            text.way-word x=(px(x)) y=(px(y)) text-anchor=(if ends { "end" } else { "start" }) { (route.label) }
        }
    }
}

fn drawn(one: &Box, placed: &Placed) -> Markup {
    let class = match one.kind {
        Kind::Start => "box start",
        Kind::Ready => "box ready",
        Kind::Step => "box step",
        Kind::Decision => "box decision",
        Kind::Loop => "box loop",
        Kind::Doing => "box doing",
        Kind::Performed => "box performed",
        Kind::Restore => "box restore",
        Kind::Ended("passed") => "box ended passed",
        Kind::Ended("failed") => "box ended failed",
        Kind::Ended("referred") => "box ended referred",
        Kind::Ended(_) => "box ended unfinished",
    };
    let says: Vec<&str> =
        [one.title.as_str(), one.more.as_str()].into_iter().filter(|says| !says.is_empty()).collect();
    html! {
        g class=(class) data-node=[one.node] tabindex=[one.node.map(|_| "0")] {
            title { (says.join(": ")) }
            (outline(one.kind, placed))
            @for (row, (words, first)) in placed.lines.iter().enumerate() {
                @let y = placed.y + 22.0 + row_height(row);
                text.more[!first] x=(px(placed.x + 18.0)) y=(px(y)) { (words) }
            }
        }
    }
}

#[allow(clippy::cast_precision_loss)] // As many rows as a box has lines.
fn row_height(row: usize) -> f64 {
    row as f64 * LINE
}

/// The outline of a box: what it is says its shape.
fn outline(kind: Kind, placed: &Placed) -> Markup {
    let Placed { x, y, wide, high, .. } = placed;
    let (right, bottom, middle) = (x + wide, y + high, y + high / 2.0);
    let rect = |round: f64| html! { rect x=(px(*x)) y=(px(*y)) width=(px(*wide)) height=(px(*high)) rx=(px(round)) {} };
    match kind {
        Kind::Decision | Kind::Ready | Kind::Loop => {
            let tip = 10.0;
            let points = [
                (x + tip, *y),
                (right - tip, *y),
                (right, middle),
                (right - tip, bottom),
                (x + tip, bottom),
                (*x, middle),
            ];
            let points: Vec<String> = points.iter().map(|(x, y)| format!("{},{}", px(*x), px(*y))).collect();
            html! { polygon points=(points.join(" ")) {} }
        }
        Kind::Performed => html! {
            (rect(0.0))
            line x1=(px(x + 7.0)) y1=(px(*y)) x2=(px(x + 7.0)) y2=(px(bottom)) {}
            line x1=(px(right - 7.0)) y1=(px(*y)) x2=(px(right - 7.0)) y2=(px(bottom)) {}
        },
        Kind::Step | Kind::Restore => html! {
            (rect(2.0))
            rect.bar x=(px(*x)) y=(px(*y)) width="6" height=(px(*high)) {}
        },
        Kind::Start | Kind::Ended(_) => rect((high / 2.0).min(18.0)),
        Kind::Doing => rect(2.0),
    }
}
