//! Breaks of what is measured with what: the wrong tool, too small, too coarse, not connected, not ready.

use std::collections::BTreeSet;

use dwell_check::program::Sources;
use dwell_syntax::tree::{
    AccuracyPart, BandForm, Clause, DeclarationKind, Expr, LineKind, Measure, Span, StatementKind, TestKind,
};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Source, Spot, amounts, value};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("adapter-without-length", adapter_without_length),
    ("tool-cannot-measure", tool_cannot_measure),
    ("tool-out-of-range", tool_out_of_range),
    ("tool-too-coarse", tool_too_coarse),
    ("fitting-mismatch", fitting_mismatch),
    ("tool-not-connected", tool_not_connected),
    ("warm-up-missing", warm_up_missing),
    ("zero-missing", zero_missing),
    ("settle-missing", settle_missing),
];

/// The files with procedures in which a name stands as a word, besides declaring it.
pub(super) fn users<'a>(ground: &'a Ground, name: &str, declared_in: &str) -> Vec<&'a str> {
    let with: BTreeSet<&str> = ground.procedures().map(|(source, _)| source.path.as_str()).collect();
    let is_word = |text: &str| {
        let edge =
            |letter: Option<char>| letter.is_none_or(|letter| !letter.is_alphanumeric() && letter != '-');
        text.match_indices(name)
            .filter(|(at, _)| {
                edge(text[..*at].chars().next_back()) && edge(text[at + name.len()..].chars().next())
            })
            .count()
    };
    let uses = |source: &Source| {
        source.path == declared_in
            || source.tree.declarations.iter().any(|declaration| match &declaration.kind {
                DeclarationKind::Use(used) => ground.merle.join(&source.path, &used.text) == declared_in,
                _ => false,
            })
    };
    let sources = ground.sources.iter().filter(|source| with.contains(source.path.as_str()) && uses(source));
    sources
        .filter(|source| is_word(&source.text) > usize::from(source.path == declared_in))
        .map(|source| source.path.as_str())
        .collect()
}

/// Every measurement with a tool.
fn measured(ground: &Ground) -> Vec<(Spot<'_>, &Measure)> {
    let spots = ground.spots();
    spots
        .into_iter()
        .filter_map(|spot| match &spot.statement().kind {
            StatementKind::Measure(measure) if measure.with.is_some() => Some((spot, measure)),
            _ => None,
        })
        .collect()
}

/// Every reading that is measured with a tool and held against a spec in the same procedure: the tool and the spec.
fn judged(ground: &Ground) -> Vec<(Spot<'_>, &str, &str)> {
    let mut all = Vec::new();
    for (spot, measure) in measured(ground) {
        let tool = measure.with.as_ref().map_or("", |tool| tool.text.as_str());
        for other in ground.spots() {
            let StatementKind::Expect { condition, .. } = &other.statement().kind else { continue };
            if other.procedure.name != spot.procedure.name {
                continue;
            }
            for test in &condition.tests {
                if let TestKind::Meets { what: Expr::Name(name), spec, misses: false, .. } = &test.kind
                    && measure.readings.iter().any(|reading| reading.name.text == name.text)
                {
                    all.push((spot.clone(), tool, spec.text.as_str()));
                }
            }
        }
    }
    all
}

fn tool_cannot_measure(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (spot, measure) in measured(ground) {
        let Some(with) = &measure.with else { continue };
        for other in ["torque-wrench", "belt-meter", "tape"] {
            // A frequency is what the belt meter is for, a length what the tape is.
            let able = ground.thing(&with.text).is_some_and(|tool| {
                tool.lines.iter().any(|line| match &line.kind {
                    LineKind::Measures(ability) => {
                        matches!(ability.kind.text.as_str(), "frequency" | "length")
                    }
                    _ => false,
                })
            });
            if other == with.text || able {
                continue;
            }
            let what = format!("{other} for {}", with.text);
            all.push(spot.source.broken(what).swap(with.span, other));
        }
    }
    all
}

/// A range that ends before the band begins: the range of the tool is the wrong one.
fn tool_out_of_range(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (spot, tool, spec) in judged(ground) {
        let (Some(thing), Some(limit)) = (
            ground.thing(tool),
            ground.limits().into_iter().find(|limit| limit.spec.name.text == spec && limit.checks),
        ) else {
            continue;
        };
        let abilities: Vec<_> = thing
            .lines
            .iter()
            .filter_map(|line| match &line.kind {
                LineKind::Measures(ability) => Some(ability),
                _ => None,
            })
            .collect();
        let ([ability], Some(first)) = (abilities.as_slice(), amounts(limit.band).first().copied()) else {
            continue;
        };
        // A band about nothing lies in every range; of two abilities it is not known which is the one.
        let (Some(range), Some(number)) = (&ability.range, value(first)) else { continue };
        let unit = |amounts: Vec<&dwell_syntax::tree::Amount>| {
            amounts.last().and_then(|last| last.unit.as_ref()).map(|unit| unit.text.clone())
        };
        if number <= 0.0 || unit(amounts(range)) != unit(amounts(limit.band)) {
            continue;
        }
        let (Some(low), Some(high)) = (amounts(range).first().copied(), amounts(range).last().copied())
        else {
            continue;
        };
        let what =
            format!("the range of the {tool} ends at a quarter of {}", limit.source.of(limit.band.span));
        let broken = thing.source.broken(what);
        let broken = broken.swap(low.number.span, format!("{:.4}", number / 8.0));
        let broken = broken.swap(high.number.span, format!("{:.4}", number / 4.0));
        all.push(broken.near(Near::Use).checked(&spot.source.path));
    }
    all
}

