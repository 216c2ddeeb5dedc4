//! Breaks of which side is meant: which one minus is, and from which one to come.

use dwell_syntax::tree::{BandForm, DeclarationKind, LineKind, Span, StatementKind};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Limit};

pub(super) const ALL: &[(&str, Mutator)] =
    &[("sign-unsaid", sign_unsaid), ("approach-unsaid", approach_unsaid)];

/// Where a limit gets a minus, so that it reaches below zero; none where it does already.
fn minus(limit: &Limit<'_>) -> Option<usize> {
    let first = match &limit.band.form {
        BandForm::Range(first, _) | BandForm::PlusMinus(first, _) => first,
        _ => return None,
    };
    let above = !first.number.text.starts_with('-') && first.number.text.parse() != Ok(0.0);
    above.then_some(first.span.start)
}

/// The words for the two sides are lost; or a spec is of the kind as such, which has none. A limit that lies above zero gets a
/// minus: there, too, a minus without its word is the fault.
fn sign_unsaid(ground: &Ground) -> Vec<Broken> {
    let limits = ground.limits();
    let mut all = Vec::new();
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            let DeclarationKind::Quantity(quantity) = &declaration.kind else { continue };
            let words: Vec<Span> = quantity
                .lines
                .iter()
                .filter(|line| matches!(line.kind, LineKind::Positive(_) | LineKind::Negative(_)))
                .map(|line| line.span)
                .collect();
            if words.is_empty() {
                continue;
            }
            let of = limits.iter().filter(|limit| limit.spec.kind.text == quantity.name.text);
            let here: Vec<&Limit<'_>> = of.clone().filter(|limit| limit.source.path == source.path).collect();
            if !here.is_empty() {
                let mut broken = source.broken(format!("{} without its words", quantity.name.text));
                broken = words.iter().fold(broken, |broken, span| broken.cut(source.lines(*span)));
                broken = here
                    .iter()
                    .filter_map(|limit| minus(limit))
                    .fold(broken, |broken, at| broken.put(at, "-"));
                all.push(broken.near(Near::Declaration));
            }
            let mut specs: Vec<&str> = of.clone().map(|limit| limit.spec.name.text.as_str()).collect();
            specs.dedup();
            for spec in specs {
                let of: Vec<&Limit<'_>> = of.clone().filter(|limit| limit.spec.name.text == spec).collect();
                let Some(first) = of.first() else { continue };
                let broken = first.source.broken(format!("{spec} of {} as such", quantity.kind.text));
                let broken = broken.swap(first.spec.kind.span, quantity.kind.text.clone());
                let broken =
                    of.iter().filter_map(|limit| minus(limit)).fold(broken, |broken, at| broken.put(at, "-"));
                all.push(broken.near(Near::Declaration));
            }
        }
    }
    all
}

/// What is turned in an `adjust` has play, and nothing says from which side to come: a thing gets play, or the words for the
/// side are lost where they stand.
fn approach_unsaid(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Handle(handle) = &spot.statement().kind else { continue };
        let adjusted = spot.inside.iter().any(|outer| match &outer.kind {
            StatementKind::Adjust { block, .. } => block.span.holds(spot.statement().span),
            _ => false,
        });
        let Some(thing) = ground.thing(&handle.item.text).filter(|_| adjusted && handle.verb.text == "turn")
        else {
            continue;
        };
        let plays = thing.lines.iter().find_map(|line| match &line.kind {
            LineKind::Play { told, .. } => Some((line.span, told.as_ref())),
            _ => None,
        });
        let name = thing.name;
        match (plays, &handle.text) {
            (Some((_, None)), Some(text)) => {
                for said in
                    ["", " \"A little at a time.\"", " \"Seen from the front: to the right is tighter.\""]
                {
                    let broken = spot.source.broken(format!("turn {name} says no side:{said}"));
                    let span = Span { start: handle.item.span.end, end: text.span.end };
                    all.push(broken.swap(span, said.to_owned()));
                }
            }
            (Some((_, Some(told))), _) => {
                let broken = thing.source.broken(format!("{name} has play without a text"));
                all.push(broken.cut(told.span).near(Near::Use).checked(&spot.source.path));
            }
            (None, _) => {
                let Some(line) = thing.lines.first() else { continue };
                let broken = thing.source.broken(format!("{name} has play"));
                let broken = broken.put(line.span.start, "turn has play\n    ");
                all.push(broken.near(Near::Use).checked(&spot.source.path));
            }
            _ => {}
        }
    }
    all
}
