//! Breaks of readings: moved after they were taken, moved before, never looked at.

use dwell_syntax::tree::{DeclarationKind, Expr, LineKind, Measure, Part, Span, StatementKind, TestKind};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Spot, Thing, Within};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("stale-reading", stale_reading),
    ("no-recheck", no_recheck),
    ("not-checked-after", not_checked_after),
    ("not-signed", not_signed),
    ("as-found-lost", as_found_lost),
    ("reading-unused", reading_unused),
];

/// Statements that move a quantity: a verb with its thing, at each place where it has places.
fn movers(ground: &Ground, quantity: &str) -> Vec<String> {
    let mut all = Vec::new();
    for thing in ground.things() {
        for line in thing.lines {
            let LineKind::Moves { subject: Some(verb), what, .. } = &line.kind else { continue };
            if what.iter().any(|moved| moved.text == quantity) {
                let places = thing.at_each.map_or(String::new(), |places| format!(" at each {places}"));
                all.push(format!("{} {}{places}", verb.text, thing.name));
            }
        }
    }
    all
}

/// What a reading is of: the quantity that is named, or the one of the same name.
fn quantity_of(measure: &Measure) -> Vec<(&str, &str)> {
    let all = measure.readings.iter();
    all.map(|reading| {
        (reading.name.text.as_str(), reading.kind.as_ref().unwrap_or(&reading.name).text.as_str())
    })
    .collect()
}

/// Each first measurement of a quantity that something moves: where, the reading, and what moves it.
fn moved<'a>(ground: &'a Ground) -> Vec<(Spot<'a>, &'a str, Vec<String>)> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Measure(measure) = &spot.statement().kind else { continue };
        if measure.again {
            continue;
        }
        for (reading, quantity) in quantity_of(measure) {
            // What is written for one place in a loop over places stands there without the place.
            let looped = spot.inside.iter().any(|outer| matches!(outer.kind, StatementKind::ForEach { .. }));
            let movers: Vec<String> = movers(ground, quantity)
                .into_iter()
                .map(|mover| match (looped, mover.split_once(" at each ")) {
                    (true, Some((mover, _))) => mover.to_owned(),
                    _ => mover,
                })
                .collect();
            if !movers.is_empty() {
                all.push((spot.clone(), reading, movers));
            }
        }
    }
    all
}

/// Whether a statement decides by a reading.
fn decides(statement: &dwell_syntax::tree::Statement, reading: &str) -> bool {
    let StatementKind::Expect { condition, .. } = &statement.kind else { return false };
    condition.tests.iter().any(|test| match &test.kind {
        TestKind::Meets { what: Expr::Name(name), .. } | TestKind::Band { what: Expr::Name(name), .. } => {
            name.text == reading
        }
        _ => false,
    })
}

/// Something is turned between the reading and the decision.
fn stale_reading(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (spot, reading, movers) in moved(ground) {
        let Some(expect) = spot.later().iter().find(|later| decides(later, reading)) else { continue };
        for mover in movers {
            let broken = spot.source.broken(format!("`{mover}` between {reading} and what is decided by it"));
            all.push(broken.put(expect.span.start, format!("{mover}\n        ")).near(Near::Declaration));
        }
    }
    all
}

/// Something is turned after the decision, and nothing is measured again before the end.
fn no_recheck(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        // Inside an arm or a loop other ways lead on, with readings of their own.
        if spot.within != Within::Step || !spot.inside.is_empty() {
            continue;
        }
        for (first, reading, movers) in moved(ground) {
            if first.procedure.name != spot.procedure.name || !decides(spot.statement(), reading) {
                continue;
            }
            // A reading that is measured again afterwards, or computed into another one, is not left at that.
            let rest = &spot.source.text[spot.statement().span.end..spot.procedure.body.end];
            let rest = rest.split("\n    case ").next().unwrap_or_default();
            if rest.contains(&format!("measure {reading} again")) {
                continue;
            }
            for mover in movers {
                let mover = match mover.split_once(" at each ") {
                    Some((mover, places)) => format!("{mover} at each {places}"),
                    None => mover,
                };
                let broken = spot.source.broken(format!("`{mover}` after {reading} was judged"));
                all.push(
                    broken
                        .put(spot.statement().span.end, format!("\n        {mover}"))
                        .near(Near::Declaration),
                );
            }
        }
    }
    all
}

/// A thing asks for two signatures, and the step in which it is handled asks for none.
fn not_signed(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Handle(handle) = &spot.statement().kind else { continue };
        let Some(thing) = ground.thing(&handle.item.text).filter(|thing| !thing.is_tool) else { continue };
        let at = spot.statement().span;
        let signed = spot.procedure.parts.iter().any(|part| match part {
            Part::Step(step) => step.block.span.holds(at) && step.signed > 1,
            Part::Restore { block, signed, .. } => block.span.holds(at) && *signed > 1,
            _ => false,
        });
        if signed || spot.within != Within::Step || !spot.inside.is_empty() {
            continue;
        }
        let line = format!("{} signed twice", handle.verb.text);
        let broken = thing.source.broken(format!("`{}`: {line}", handle.item.text));
        all.extend(
            said(thing, broken, &line).map(|broken| broken.near(Near::Use).checked(&spot.source.path)),
        );
    }
    all
}