/// The tool is off by as much as the range that it has.
fn tool_too_coarse(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (spot, tool, spec) in judged(ground) {
        // Where the writer has waived this rule, it says nothing.
        if spot.source.text.contains("waive tool-too-coarse") {
            continue;
        }
        let Some(thing) = ground.thing(tool) else { continue };
        for line in thing.lines {
            let LineKind::Measures(ability) = &line.kind else { continue };
            let kind = ground.limits().into_iter().find(|limit| limit.spec.name.text == spec);
            // Of a band without an end below or above no room is known, unless the quantity ends there by nature.
            let Some(limit) =
                kind.filter(|limit| !matches!(limit.band.form, BandForm::AtLeast(_) | BandForm::Above(_)))
            else {
                continue;
            };
            // Which ability of the tool is asked for is told by the unit of its range.
            let unit = |amounts: Vec<&dwell_syntax::tree::Amount>| {
                amounts.last().and_then(|last| last.unit.as_ref()).map(|unit| unit.text.clone())
            };
            let Some(range) = &ability.range else { continue };
            if unit(amounts(range)) != unit(amounts(limit.band)) {
                continue;
            }
            // Of several in that unit it is the one of the quantity itself.
            let alike = thing.lines.iter().filter(|other| match &other.kind {
                LineKind::Measures(other) => other
                    .range
                    .as_ref()
                    .is_some_and(|range| unit(amounts(range)) == unit(amounts(limit.band))),
                _ => false,
            });
            if alike.count() > 1 && ability.kind.text != limit.spec.kind.text {
                continue;
            }
            let Some(first) = ability.accuracy.first() else { continue };
            let (span, number) = match first {
                AccuracyPart::Fixed(amount) => {
                    (amount.number.span, amounts(range).last().map(|high| high.number.text.clone()))
                }
                AccuracyPart::OfReading(amount) => (amount.number.span, Some("90".to_owned())),
                AccuracyPart::Digits(_) => continue,
            };
            let Some(number) = number else { continue };
            let what = format!("the {tool} is off by up to {number}");
            all.push(thing.source.broken(what).swap(span, number).near(Near::Use).checked(&spot.source.path));
        }
    }
    all
}

/// A thread changes at the port, at the gauge or at the adapter between them; or the adapter is left out.
fn fitting_mismatch(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Handle(handle) = &spot.statement().kind else { continue };
        let things: Vec<_> = [Some(&handle.item), handle.with.first()]
            .into_iter()
            .flatten()
            .chain(handle.to.iter().filter_map(|to| match to {
                dwell_syntax::tree::To::Name(name) => Some(name),
                dwell_syntax::tree::To::Band(_) => None,
            }))
            .filter_map(|name| ground.thing(&name.text))
            .filter(|thing| thing.lines.iter().any(|line| matches!(line.kind, LineKind::Fits(_))))
            .collect();
        if things.len() < 2 {
            continue;
        }
        for thing in &things {
            for line in thing.lines {
                let LineKind::Fits(text) = &line.kind else { continue };
                for other in ["\"M14x1.5\"", "\"G 1/4\""] {
                    let what = format!("{other} for {} of the {}", text.text, thing.name);
                    let broken = thing.source.broken(what).swap(text.span, other);
                    all.push(broken.near(Near::Use).checked(&spot.source.path));
                }
            }
        }
        if let Some(adapter) = handle.with.first() {
            let word = Span { start: adapter.span.start - "with ".len(), end: adapter.span.end };
            all.push(spot.source.broken("without the adapter").cut(word));
        }
    }
    all
}

/// Whether a statement connects a tool.
fn connects(statement: &dwell_syntax::tree::Statement, tool: &str) -> bool {
    matches!(&statement.kind, StatementKind::Handle(handle) if handle.verb.text == "connect" && handle.item.text == tool)
}

/// A tool is not connected, and the next thing of it in the same block is that it is read.
fn tool_not_connected(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Handle(handle) = &spot.statement().kind else { continue };
        let tool = handle.item.text.as_str();
        if !connects(spot.statement(), tool) || !ground.thing(tool).is_some_and(|thing| thing.is_tool) {
            continue;
        }
        let read = spot.later().iter().take_while(|later| !connects(later, tool)).any(|later| {
            matches!(&later.kind, StatementKind::Measure(measure)
                if measure.with.as_ref().is_some_and(|with| with.text == tool))
        });
        if read {
            let what = format!("the {tool} is not connected");
            all.push(
                spot.source
                    .broken(what)
                    .cut(spot.source.lines(spot.statement().span))
                    .near(Near::Declaration),
            );
        }
    }
    all
}

