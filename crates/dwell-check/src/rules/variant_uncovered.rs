//! A spec that has no value for a variant.

use super::Rule;
use crate::check::statements;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::model::{Thing, When};
use crate::repair;
use crate::trouble::Trouble;
use dwell_syntax::tree::{CaseValue, DeclarationKind, Part, Procedure, StatementKind};

pub(super) const RULE: Rule = Rule {
    name: "variant-uncovered",
    level: Level::Error,
    waivable: false,
    page: include_str!("variant_uncovered.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::VariantUncovered { place, spec, used, variants } = trouble else { continue };
        let missing: Vec<String> =
            variants.iter().map(|(axis, value)| format!("{axis} is {value}")).collect();
        let missing = missing.join(" and ");
        let message = format!("`{spec}` has no value when {missing}");
        let before = findings.iter_mut().find(|finding| {
            finding.rule == RULE.name && finding.message == message && finding.place.file == place.file
        });
        if let Some(before) = before {
            if before.place != *place {
                before.related.push((*place, "needed here as well".to_owned()));
            }
            continue;
        }
        let narrower = narrowed(facts, *place, spec, variants);
        let (title, edits) = narrower.unzip();
        let finding = RULE
            .at(*place, message)
            .label(format!("nothing when {missing}"))
            .why("At that vehicle there would be no value, and a neighbour's would be taken.")
            .help(format!("add a line `check … when {missing}`, or narrow the procedure with `applies to`"))
            .mended(title.unwrap_or_default(), edits);
        findings.push(match used {
            Some(used) => finding.related(*used, "it is needed here"),
            None => finding,
        });
    }
}

/// The procedure narrowed to the vehicles that have a value: no number can be made up, and until somebody looks it up it
/// must not be carried out at the others. Only the writer knows what is meant where the procedure speaks of these vehicles
/// (in `applies to`, in a case), where another procedure performs it, and where several variants make the gap together.
fn narrowed(
    facts: &Facts,
    place: Place,
    spec: &str,
    variants: &[(String, String)],
) -> Option<(String, Vec<Edit>)> {
    let [(variant, value)] = variants else { return None };
    let procedure = repair::procedure_at(facts, place)?;
    let performed = facts.program.files.iter().flat_map(|file| &file.tree.declarations).any(|declared| {
        let DeclarationKind::Procedure(other) = &declared.kind else { return false };
        performs(other, &procedure.name.text)
    });
    let Thing::Variant(known) = facts.thing(place.file, variant)? else { return None };
    let all = &facts.model.variants.get(known)?.values;
    let spec = facts.spec(place.file, spec)?;
    let holds = |when: &[When], value: usize| {
        when.iter().all(|when| match when {
            When::Variant(axis, values) => *axis != known || values.contains(&value),
            _ => true,
        })
    };
    let checks = spec.check.iter().map(|band| band.when.as_slice());
    let rows = spec.rows.iter().flat_map(|rows| &rows.groups).map(|(when, _)| when.as_slice());
    let whens: Vec<&[When]> = checks.chain(rows).collect();
    let is_missing = |at: usize, known: &str| known == value || !whens.iter().any(|when| holds(when, at));
    let values = || all.iter().map(String::as_str).enumerate();
    let missing: Vec<&str> =
        values().filter(|(at, known)| is_missing(*at, known)).map(|(_, known)| known).collect();
    let left: Vec<&str> = values().map(|(_, known)| known).filter(|known| !missing.contains(known)).collect();
    if performed || missing.iter().any(|value| speaks_of(procedure, variant, value)) {
        return None;
    }
    let edit = repair::narrowed(facts, place.file, procedure, variant, &left)?;
    let title = format!("leave these vehicles out for now: `applies to {variant} {}`", left.join(", "));
    Some((title, vec![edit]))
}

/// Whether a case of a procedure is one of a vehicle with this value.
fn speaks_of(procedure: &Procedure, variant: &str, value: &str) -> bool {
    procedure.parts.iter().any(|part| match part {
        Part::Case(case) => case.entries.iter().any(|entry| {
            entry.name.text == variant
                && entry
                    .values
                    .iter()
                    .any(|known| matches!(known, CaseValue::Word(word) if word.text == value))
        }),
        _ => false,
    })
}

/// Whether a procedure performs one of that name, or asks it to bring about what it needs.
fn performs(procedure: &Procedure, name: &str) -> bool {
    let by = procedure.parts.iter().any(|part| match part {
        Part::Needs(needs, _) => needs.iter().any(|need| need.by.as_ref().is_some_and(|by| by.text == name)),
        _ => false,
    });
    let mut performs = by;
    statements(procedure, procedure.body, &mut |statement, _| {
        if let StatementKind::Perform { what, .. } = &statement.kind {
            performs |= what.text == name;
        }
    });
    performs
}