/// One more line in the declaration of an item.
fn said(thing: Thing<'_>, broken: Broken, line: &str) -> Option<Broken> {
    let declared =
        thing.source.tree.declarations.iter().find(
            |known| matches!(&known.kind, DeclarationKind::Item(item) if item.name.text == thing.name),
        )?;
    Some(match thing.lines.last() {
        Some(last) => broken.put(last.span.end, format!("\n    {line}")),
        None => broken.put(declared.span.end, format!(" {{ {line} }}")),
    })
}

/// A thing that a procedure takes off and puts back says by which spec it is checked, and that procedure judges nothing by it.
fn not_checked_after(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for spot in &spots {
        let StatementKind::Handle(back) = &spot.statement().kind else { continue };
        let Some(thing) = ground.thing(&back.item.text) else { continue };
        let first = |other: &&Spot<'_>| {
            other.procedure.name == spot.procedure.name
                && other.within == Within::Step
                && other.inside.is_empty()
                && matches!(&other.statement().kind, StatementKind::Handle(off)
                    if off.item.text == back.item.text && off.verb.text != back.verb.text)
        };
        if spot.within != Within::Restore || !spot.inside.is_empty() || !spots.iter().any(|spot| first(&spot))
        {
            continue;
        }
        let mut specs = ground.limits().into_iter().filter(|limit| limit.source.path == thing.source.path);
        let Some(limit) = specs.find(|limit| !spot.source.text.contains(&limit.spec.name.text)) else {
            continue;
        };
        let line = format!("{} checked by {}", back.verb.text, limit.spec.name.text);
        let broken = thing.source.broken(format!("`{} {}`: {line}", back.verb.text, back.item.text));
        all.extend(
            said(thing, broken, &line).map(|broken| broken.near(Near::Use).checked(&spot.source.path)),
        );
    }
    all
}

/// Something is turned before a reading that is adjusted later is first taken.
fn as_found_lost(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for (first, reading, movers) in moved(ground) {
        let adjusted = spots.iter().any(|spot| {
            spot.procedure.name == first.procedure.name
                && matches!(&spot.statement().kind, StatementKind::Adjust { what, .. }
                    if what.iter().any(|(name, _)| name.text == reading))
        });
        if !adjusted {
            continue;
        }
        for mover in movers {
            let broken = first.source.broken(format!("`{mover}` before {reading} is first measured"));
            let at = first.statement().span.start;
            all.push(broken.put(at, format!("{mover}\n        ")).near(Near::Declaration));
        }
    }
    all
}

/// A reading is taken once more under another name; or what was decided by it is lost.
fn reading_unused(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        match &spot.statement().kind {
            StatementKind::Measure(measure) if !measure.again => {
                let [reading] = measure.readings.as_slice() else { continue };
                let kind = reading.kind.as_ref().unwrap_or(&reading.name);
                let after = Span { start: kind.span.end, end: spot.statement().span.end };
                let line = format!("\n        measure once-more: {}{}", kind.text, spot.source.of(after));
                let broken = spot.source.broken(format!("{} once more", reading.name.text));
                all.push(broken.put(spot.statement().span.end, line));
            }
            StatementKind::Expect { condition, proves: None, .. } => {
                // Only where the reading stands nowhere else in the procedure, cases aside.
                let [test] = condition.tests.as_slice() else { continue };
                let (TestKind::Meets { what: Expr::Name(name), .. }
                | TestKind::Band { what: Expr::Name(name), .. }) = &test.kind
                else {
                    continue;
                };
                let body = &spot.source.text[spot.procedure.name.span.start..spot.procedure.body.end];
                let body = body.split("\n    case ").next().unwrap_or_default();
                let measured = ground.spots().iter().any(|other| {
                    matches!(&other.statement().kind, StatementKind::Measure(measure)
                        if other.procedure.name == spot.procedure.name
                            && measure.readings.iter().any(|reading| reading.name == *name || reading.name.text == name.text))
                });
                let named = body
                    .split(|letter: char| !letter.is_alphanumeric() && letter != '-')
                    .filter(|word| *word == name.text)
                    .count();
                let inner = spot.source.of(spot.statement().span).matches(&name.text).count();
                if measured && named == 2 && inner == 1 {
                    let broken = spot.source.broken(format!("nothing is decided by {}", name.text));
                    all.push(broken.cut(spot.source.lines(spot.statement().span)).near(Near::Declaration));
                }
            }
            _ => {}
        }
    }
    all
}
