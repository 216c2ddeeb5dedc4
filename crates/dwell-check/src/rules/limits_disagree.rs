//! One reading that an `expect` calls good and an `if` handles as bad, or the other way round.

use super::Rule;
use crate::check::{quantities, reading, statements_in};
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::{QuantityRef, ResolvedBand};
use dwell_quantity::{Band, band_shown};
use dwell_syntax::tree::{
    Block, Condition, Joint, Procedure, Span, Statement, StatementKind, Test, TestKind,
};
use std::collections::HashMap;

pub(super) const RULE: Rule = Rule {
    name: "limits-disagree",
    level: Level::Warning,
    waivable: true,
    page: include_str!("limits_disagree.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        let known = quantities(facts, file, procedure, whole);
        let judged = Judged::all(facts, file, procedure, whole, &known);
        crate::check::statements(procedure, whole, &mut |statement, _| {
            for (condition, block, handled) in asked(statement) {
                for judged in judged.iter().filter(|judged| !judged.arms.holds(statement.span)) {
                    let Some(test) = test_of(condition, judged.name) else { continue };
                    let Some(typed) = band(facts, file, test, judged.quantity) else { continue };
                    let mut left = judged.bands.clone();
                    for earlier in handled.iter().filter_map(|earlier| test_of(earlier, judged.name)) {
                        let Some(earlier) = band(facts, file, earlier, judged.quantity) else { continue };
                        left = without(&left, &earlier.band);
                    }
                    let both = match block {
                        Asked::Then(block) if is_bad(block, judged.name) => common(&left, &typed.band),
                        Asked::Else(block) if is_bad(block, judged.name) => {
                            without(&left, &typed.band).into_iter().next()
                        }
                        Asked::Then(block)
                            if is_passed(block) && statement.span.end <= judged.place.span.start =>
                        {
                            let mut rest = vec![typed.band.clone()];
                            judged.bands.iter().for_each(|good| rest = without(&rest, good));
                            rest.into_iter().next()
                        }
                        _ => None,
                    };
                    if let Some(both) = both {
                        let passes = matches!(block, Asked::Then(block) if is_passed(block));
                        findings.push(told(
                            facts,
                            judged,
                            &typed,
                            &both,
                            Place { file, span: test.span },
                            passes,
                        ));
                        break;
                    }
                }
            }
        });
    }
}

/// What an `expect` says of a reading: what is good by it.
struct Judged<'a> {
    name: &'a str,
    quantity: QuantityRef,
    bands: Vec<Band>,
    by: String,
    place: Place,
    /// Its arms: in there the reading is out.
    arms: Span,
}

impl<'a> Judged<'a> {
    fn all(
        facts: &Facts<'a>,
        file: usize,
        procedure: &'a Procedure,
        whole: Span,
        known: &HashMap<&str, QuantityRef>,
    ) -> Vec<Judged<'a>> {
        let mut all = Vec::new();
        crate::check::statements(procedure, whole, &mut |statement, _| {
            let StatementKind::Expect { condition, .. } = &statement.kind else { return };
            let inside = statement.arms().iter().map(|arm| arm.span).reduce(Span::to).unwrap_or_default();
            for test in
                condition.tests.iter().filter(|_| condition.joint == Joint::And || condition.tests.len() == 1)
            {
                let (TestKind::Meets { what, .. } | TestKind::Band { what, .. }) = &test.kind else {
                    continue;
                };
                let Some(name) = reading(what) else { continue };
                let own = known.get(name.text.as_str()).copied();
                let judged = match &test.kind {
                    TestKind::Meets { misses: false, spec, at: None, .. } => {
                        facts.spec(file, &spec.text).map(|spec| {
                            let bands = spec.check.iter().map(|band| band.limit.band.clone()).collect();
                            (bands, format!("`{}`", spec.name), own.unwrap_or(spec.quantity))
                        })
                    }
                    TestKind::Band { .. } => own.and_then(|own| {
                        let bands = vec![band(facts, file, test, own)?.band];
                        Some((bands, "what is expected".to_owned(), own))
                    }),
                    _ => None,
                };
                let Some((bands, by, quantity)) =
                    judged.filter(|(bands, ..): &(Vec<Band>, _, _)| !bands.is_empty())
                else {
                    continue;
                };
                let place = Place { file, span: test.span };
                all.push(Judged { name: &name.text, quantity, bands, by, place, arms: inside });
            }
        });
        all
    }
}

