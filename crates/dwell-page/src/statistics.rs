//! What the readings of many jobs say together, as a page: for each reading its figures, and a drawing of where the values lie.

mod drawing;

use crate::paper::{Paper, page};
use crate::words::{plain, upper_first};
use drawing::drawing;
use dwell_quantity::Exact;
use dwell_record::statistics::{Five, Group, Key, Share, Statistics, Values};
use maud::{Markup, html};

/// The style sheet of the page.
const STYLE: &str = include_str!("statistics.css");

/// The page. `from` says which jobs they are, "all jobs of workshop.records".
pub fn statistics(all: &Statistics, from: &str, paper: Paper) -> String {
    let many = |count: u32| format!("{count} job{}", if count == 1 { "" } else { "s" });
    let body = html! {
        main.statistics {
            h1 { "Readings as found and as left" }
            p { (many(all.jobs)) " taken in: " (from) "." @if all.not_over > 0 { " " (many(all.not_over)) " left out: not over." } }
            @if all.groups.is_empty() { p { "No reading is in them." } }
            @for (key, group) in &all.groups { (one(key, group)) }
            (definitions())
        }
    };
    page(
        "Readings as found and as left",
        STYLE,
        &format!("readings as found and as left: {from}"),
        paper,
        &body,
    )
}

fn one(key: &Key, group: &Group) -> Markup {
    html! {
        section.group {
            h2 { (upper_first(&plain(&key.reading))) span.of { " in " (plain(&key.procedure)) } }
            p.about {
                @for variant in &key.variants { span { (variant.replace(['=', '-'], " ")) } }
                span { @match &key.band { Some(band) => { "band " strong { (band) } } None => "not judged" } }
                span { (group.jobs) " job" @if group.jobs != 1 { "s" } }
            }
            @if let Some(drawn) = drawing(key, group) { (drawn) }
            table {
                thead { tr { th {} th { "Readings" } th { "In band" } th { "LOW" } th { "HIGH" } th { "No reading" } th { "Median" } th { "Quartiles" } th { "From the middle" } } }
                tbody { (row("as found", &group.found, key, group)) (row("as left", &group.left, key, group)) }
            }
            ul {
                li { "set to a band: " (set(group)) }
                @if let Some(near) = group.limits.near(&group.found.values) {
                    li { "at the limits, as found: " (near.words()) @if near.heaped() == Some(true) { strong { " — heaped inside" } } }
                }
                @if let Some(near) = group.limits.near(&group.left.values) {
                    li { "at the limits, as left: " (near.words()) @if near.heaped() == Some(true) { strong { " — heaped inside" } } }
                }
                li { "digits: " (group.digits.words()) }
            }
        }
    }
}

fn set(group: &Group) -> String {
    Share { part: group.adjusted, of: group.left.count() }.words()
}

fn row(name: &str, values: &Values, key: &Key, group: &Group) -> Markup {
    let number = |value: &Exact| short(value);
    html! {
        tr {
            th { (name) }
            td { (values.count()) }
            td { (bar(values.share())) (values.share().words()) }
            td { (values.low) }
            td { (values.high) }
            td { (values.nothing) }
            @match values.five() {
                Some(Five { lower, median, upper, .. }) => {
                    td { (number(&median)) " " (key.unit) }
                    td { (number(&lower)) " to " (number(&upper)) }
                    td { @if let Some(middle) = group.limits.middle() { (signed(&(&median - &middle))) } }
                }
                None => td colspan="3" { (values.values.len()) " value" @if values.values.len() != 1 { "s" } ": too few to say" },
            }
        }
    }
}

/// A share as a bar, with its interval as a line; nothing where there is too little of it.
fn bar(share: Share) -> Markup {
    let Some((part, (low, high))) = share.value().zip(share.interval()) else { return html! {} };
    let at = |share: f64| format!("{:.1}", 1.0 + share * 118.0);
    html! {
        svg.bar viewBox="0 0 120 14" role="img" aria-label=(share.words()) {
            rect.whole x="1" y="2" width="118" height="10" {}
            rect.part x="1" y="2" width=(format!("{:.1}", part * 118.0)) height="10" {}
            line.interval x1=(at(low)) x2=(at(high)) y1="7" y2="7" {}
            @for end in [low, high] { line.interval x1=(at(end)) x2=(at(end)) y1="3.5" y2="10.5" {} }
        }
    }
}

/// A number with at most three decimals more than none; what was cut off has a mark before it.
fn short(value: &Exact) -> String {
    match value.decimals_needed() {
        Some(0..=4) => value.to_string(),
        _ => format!("≈ {}", value.fixed(3)),
    }
}

fn signed(value: &Exact) -> String {
    if value.is_negative() || value.is_zero() { short(value) } else { format!("+{}", short(value)) }
}

fn definitions() -> Markup {
    html! {
        section.definitions {
            h2 { "What the figures are" }
            p { "In band, LOW and HIGH are what was decided at the vehicle. The share counts readings that are in or out; its interval is that of Wilson for 95 % (NIST/SEMATECH e-Handbook, 7.2.4.1). Median and quartiles lie at the place (n + 1) p (e-Handbook, 7.2.6.2). From the middle: the median less the middle of the band. At the limits: within a tenth of the band's width of one; heaped where so many more lie inside than outside would come with a probability below 1 % (sign test)." }
            p { "Digits: chi-square of the last digits that were typed against all ten alike, from 50 numbers on; 0 and 5 of 100 where nobody prefers them (Whipple's index). Heaped digits or limits can mean values that were written rather than read, a scale that goes in larger steps, or a band that everybody adjusts to just so: it is a reason to look, and no proof." }
        }
    }
}
