//! Time that a tool or a thing is given before it is read: a wait put in, or `after` in the measurement itself.

use super::{Held, before, handled, into_needs, line_end, statement_at, whole};
use crate::check::statements;
use crate::facts::Facts;
use crate::finding::{Edit, Place};
use crate::model::{Handling, Item};
use dwell_syntax::tree::{Clause, DeclarationKind, LineKind, Measure, Span, StatementKind};

/// A tool that may be cold where it is read: a wait since it was connected or switched on in the same procedure. A tool
/// that nothing switches on is asked for in `needs`. None where it is switched on elsewhere, or in two places.
pub(crate) fn warmed(facts: &Facts, place: Place, tool: &Item) -> Option<(String, Vec<Edit>)> {
    let held = statement_at(facts, place)?;
    facts.thing(place.file, &tool.name)?;
    let verbs = beginnings(facts, tool);
    if verbs.is_empty() {
        let edit = into_needs(facts, place.file, held.procedure, &format!("{} is warm", tool.name))?;
        return Some((format!("ask for the {} to be warm", tool.label), vec![edit]));
    }
    let begun = verbs.iter().flat_map(|verb| handled(held.procedure, verb, &tool.name));
    let mut begun = begun.filter(|(statement, _)| statement.span.end <= held.statement.span.start);
    let (Some((_, handle)), None) = (begun.next(), begun.next()) else { return None };
    let time = time(facts, tool, |line| matches!(line, LineKind::WarmsUp(_)))?;
    let line = format!("wait {time} since {} {}", handle.verb.text, tool.name);
    let title = format!("wait until the {} is warm: `{line}`", tool.label);
    Some((title, vec![before(facts, place.file, held.statement.span, &line)]))
}

/// A tool whose display may still move where it is read: the measurement begins that much later.
pub(crate) fn shown(facts: &Facts, place: Place, tool: &Item) -> Option<(String, Vec<Edit>)> {
    let held = statement_at(facts, place)?;
    let time = time(facts, tool, |line| matches!(line, LineKind::Settles(_)))?;
    let edits: Vec<Edit> = taken(&held, &tool.name)
        .into_iter()
        .filter_map(|measure| {
            let after = measure.clauses.iter().find_map(|clause| match clause {
                Clause::After(amount) => Some(amount.span),
                _ => None,
            });
            let end = measure.with.as_ref()?.span.end;
            let (span, replacement) = match after {
                Some(span) => (span, time.to_owned()),
                None => (Span::new(end, end), format!(" after {time}")),
            };
            Some(Edit { place: Place { file: place.file, span }, replacement })
        })
        .collect();
    (!edits.is_empty()).then(|| (format!("read it later: `after {time}`"), edits))
}

/// Something that may not have come to rest where it is measured: it is let settle right before, or, where an adjustment
/// measures again, at the end of each round.
pub(crate) fn settled(facts: &Facts, place: Place, item: &str, state: &str) -> Option<Vec<Edit>> {
    let held = statement_at(facts, place)?;
    let known = facts.thing(place.file, item)?;
    let crate::model::Thing::Item(known) = known else { return None };
    let label = facts.model.items.get(known)?.label.as_str();
    if label.contains(['"', '{', '\\']) {
        return None;
    }
    let line = format!("do \"Let the {label} settle.\" brings {item} is {state}");
    let StatementKind::Adjust { block, .. } = &held.statement.kind else {
        return Some(vec![before(facts, place.file, held.statement.span, &line)]);
    };
    let text = whole(facts, place.file);
    let last = block.statements.last()?.span;
    let end = line_end(text, last.end);
    let free = text.get(last.end..end)?.trim();
    if !(free.is_empty() || free.starts_with('#')) || end >= block.span.end {
        return None;
    }
    let replacement = format!("\n{}{line}", super::indent_at(text, last.start));
    let replacement = super::with_its_line_ends(text, replacement);
    Some(vec![Edit { place: Place { file: place.file, span: Span::new(end, end) }, replacement }])
}

/// The measurements with a tool that a statement takes, or takes again.
fn taken<'a>(held: &Held<'a>, tool: &str) -> Vec<&'a Measure> {
    let names: Vec<&str> = match &held.statement.kind {
        StatementKind::Measure(measure) if !measure.again => return vec![measure],
        StatementKind::Measure(measure) => {
            measure.readings.iter().map(|reading| reading.name.text.as_str()).collect()
        }
        StatementKind::Adjust { what, .. } => what.iter().map(|(name, _)| name.text.as_str()).collect(),
        _ => Vec::new(),
    };
    let mut found = Vec::new();
    statements(held.procedure, held.procedure.body, &mut |statement, _| {
        if let StatementKind::Measure(measure) = &statement.kind
            && !measure.again
            && measure.with.as_ref().is_some_and(|with| with.text == tool)
            && measure.readings.iter().any(|reading| names.contains(&reading.name.text.as_str()))
        {
            found.push(measure);
        }
    });
    found
}

/// The verbs that take a tool out of its normal state: connect it, switch it on.
fn beginnings<'a>(facts: &Facts<'a>, tool: &'a Item) -> Vec<&'a str> {
    let known = tool.handlings.iter().filter_map(|known| facts.model.handlings.get(*known));
    let begins = |handling: &'a Handling| {
        let verbs = handling.verbs.iter().filter(|(_, from, to)| from.contains(&0) && *to != 0);
        verbs.map(|(verb, _, _)| verb.as_str())
    };
    known.flat_map(begins).collect()
}

/// The time of a line of a tool, as it is written.
fn time<'a>(facts: &Facts<'a>, tool: &Item, is: impl Fn(&LineKind) -> bool) -> Option<&'a str> {
    let file = tool.place.file;
    let declarations = &facts.program.files.get(file)?.tree.declarations;
    let lines = declarations.iter().find_map(|declared| match &declared.kind {
        DeclarationKind::Tool(node) if node.name.span == tool.place.span => Some(&node.lines),
        _ => None,
    })?;
    lines.iter().find(|line| is(&line.kind)).and_then(|line| match &line.kind {
        LineKind::WarmsUp(time) | LineKind::Settles(time) => {
            Some(facts.text(Place { file, span: time.span }))
        }
        _ => None,
    })
}
