//! What is named like a difference, a drop or a rise, and is declared as a level.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::Thing;
use dwell_quantity::Kind;
use dwell_syntax::tree::{DeclarationKind, Name, StatementKind};

pub(super) const RULE: Rule = Rule {
    name: "name-says-difference",
    level: Level::Warning,
    waivable: true,
    page: include_str!("name_says_difference.md"),
};

/// Last words of a name that say how far two values are apart.
const APART: [&str; 12] = [
    "drop",
    "rise",
    "fall",
    "fluctuation",
    "difference",
    "spread",
    "change",
    "loss",
    "gain",
    "run-out",
    "play",
    "leakage",
];

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, source) in facts.program.files.iter().enumerate().filter(|(_, source)| source.root) {
        for declared in &source.tree.declarations {
            let (name, kind) = match &declared.kind {
                DeclarationKind::Quantity(quantity) => (&quantity.name, &quantity.kind),
                DeclarationKind::Spec(spec) => (&spec.name, &spec.kind),
                DeclarationKind::Table(table) => (&table.name, &table.kind),
                _ => continue,
            };
            findings.extend(found(facts, file, name, kind));
        }
    }
    for (file, procedure, whole) in facts.procedures() {
        crate::check::statements(procedure, whole, &mut |statement, _| match &statement.kind {
            StatementKind::Measure(measure) if !measure.again => {
                let named = measure.readings.iter().filter_map(|new| Some((&new.name, new.kind.as_ref()?)));
                findings.extend(named.filter_map(|(name, kind)| found(facts, file, name, kind)));
            }
            StatementKind::Read { name, kind: Some(kind), .. }
            | StatementKind::Let { name, kind: Some(kind), .. } => {
                findings.extend(found(facts, file, name, kind));
            }
            _ => {}
        });
    }
}

/// What is wrong with a name and its kind. Where the kind is a quantity of the writer's own that has such a name itself, it is
/// told there.
fn found(facts: &Facts, file: usize, name: &Name, of: &Name) -> Option<Finding> {
    let word = apart(&name.text)?;
    let kind = match facts.thing(file, &of.text)? {
        Thing::Kind(kind) => kind,
        Thing::Quantity(quantity) if apart(&of.text).is_none() => facts.model.quantities.get(quantity)?.kind,
        _ => return None,
    };
    let difference = level(kind, word)?;
    Some(
        RULE.at(
            Place { file, span: of.span },
            format!("`{}` is named like a difference, and {kind} is a level", name.text),
        )
        .label("a level")
        .related(Place { file, span: name.span }, format!("a {} lies between two values", word.replace('-', " ")))
        .why("The value is held against the wrong thing: a needle that stands at 450 kPa and does not move has no fluctuation of 450 kPa.")
        .help(format!("write `{difference}`, or name it after the level that is read")),
    )
}

/// The last word of a name that says a difference.
fn apart(name: &str) -> Option<&'static str> {
    APART
        .into_iter()
        .find(|word| name.strip_suffix(word).is_some_and(|before| before.is_empty() || before.ends_with('-')))
}

/// The kind that a difference of this level has. A voltage is read between two points in any case, and the fall of a beam or the
/// play of a wheel is an angle like another.
fn level(kind: Kind, word: &str) -> Option<Kind> {
    let difference = kind.difference();
    let read_between = kind.is_a(Kind::ELECTRIC_POTENTIAL);
    let of_two_angles = kind != Kind::ANGLE || ["difference", "spread"].contains(&word);
    (difference != kind && !read_between && of_two_angles).then_some(difference)
}
