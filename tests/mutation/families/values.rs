//! Breaks of what numbers are for: what to aim at, how fine an adjuster is, how a value comes from its readings, which unit.

use dwell_syntax::tree::{
    BandForm, Clause, Fold, Handle, LineKind, Measure, Span, Statement, StatementKind, To,
};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Limit, Spot, Thing, ends, form};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("target-on-edge", target_on_edge),
    ("adjuster-too-coarse", adjuster_too_coarse),
    ("measured-another-way", measured_another_way),
    ("look-alike-units", look_alike_units),
];

/// The value to aim at is an end of the band, or lies beyond it. An end that is nothing is left out: where a quantity cannot
/// go below nothing, nothing is what one aims at.
fn target_on_edge(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits().into_iter().filter(|limit| limit.band.second.is_none()) {
        let ends = ends(limit.band);
        let beyond = match ends.as_slice() {
            [(low, unit), (high, _)] => numbers(low, high).map(|(low, high)| (high + (high - low), *unit)),
            _ => None,
        };
        let mut aims: Vec<(String, &str)> = ends.clone();
        aims.extend(beyond.map(|(value, unit)| (value.to_string(), unit)));
        for (aim, unit) in aims.into_iter().filter(|(aim, _)| aim.parse() != Ok(0.0)) {
            let form = form(limit.band);
            let span = Span { start: form.end, end: limit.band.span.end };
            let broken = limit.source.broken(format!("aim at {aim} {unit} in {}", limit.source.of(form)));
            all.push(broken.swap(span, format!(" target {aim} {unit}")));
        }
    }
    all
}

fn numbers(low: &str, high: &str) -> Option<(f64, f64)> {
    Some((low.parse().ok()?, high.parse().ok()?))
}

/// Everything that is handled in a block and the blocks in it.
fn handled<'a>(statements: &'a [Statement], all: &mut Vec<&'a Handle>) {
    for statement in statements {
        if let StatementKind::Handle(handle) = &statement.kind {
            all.push(handle);
        }
        for block in statement.blocks() {
            handled(&block.statements, all);
        }
    }
}

