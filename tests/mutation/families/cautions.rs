//! Breaks of cautions: lost, too late, too weak.

use dwell_syntax::tree::{DeclarationKind, Effect, Level, LineKind, Span, Statement, StatementKind};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Spot, Within};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("caution-missing", caution_missing),
    ("caution-late", caution_late),
    ("caution-too-weak", caution_too_weak),
];

/// Every caution: where it stands, its hazard and its text.
fn cautions<'a>(ground: &'a Ground) -> Vec<(Spot<'a>, Level, &'a str)> {
    let spots = ground.spots().into_iter();
    spots
        .filter_map(|spot| match &spot.statement().kind {
            StatementKind::Caution { level, hazard, .. } => {
                Some((spot.clone(), *level, hazard.text.as_str()))
            }
            _ => None,
        })
        .collect()
}

/// Whether a statement brings a hazard by itself: by its verb, or by the state that it leads to.
fn brings(ground: &Ground, statement: &Statement, hazard: &str) -> bool {
    let named = |effects: &[Effect]| {
        effects.iter().any(|effect| matches!(effect, Effect::Hazard(name) if name.text == hazard))
    };
    match &statement.kind {
        StatementKind::Do { brings, .. } => named(brings),
        StatementKind::Handle(handle) => {
            let Some(thing) = ground.thing(&handle.item.text) else { return false };
            let to = ground.handlings(thing).into_iter().flat_map(|handling| &handling.transitions).find_map(
                |known| (known.verb.as_ref()?.text == handle.verb.text).then_some(known.to.text.as_str()),
            );
            thing.lines.iter().any(|line| match &line.kind {
                LineKind::Brings(by, effects) => {
                    (by.text == handle.verb.text || Some(by.text.as_str()) == to) && named(effects)
                }
                _ => false,
            })
        }
        _ => false,
    }
}

/// The cautions that are the only ones for what a later statement of their block brings: no other one for this hazard
/// stands before it in the procedure.
fn needed<'a>(ground: &'a Ground) -> Vec<(Spot<'a>, &'a str, &'a Statement)> {
    let all = cautions(ground);
    let mut needed = Vec::new();
    for (spot, _, hazard) in &all {
        let others = all.iter().filter(|(other, _, same)| {
            other.procedure.name == spot.procedure.name
                && same == hazard
                && (other.within == Within::Procedure
                    || other.block.as_ptr() == spot.block.as_ptr()
                    || spot
                        .inside
                        .iter()
                        .any(|outer| other.block.iter().any(|beside| std::ptr::eq(beside, *outer))))
        });
        if others.count() > 1 {
            continue;
        }
        if let Some(later) = spot.later().iter().find(|later| brings(ground, later, hazard)) {
            needed.push((spot.clone(), *hazard, later));
        }
    }
    needed
}

fn caution_missing(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (spot, hazard, _) in needed(ground) {
        let broken = spot.source.broken(format!("the caution for {hazard} is lost"));
        all.push(broken.cut(spot.source.lines(spot.statement().span)).near(Near::Declaration));
    }
    all
}

/// The caution stands after what it is for.
fn caution_late(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (spot, hazard, later) in needed(ground) {
        let text = format!("\n        {}", spot.source.of(spot.statement().span));
        let broken = spot.source.broken(format!("the caution for {hazard} stands after what it is for"));
        let broken = broken.cut(spot.source.lines(spot.statement().span)).put(later.span.end, text);
        all.push(broken.near(Near::Declaration));
    }
    all
}

/// The signal word is one of the scale below that of the hazard.
fn caution_too_weak(ground: &Ground) -> Vec<Broken> {
    let prelude =
        dwell_syntax::parse::parse(include_str!("../../../crates/dwell-check/src/prelude.dwell")).tree;
    let trees = ground.sources.iter().map(|source| &source.tree).chain([&prelude]);
    let levels: Vec<(String, Level)> = trees
        .flat_map(|tree| &tree.declarations)
        .filter_map(|declaration| match &declaration.kind {
            DeclarationKind::Hazard(hazard) => Some((hazard.name.text.clone(), hazard.level)),
            _ => None,
        })
        .collect();
    let mut all = Vec::new();
    for (spot, level, hazard) in cautions(ground) {
        let Some((_, declared)) = levels.iter().find(|(name, _)| name == hazard) else { continue };
        for (weaker, word) in
            [(Level::Notice, "notice"), (Level::Caution, "caution"), (Level::Warning, "warning")]
        {
            if weaker < *declared && weaker < level {
                let start = spot.statement().span.start;
                let word_end = start + spot.source.of(spot.statement().span).find(' ').unwrap_or_default();
                let broken = spot.source.broken(format!("{word} for {hazard}"));
                all.push(broken.swap(Span { start, end: word_end }, word));
            }
        }
    }
    all
}
