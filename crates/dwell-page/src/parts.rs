//! The parts of a card one after the other: head, what must be so before, the steps, what is put back, how it can end.

use crate::ends::{computed, said};
use crate::head::head;
use crate::items::{Writer, anchor};
use crate::outline::{Frame, Leads, Line, Outline};
use crate::vehicle::Vehicle;
use crate::words::upper_first;
use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_card::section::Section;
use maud::{Markup, html};
use std::collections::BTreeSet;

/// The card.
pub(crate) fn card(card: &Card, vehicle: &Vehicle, outline: &Outline) -> Markup {
    let mut writer = Writer::new(card, vehicle, outline);
    html! {
        article.card {
            (head(card, vehicle))
            @if let Some(parts) = outline.frames.first() {
                (procedure(&mut writer, parts))
                (results(card, vehicle, parts))
            }
        }
    }
}

/// A procedure: the one of the card, or one that it performs.
pub(crate) fn procedure(writer: &mut Writer<'_>, parts: &Frame) -> Markup {
    let card = writer.card;
    let heading = |section: Section| upper_first(&section.heading(card).unwrap_or_default());
    let frame =
        parts.all_lines().first().and_then(|line| card.nodes.get(line.node)).map_or(0, |node| node.frame);
    html! {
        @if parts.before.iter().any(|line| is_told(card, line)) {
            section.needs {
                h2 { (heading(Section::Needs(frame))) }
                (needs(writer, &parts.before))
                @let after = before_steps(writer, &parts.before);
                (after)
                (leads(writer, parts.before_leads, parts.steps.first().map(|step| step.node)))
            }
        }
        (steps(writer, parts))
        @if parts.restore.iter().any(|line| is_told(card, line)) {
            section.restore data-node=[parts.restore_at] {
                h2 { (heading(Section::Restore(frame))) }
                p.faint { "On every way out, passed or not. What is so already is left out." }
                ol.items { (writer.begin_part()) (writer.lines(&parts.restore)) }
            }
        }
    }
}

fn steps(writer: &mut Writer<'_>, parts: &Frame) -> Markup {
    let card = writer.card;
    let mut seen = BTreeSet::new();
    let mut numbers = std::collections::BTreeMap::new();
    html! {
        @for (place, step) in parts.steps.iter().enumerate() {
            @let next = parts.steps.get(place + 1).map(|next| next.node);
            @let title = card.steps.get(step.step).map_or("", |known| known.title.as_str());
            @let again = !seen.insert(step.step);
            @let number = { let count = numbers.len() + 1; *numbers.entry(step.step).or_insert(count) };
            section.step data-node=(step.node) id=(anchor(step.node)) {
                h2 { (writer.by_whom()) span.number { (writer.step_number(step.node, number)) } " " (title) @if again { span.faint { " (goes on)" } } }
                ol.items { (writer.begin_part()) (writer.lines(&step.lines)) }
                (leads(writer, step.leads, next))
            }
        }
    }
}

/// Where a part leads, where that is not to the next one.
fn leads(writer: &Writer<'_>, leads: Leads, next: Option<usize>) -> Markup {
    let as_usual = match (leads, next) {
        (Leads::Step(step), Some(next)) => step == next,
        (Leads::Out, None) | (Leads::Ended | Leads::On, _) => true,
        _ => false,
    };
    html! { @if !as_usual { p.leads { "→ " (writer.where_to(leads)) } } }
}

/// What must hold before, as a list to tick.
fn needs(writer: &mut Writer<'_>, before: &[Line]) -> Markup {
    let needs: Vec<&Line> = before.iter().filter(|line| writer.is_need(line)).collect();
    html! {
        @if !needs.is_empty() {
            p.faint { "Where one of these does not hold, see to it first, or end unfinished." }
            ul.checks { @for line in needs { (writer.need(line)) } }
        }
    }
}

/// What else comes before the first step.
fn before_steps(writer: &mut Writer<'_>, before: &[Line]) -> Markup {
    let card = writer.card;
    let others = before.iter().filter(|line| !writer.is_need(line) && is_told(card, line));
    let others: Vec<Line> = others.cloned().collect();
    html! { @if !others.is_empty() { ol.items { (writer.begin_part()) (writer.lines(&others)) } } }
}

fn is_told(card: &Card, line: &Line) -> bool {
    let silent =
        |act: &Act| matches!(act, Act::Uncover { .. } | Act::Begin { .. } | Act::Restore | Act::Close);
    card.nodes.get(line.node).is_some_and(|node| !silent(&node.act))
}

/// How it can end.
pub(crate) fn results(card: &Card, vehicle: &Vehicle, parts: &Frame) -> Markup {
    let last = computed(card, vehicle, parts);
    html! {
        section.results {
            h2 { "How it can end" }
            ul {
                @if last.reached {
                    @for word in last.words() {
                        li { (result(word)) }
                    }
                }
                @for (word, says, node) in said(card, parts) {
                    li data-node=(node) { (result(word)) @if !says.is_empty() { ": " (says) } }
                }
                li { (result("unfinished")) ": a need is not met, or the work was stopped." }
            }
        }
    }
}

/// A result with its mark: told by word and shape, not by colour alone.
pub(crate) fn result(word: &str) -> Markup {
    let (class, mark) = match word.split([' ', ',']).next() {
        Some("passed" | "adjusted") => ("passed", "✓"),
        Some("failed") => ("failed", "✕"),
        Some("referred") => ("referred", "→"),
        _ => ("unfinished", "‖"),
    };
    html! { span class=(format!("result {class}")) { span.mark aria-hidden="true" { (mark) } " " (word) } }
}
