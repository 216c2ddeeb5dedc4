//! Breaks of cases and waivers: they promise another end, lose a value, are not there, or let nothing pass.

use dwell_syntax::tree::{Case, Part, Span};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Source};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("case-fails", case_fails),
    ("branch-without-case", branch_without_case),
    ("waiver-unused", waiver_unused),
];

/// A step, or a spec or a tool, waives what is not found in it.
fn waiver_unused(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let Part::Step(step) = part else { continue };
            for rule in ["not-restored", "caution-missing", "stale-reading"] {
                let line = format!("\n        waive {rule} because \"Agreed with the workshop.\"\n       ");
                let what = format!("{} waives {rule}", step.name.text);
                all.push(source.broken(what).put(step.block.span.start + 1, line));
            }
        }
    }
    for limit in ground.limits() {
        let name = &limit.spec.name.text;
        let line = "waive impossible-value because \"Agreed with the workshop.\"\n    ";
        all.push(
            limit
                .source
                .broken(format!("{name} waives impossible-value"))
                .put(limit.line.span.start, line)
                .checked(&limit.source.path),
        );
    }
    all
}

/// Every case with its file, and those of its procedure.
fn cases(ground: &Ground) -> Vec<(&Source, &Case, Vec<&Case>)> {
    let mut all = Vec::new();
    for (source, procedure) in ground.procedures() {
        let own: Vec<&Case> = procedure
            .parts
            .iter()
            .filter_map(|part| match part {
                Part::Case(case) => Some(case),
                _ => None,
            })
            .collect();
        all.extend(own.iter().map(|case| (source, *case, own.clone())));
    }
    all
}

/// A case promises another end, or loses what it answers.
fn case_fails(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, case, _) in cases(ground) {
        if let Some(ends) = &case.ends {
            for other in ["passed", "failed", "unfinished", "referred"] {
                if other != ends.text {
                    let what = format!("the case ends {other}, not {}", ends.text);
                    all.push(source.broken(what).swap(ends.span, other).near(Near::Declaration));
                }
            }
        }
        let Some(last) = case.entries.last() else { continue };
        let end = case.ends.as_ref().map_or(last.name.span.end, |ends| ends.span.start - "ends ".len());
        // A variant that is not named may be any: only readings and answers are missed.
        if !source.of(case.span).contains(&format!("applies to {}", last.name.text)) && case.entries.len() > 2
        {
            let span = Span { start: last.name.span.start, end };
            let what = format!("the case has no {}", last.name.text);
            all.push(source.broken(what).cut(span).near(Near::Declaration));
        }
    }
    all
}

/// A procedure loses all its cases.
fn branch_without_case(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, case, own) in cases(ground) {
        if own.first().is_some_and(|first| std::ptr::eq(*first, case)) {
            let mut broken = source.broken("the procedure has no cases any more");
            for case in own {
                broken = broken.cut(source.lines(case.span));
            }
            all.push(broken.near(Near::Declaration));
        }
    }
    all
}