/// A width that no band of a spec has, in its unit: many times the widest.
fn wide(limits: &[Limit<'_>], times: f64) -> Option<String> {
    let bounded = limits.iter().filter(|limit| {
        matches!(limit.band.form, BandForm::Range(..) | BandForm::PlusMinus(..) | BandForm::Uneven(..))
    });
    let mut widest: Option<(f64, &str)> = None;
    for limit in bounded {
        let known = match ends(limit.band).as_slice() {
            [(low, unit), (high, _)] => {
                let (low, high) = numbers(low, high)?;
                (high - low, *unit)
            }
            // Degrees with minutes: no band of the trade is whole degrees wide.
            _ if limit.source.of(limit.band.span).contains('°') => (2.0, "°"),
            _ => return None,
        };
        if widest.is_none_or(|(width, _)| width < known.0) {
            widest = Some(known);
        }
    }
    widest.map(|(width, unit)| format!("{} {unit}", (width * times * 1e6).round() / 1e6))
}

/// One step of what is turned, or from one part of a series to the next, is wider than the band. Where something else in the
/// same block is turned without steps, that one can be as fine as the hand.
fn adjuster_too_coarse(ground: &Ground) -> Vec<Broken> {
    let limits = ground.limits();
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Adjust { what, block, .. } = &spot.statement().kind else { continue };
        let mut handles = Vec::new();
        handled(&block.statements, &mut handles);
        for (_, to) in what {
            let of: Vec<Limit<'_>> =
                limits.iter().filter(|limit| limit.spec.name.text == to.text).copied().collect();
            let Some(kind) = of.first().map(|limit| limit.spec.kind.text.as_str()) else { continue };
            let turned: Vec<(Thing<'_>, &dwell_syntax::tree::Line)> = handles
                .iter()
                .filter(|handle| handle.verb.text == "turn")
                .filter_map(|handle| ground.thing(&handle.item.text))
                .flat_map(|thing| thing.lines.iter().map(move |line| (thing, line)))
                .filter(|(_, line)| {
                    matches!(&line.kind, LineKind::Moves { subject: Some(verb), what, .. }
                        if verb.text == "turn" && what.iter().any(|moved| moved.text == kind))
                })
                .collect();
            if let [(thing, line)] = turned.as_slice() {
                for (times, step) in [(1.5, "1 turn"), (8.0, "1/2 turn"), (30.0, "1/4 turn"), (2.0, "1 turn")]
                {
                    let Some(wide) = wide(&of, times) else { continue };
                    let LineKind::Moves { what, .. } = &line.kind else { continue };
                    let Some(last) = what.last() else { continue };
                    let gain = format!(" by {wide} per 1 turn steps of {step}");
                    let span = Span { start: last.span.end, end: line.span.end };
                    let broken = thing.source.broken(format!("the {} moves{gain}", thing.name));
                    all.push(broken.swap(span, gain).near(Near::Use).checked(&spot.source.path));
                }
            }
            for other in ground.sources.iter().flat_map(|source| {
                source.tree.declarations.iter().map(move |declaration| (source, declaration))
            }) {
                let (source, dwell_syntax::tree::DeclarationKind::Series(series)) = (other.0, &other.1.kind)
                else {
                    continue;
                };
                let chosen = spot.source.of(block.span).contains(&format!("from {} ", series.name.text));
                let (Some(wide), true) = (wide(&of, 2.0), chosen) else { continue };
                let broken = source.broken(format!("{} steps of {wide}", series.name.text));
                all.push(broken.swap(series.step.span, wide).near(Near::Use).checked(&spot.source.path));
            }
        }
    }
    all
}

/// What is taken of the readings.
fn taken(measure: &Measure) -> Option<(Fold, Span)> {
    measure.clauses.iter().find_map(|clause| match clause {
        Clause::Take(fold, span) => Some((*fold, *span)),
        _ => None,
    })
}

const FOLDS: [(Fold, &str); 4] =
    [(Fold::Mean, "mean"), (Fold::Highest, "highest"), (Fold::Lowest, "lowest"), (Fold::Spread, "spread")];

/// What a quantity is by its definition is not what is taken of its readings: another one is taken, or it is defined anew.
fn measured_another_way(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Measure(measure) = &spot.statement().kind else { continue };
        let [reading] = measure.readings.as_slice() else { continue };
        let kind = reading.kind.as_ref().unwrap_or(&reading.name);
        let Some(quantity) = ground.quantity(&kind.text) else { continue };
        let means = quantity.lines.iter().find_map(|line| match &line.kind {
            LineKind::Means(fold, _) => Some(*fold),
            _ => None,
        });
        let own = ground.sources.iter().find(|source| {
            source
                .declaration(quantity.name.span.start)
                .is_some_and(|span| source.of(span).contains(&kind.text))
                && source.of(quantity.name.span) == kind.text
        });
        match (taken(measure), means) {
            // It was taken as a whole: several readings are now made into one.
            (None, Some(means)) if !measure.again => {
                let end = measure.text.as_ref().map_or(spot.statement().span.end, |text| text.span.start);
                for (_, word) in FOLDS.iter().filter(|(fold, _)| *fold != means) {
                    let clause = format!(" 3 times take {word} ");
                    let broken = spot.source.broken(format!("the {word} of {} is taken", kind.text));
                    all.push(broken.put(end, clause).near(Near::Declaration));
                }
            }
            (Some((taken, _)), None) => {
                let Some(source) = own else { continue };
                let Some(span) = source.declaration(quantity.name.span.start) else { continue };
                for (_, word) in FOLDS.iter().filter(|(fold, _)| *fold != taken) {
                    let broken = source.broken(format!("{} means {word}", kind.text));
                    let broken = if source.of(span).ends_with('}') {
                        broken.put(span.end - 1, format!("    means {word}\n"))
                    } else {
                        broken.put(span.end, format!(" {{ means {word} }}"))
                    };
                    all.push(broken.near(Near::Use).checked(&spot.source.path));
                }
            }
            _ => {}
        }
    }
    all
}

/// Two things of one procedure are tightened to torques in two units that are read for each other.
fn look_alike_units(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    let tightened: Vec<(&Spot<'_>, &Handle)> = spots
        .iter()
        .filter_map(|spot| match &spot.statement().kind {
            StatementKind::Handle(handle) if handle.verb.text == "tighten" => Some((spot, handle)),
            _ => None,
        })
        .collect();
    for (place, (spot, first)) in tightened.iter().enumerate() {
        let rest = &tightened[place + 1..];
        for (_, second) in rest.iter().filter(|(other, _)| other.procedure.name == spot.procedure.name) {
            for (one, other) in [
                ("to 35 ± 3 lbf·ft", "to 90 ± 8 lbf·in"),
                ("to 90 ± 8 lbf·in", "to 35 ± 3 lbf·ft"),
                ("to 60 ± 5 ozf·in", "to 90 ± 8 lbf·in"),
            ] {
                let broken = spot.source.broken(format!("{one} and {other}"));
                let broken =
                    broken.swap(told(first), format!(" {one}")).swap(told(second), format!(" {other}"));
                all.push(broken);
            }
        }
    }
    all
}

/// Where it is said how tight: to be written anew.
fn told(handle: &Handle) -> Span {
    let end = match &handle.to {
        Some(To::Name(name)) => name.span.end,
        Some(To::Band(band)) => band.span.end,
        None => handle.item.span.end,
    };
    Span { start: handle.item.span.end, end }
}
