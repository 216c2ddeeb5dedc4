//! A limit that is typed again in a condition, although a spec has it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::{ResolvedBand, Spec};
use dwell_quantity::shown;
use dwell_syntax::tree::{Amount, Band, BandForm, Condition, Expr, Name, StatementKind, TestKind};

pub(super) const RULE: Rule = Rule {
    name: "limit-copied",
    level: Level::Information,
    waivable: true,
    page: include_str!("limit_copied.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        let mut judged: Vec<(&str, &Name)> = Vec::new();
        let mut typed: Vec<(&str, &Amount)> = Vec::new();
        crate::check::statements(procedure, whole, &mut |statement, _| match &statement.kind {
            StatementKind::Expect { condition, .. } => tests(condition, &mut judged, &mut typed),
            StatementKind::If { arms, .. } => {
                arms.iter().for_each(|(condition, _)| tests(condition, &mut judged, &mut typed));
            }
            StatementKind::ForEach { condition: Some(condition), .. } => {
                tests(condition, &mut judged, &mut typed)
            }
            _ => {}
        });
        for (reading, amount) in typed {
            let specs = judged.iter().filter(|(name, _)| *name == reading);
            let same = |spec: &&Spec| {
                spec.check.iter().any(|band| {
                    stands_in(facts, amount, &band.limit.written, file)
                        || is_an_end(facts, amount, spec, &band.limit, file)
                })
            };
            let Some(spec) = specs.filter_map(|(_, spec)| facts.spec(file, &spec.text)).find(same) else {
                continue;
            };
            let place = Place { file, span: amount.span };
            findings.push(
                RULE.at(place, format!("{} is typed here once more; it is a limit of `{}`", facts.text(place), spec.name))
                    .label("a copy of the limit")
                    .related(spec.place, "the limit stands here")
                    .why("When the spec is changed this number stays, and one reading is good in one line and bad in the next.")
                    .help(format!("write `{reading} meets {}` or `misses`; an `otherwise low` or `otherwise high` tells the sides apart", spec.name)),
            );
        }
    }
}

/// What a condition judges by specs, and by numbers of its own.
fn tests<'a>(
    condition: &'a Condition,
    judged: &mut Vec<(&'a str, &'a Name)>,
    typed: &mut Vec<(&'a str, &'a Amount)>,
) {
    for test in &condition.tests {
        match &test.kind {
            TestKind::Meets { what: Expr::Name(name), spec, .. } => judged.push((&name.text, spec)),
            TestKind::Band { what: Expr::Name(name), band } => {
                typed.extend(ends(band).into_iter().map(|amount| (name.text.as_str(), amount)));
            }
            _ => {}
        }
    }
}

/// The numbers at the ends of a band.
fn ends(band: &Band) -> Vec<&Amount> {
    match &band.form {
        BandForm::Range(low, high) => vec![low, high],
        BandForm::AtLeast(Expr::Amount(end))
        | BandForm::AtMost(Expr::Amount(end))
        | BandForm::Above(Expr::Amount(end))
        | BandForm::Below(Expr::Amount(end)) => vec![end],
        _ => Vec::new(),
    }
}

/// Whether a number stands in a band as it is written, in the same unit.
fn stands_in(facts: &Facts, amount: &Amount, written: &str, file: usize) -> bool {
    let Some(unit) = &amount.unit else { return false };
    let number = facts.text(Place { file, span: amount.number.span });
    written.ends_with(&unit.text) && written.split(' ').any(|word| word == number) && number != "0"
}

/// Whether a number is an end of a band that is written by its middle, as shown in the unit of the band: 68 Hz of 62 ± 6 Hz.
fn is_an_end(facts: &Facts, amount: &Amount, spec: &Spec, limit: &ResolvedBand, file: usize) -> bool {
    let typed = facts.text(Place { file, span: amount.span });
    let ends = [&limit.band.low, &limit.band.high].into_iter().flatten();
    amount.number.text != "0"
        && ends.map(|end| shown(&end.value, limit.unit, spec.kind, limit.decimals)).any(|end| end == typed)
}