/// What is done where a condition holds, or where it does not.
#[derive(Clone, Copy)]
enum Asked<'a> {
    Then(&'a Block),
    Else(&'a Block),
}

/// Each condition of an `if` or a `where` with its block, and the conditions that did not hold before it.
fn asked(statement: &Statement) -> Vec<(&Condition, Asked<'_>, Vec<&Condition>)> {
    match &statement.kind {
        StatementKind::ForEach { condition: Some(condition), block, .. } => {
            vec![(condition, Asked::Then(block), Vec::new())]
        }
        StatementKind::If { arms, last } => {
            let earlier = |at: usize| arms.iter().take(at).map(|(condition, _)| condition).collect();
            let mut all: Vec<_> = arms
                .iter()
                .enumerate()
                .map(|(at, (condition, block))| (condition, Asked::Then(block), earlier(at)))
                .collect();
            if let (Some((condition, _)), Some(last)) = (arms.last(), last) {
                all.push((condition, Asked::Else(last), earlier(arms.len() - 1)));
            }
            all
        }
        _ => Vec::new(),
    }
}

/// The one test of a condition, where it holds this reading against a number of its own. With `and` the rest of the condition
/// is the reason for another number.
fn test_of<'a>(condition: &'a Condition, name: &str) -> Option<&'a Test> {
    let [test] = condition.tests.as_slice() else { return None };
    let TestKind::Band { what, .. } = &test.kind else { return None };
    reading(what).filter(|known| known.text == name).map(|_| test)
}

/// The band that a test types, where it is made of numbers.
fn band(facts: &Facts, file: usize, test: &Test, quantity: QuantityRef) -> Option<ResolvedBand> {
    let TestKind::Band { band, .. } = &test.kind else { return None };
    crate::resolve::band(facts.model, file, band, quantity, &mut Vec::new())
}

/// Whether a block takes the reading for bad: it ends failed, names a cause, or refers to where a fault is looked for.
fn is_bad(block: &Block, name: &str) -> bool {
    let mut adjusts = false;
    statements_in(block, &mut |statement, _| {
        adjusts |= matches!(&statement.kind, StatementKind::Adjust { what, .. }
            if what.iter().any(|(adjusted, _)| adjusted.text == name));
    });
    let bad = |statement: &Statement| match &statement.kind {
        StatementKind::End { outcome, .. } => outcome.text == "failed",
        StatementKind::Cause { .. } | StatementKind::Refer { .. } => true,
        _ => false,
    };
    !adjusts && block.statements.iter().any(bad)
}

/// Whether a block takes the reading for good and leaves.
fn is_passed(block: &Block) -> bool {
    let passed = |statement: &Statement| matches!(&statement.kind, StatementKind::End { outcome, .. } if outcome.text == "passed");
    block.statements.iter().any(passed)
}

/// What is in one of these and in that; more than one value.
fn common(these: &[Band], that: &Band) -> Option<Band> {
    these.iter().map(|this| this.intersect(that)).find(is_wide)
}

/// What is in one of these and not in that.
fn without(these: &[Band], that: &Band) -> Vec<Band> {
    let rest = that.complement();
    these.iter().flat_map(|this| rest.iter().map(move |rest| this.intersect(rest))).filter(is_wide).collect()
}

/// Whether it is more than a single value.
fn is_wide(band: &Band) -> bool {
    !band.is_empty()
        && (band.low.is_none()
            || band.high.is_none()
            || band.low.as_ref().map(|low| &low.value) != band.high.as_ref().map(|high| &high.value))
}

fn told(
    facts: &Facts,
    judged: &Judged<'_>,
    typed: &ResolvedBand,
    both: &Band,
    place: Place,
    passes: bool,
) -> Finding {
    let name = judged.name;
    let Judged { by, .. } = judged;
    let kind = facts.model.kind(judged.quantity);
    let values = kind.map(|kind| band_shown(both, typed.unit, kind, typed.decimals)).unwrap_or_default();
    let (message, why) = if passes {
        (
            format!("`{name}` {values} passes here, and is out by {by}"),
            "The same reading is good in one line and bad in another: what the vehicle gets hangs on which line comes first.",
        )
    } else {
        (
            format!("`{name}` {values} is good by {by}, and is handled as a fault here"),
            "The same reading is good in one line and bad in another: a sound part is renewed, or a bad one left in.",
        )
    };
    RULE.at(place, message)
        .label("another limit for the same reading")
        .related(judged.place, "it is judged here")
        .why(why)
        .help(format!("use one limit: `if {name} misses …`, or an `otherwise` of the `expect`; where the two are meant, give the second one its own spec with its source"))
}
