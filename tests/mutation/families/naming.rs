//! Breaks of names: wrong ones, doubled ones, unused ones, circles.

use dwell_syntax::tree::{Clause, DeclarationKind, Part, Span, SpecLineKind, StatementKind, TestKind};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::Ground;

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("not-found", not_found),
    ("declared-twice", declared_twice),
    ("import-cycle", import_cycle),
    ("perform-cycle", perform_cycle),
    ("not-executable", not_executable),
    ("variant-unknown", variant_unknown),
    ("name-unused", name_unused),
    ("withdrawn", withdrawn),
];

/// A letter lost in the middle of a name.
fn slipped(name: &str) -> String {
    let middle = name.len() / 2;
    format!("{}{}", &name[..middle], &name[middle + 1..])
}

fn not_found(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let mut names = Vec::new();
        match &spot.statement().kind {
            StatementKind::Handle(handle) => names.extend([&handle.item]),
            StatementKind::Measure(measure) => names.extend(&measure.with),
            StatementKind::Cause { item, .. } => names.push(item),
            StatementKind::Refer { to, .. } => names.push(to),
            StatementKind::Expect { condition, .. } => {
                for test in &condition.tests {
                    if let TestKind::Meets { spec, .. } = &test.kind {
                        names.push(spec);
                    }
                }
            }
            _ => {}
        }
        for name in names.into_iter().filter(|name| name.text.len() > 3) {
            let wrong = slipped(&name.text);
            all.push(spot.source.broken(format!("{wrong} for {}", name.text)).swap(name.span, wrong));
        }
    }
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            if let DeclarationKind::Use(path) = &declaration.kind {
                let wrong = format!("\"{}\"", path.text.replace(".dwell", "s.dwell"));
                all.push(source.broken(format!("uses {wrong}")).swap(path.span, wrong));
            }
        }
    }
    all
}

fn declared_twice(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            let name = match &declaration.kind {
                DeclarationKind::Item(item) => &item.name,
                DeclarationKind::Spec(spec) => &spec.name,
                DeclarationKind::Tool(tool) => &tool.name,
                DeclarationKind::Quantity(quantity) => &quantity.name,
                _ => continue,
            };
            let copy = format!("\n{}\n", source.of(declaration.span));
            let end = source.lines(declaration.span).end;
            all.push(source.broken(format!("a copy of {}", name.text)).put(end, copy).near(Near::Use));
        }
    }
    all
}

/// The path of one file as another one names it.
fn relative(from: &str, to: &str) -> String {
    match (from.rsplit_once('/'), to.rsplit_once('/')) {
        (Some((here, _)), Some((there, name))) if here == there => name.to_owned(),
        (Some(_), _) => format!("../{to}"),
        (None, _) => to.to_owned(),
    }
}

fn import_cycle(ground: &Ground) -> Vec<Broken> {
    use dwell_check::program::Sources;
    let mut all = Vec::new();
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            let DeclarationKind::Use(path) = &declaration.kind else { continue };
            let used = ground.merle.join(&source.path, &path.text);
            let Some(other) = ground.sources.iter().find(|other| other.path == used) else { continue };
            let line = format!("use \"{}\"\n", relative(&used, &source.path));
            let broken = other.broken(format!("{used} uses its user {}", source.path)).put(0, line);
            all.push(broken.near(Near::Use).checked(&source.path));
        }
    }
    all
}

fn perform_cycle(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let Part::Step(step) = part else { continue };
            let Some(first) = step.block.statements.first() else { continue };
            let line = format!("perform {}\n        ", procedure.name.text);
            let what = format!("{} performs itself", procedure.name.text);
            all.push(source.broken(what).put(first.span.start, line).near(Near::Declaration));
        }
    }
    all
}

/// Many readings, and the word that makes one of them is lost.
fn not_executable(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Measure(measure) = &spot.statement().kind else { continue };
        // A window with nothing but its length is one reading that takes so long.
        let many = measure.clauses.iter().any(|clause| matches!(clause, Clause::Times(_) | Clause::Every(_)));
        let take = measure.clauses.iter().find_map(|clause| match clause {
            Clause::Take(_, span) => {
                let before =
                    spot.source.text[..span.start].trim_end().trim_end_matches("take").trim_end().len();
                Some(Span { start: before, end: span.end })
            }
            _ => None,
        });
        if let (true, Some(take)) = (many, take) {
            all.push(spot.source.broken("many readings, and nothing says how they become one").cut(take));
        } else if measure.clauses.is_empty() && !measure.again && measure.readings.len() == 1 {
            let at = measure.with.as_ref().map_or(spot.statement().span.end, |with| with.span.end);
            all.push(
                spot.source
                    .broken("three readings, and nothing says how they become one")
                    .put(at, " 3 times"),
            );
        }
    }
    all
}

fn variant_unknown(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let axes: Vec<&str> = ground
        .sources
        .iter()
        .flat_map(|source| &source.tree.declarations)
        .filter_map(|declaration| match &declaration.kind {
            DeclarationKind::Variant(choice) => Some(choice.name.text.as_str()),
            _ => None,
        })
        .collect();
    for limit in ground.limits() {
        for when in limit.when.iter().filter(|when| axes.contains(&when.name.text.as_str())) {
            for value in &when.values {
                let what = format!("{}x for {}", value.text, value.text);
                all.push(limit.source.broken(what).put(value.span.end, "x"));
            }
        }
    }
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let Part::Applies(choice) = part else { continue };
            for value in &choice.values {
                let what = format!("{}x for {}", value.text, value.text);
                all.push(source.broken(what).put(value.span.end, "x"));
            }
        }
    }
    all
}

/// An old copy of a spec stays under another name; only in files with procedures, as it must be used somewhere.
fn name_unused(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let Some(span) = limit.source.declaration(limit.spec.name.span.start) else { continue };
        if !ground.procedures().any(|(source, _)| source.path == limit.source.path) {
            continue;
        }
        let (before, name) = (Span { start: span.start, end: limit.spec.name.span.start }, &limit.spec.name);
        let after = Span { start: name.span.end, end: span.end };
        let copy = format!("{}{}-old{}\n\n", limit.source.of(before), name.text, limit.source.of(after));
        all.push(
            limit.source.broken(format!("{} stays as {}-old", name.text, name.text)).put(span.start, copy),
        );
    }
    all
}

/// A spec is withdrawn, and what was written later goes by it.
fn withdrawn(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let spec = limit.spec;
        if spec.lines.iter().any(|line| matches!(line.kind, SpecLineKind::Withdrawn(..))) {
            continue;
        }
        let line = "withdrawn on 2029-01-01 \"Replaced.\"\n    ";
        let broken = limit.source.broken(format!("{} is withdrawn", spec.name.text));
        let broken = broken.put(limit.line.span.start, line).near(Near::Use);
        all.extend(
            super::tools::users(ground, &spec.name.text, &limit.source.path)
                .into_iter()
                .map(|user| broken.clone().checked(user)),
        );
    }
    all
}