/// A tool gets a line that says what it takes before it may be read, and nobody has been told.
fn unready(ground: &Ground, line: &str, had: fn(&LineKind) -> bool) -> Vec<Broken> {
    let mut all = Vec::new();
    for (spot, measure) in measured(ground) {
        let Some(thing) = measure.with.as_ref().and_then(|with| ground.thing(&with.text)) else { continue };
        let (Some(last), false) = (thing.lines.last(), thing.lines.iter().any(|line| had(&line.kind))) else {
            continue;
        };
        // What takes its own time to be read anyway may have had it.
        let waits = measure.clauses.iter().any(|clause| matches!(clause, Clause::After(_)));
        if waits {
            continue;
        }
        let broken = thing.source.broken(format!("the {} now `{line}`", thing.name));
        let broken = broken.put(last.span.end, format!("\n    {line}"));
        all.push(broken.near(Near::Use).checked(&spot.source.path));
    }
    all
}

/// The tool takes longer than any procedure of the library waits; or nobody is asked any more whether it is warm.
fn warm_up_missing(ground: &Ground) -> Vec<Broken> {
    let mut all = unready(ground, "warms up 3 h", |line| matches!(line, LineKind::WarmsUp(_)));
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let dwell_syntax::tree::Part::Needs(needs, _) = part else { continue };
            for need in needs.iter().filter(|need| need.state.state.text == "warm") {
                if ground.thing(&need.state.item.text).is_some_and(|thing| thing.is_tool) {
                    let broken = source.broken("nobody is asked whether the tool is warm");
                    all.push(broken.cut(source.lines(need.state.span)).near(Near::Declaration));
                }
            }
        }
    }
    all
}

/// The tool is not set to zero, and the next thing of it in the same block is that it is read.
fn zero_missing(ground: &Ground) -> Vec<Broken> {
    let mut all =
        unready(ground, "zeroed before each measure", |line| matches!(line, LineKind::Zeroed { .. }));
    for spot in ground.spots() {
        let StatementKind::Do { zeroes: Some(tool), .. } = &spot.statement().kind else { continue };
        let broken = spot.source.broken(format!("the {} is not set to zero", tool.text));
        all.push(broken.cut(spot.source.lines(spot.statement().span)).near(Near::Declaration));
    }
    all
}

/// The tool takes time to come to rest, and it is read at once; or the time that was given to it is lost.
fn settle_missing(ground: &Ground) -> Vec<Broken> {
    // A tool that is held by hand is not connected to anything: nothing begins that it would have to come to rest from.
    let mut all = unready(ground, "settles 3 h", |line| matches!(line, LineKind::Settles(_)));
    let held = |broken: &Broken| {
        ground.things().iter().any(|thing| {
            thing.handlings.iter().any(|handling| handling.text == "hand-held")
                && broken.what.starts_with(&format!("the {} ", thing.name))
        })
    };
    all.retain(|broken| !held(broken));
    for (spot, measure) in measured(ground) {
        let Some((_, amount)) = measure.clauses.iter().find_map(|clause| match clause {
            Clause::After(amount) => Some((clause, amount)),
            _ => None,
        }) else {
            continue;
        };
        let span = Span { start: amount.span.start - "after ".len(), end: amount.span.end };
        all.push(spot.source.broken("no time to come to rest").cut(span).near(Near::Declaration));
    }
    all
}

/// An offset spanner is put between a wrench and what it tightens, and how long the wrench is nobody has said; or another thing that
/// changes the setting, and nobody has said how.
fn adapter_without_length(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Handle(handle) = &spot.statement().kind else { continue };
        let has = |name: &str, fits: &dyn Fn(&LineKind) -> bool| {
            ground.thing(name).is_some_and(|thing| thing.lines.iter().any(|line| fits(&line.kind)))
        };
        let wrench = handle.with.iter().find(|name| {
            has(&name.text, &|line| matches!(line, LineKind::Sets(able) if able.kind.text == "torque"))
        });
        let Some(wrench) = wrench else { continue };
        let (Some(last), Some(end)) = (handle.with.last(), spot.source.tree.declarations.last()) else {
            continue;
        };
        for (name, label) in
            [("claw", "crow's-foot spanner"), ("dog-bone-14", "14 mm head"), ("gear", "torque multiplier")]
        {
            let tool = format!("\n\ntool {name}: hand-held \"{label}\"\n");
            let broken = spot.source.broken(format!("a {label} on the {}", wrench.text));
            all.push(broken.put(last.span.end, format!(", {name}")).put(end.span.end, tool));
        }
        if has(&wrench.text, &|line| matches!(line, LineKind::Reaches(_))) {
            continue;
        }
        let tool = "\n\ntool offset-spanner: hand-held \"offset spanner\" { extends 25 mm }\n";
        let broken = spot.source.broken(format!("an offset spanner on the {}", wrench.text));
        all.push(broken.put(last.span.end, ", offset-spanner").put(end.span.end, tool));
    }
    all
}
