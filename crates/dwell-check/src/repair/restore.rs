//! A line put into `restore`, which is made where there is none.

use super::{before, indent_at, is_first, line_end, procedure_at, whole, with_its_line_ends};
use crate::check::statements;
use crate::facts::Facts;
use crate::finding::{Edit, Place};
use crate::model::Thing;
use dwell_syntax::tree::{Block, Part, Procedure, Span, StatementKind};

/// Puts a line into the `restore` of the procedure that `place` lies in: what was disturbed later comes back sooner, so
/// it stands in front of all that was disturbed before `place`, but behind what its verb needs. None where the text leaves
/// no plain place for it.
pub(crate) fn into_restore(facts: &Facts, place: Place, line: &str) -> Option<Edit> {
    let procedure = procedure_at(facts, place)?;
    let Some(block) = restore(procedure) else { return made(facts, place.file, procedure, line) };
    // Work of `restore` itself that is not undone has no one place to be undone.
    if block.span.holds(place.span) {
        return None;
    }
    let text = whole(facts, place.file);
    let needed = needed(facts, place.file, line);
    let needed = |kind: &StatementKind| matches!(kind, StatementKind::Handle(handle) if needed.contains(&handle.item.text.as_str()));
    let first = block.statements.iter().rposition(|statement| needed(&statement.kind)).map_or(0, |at| at + 1);
    let later = block.statements.iter().enumerate().skip(first);
    let later = later
        .into_iter()
        .find(|(_, statement)| disturbed_before(procedure, &statement.kind, place))
        .map(|(at, statement)| (at, statement.span));
    if !text.get(block.span.start..block.span.end)?.contains('\n') {
        let at = later.map_or(block.statements.len(), |(at, _)| at);
        return Some(opened(text, place.file, block, line, at));
    }
    if let Some((_, later)) = later {
        return Some(before(facts, place.file, later, line));
    }
    let (at, indent) = match block.statements.last() {
        Some(last) => (last.span, indent_at(text, last.span.start)),
        None => {
            let brace = block.span.start;
            (Span::new(brace, brace + 1), format!("{}    ", indent_at(text, brace)))
        }
    };
    let end = line_end(text, at.end);
    let rest = text.get(at.end..end)?.trim();
    let free = (rest.is_empty() || rest.starts_with('#')) && end < block.span.end;
    let replacement = with_its_line_ends(text, format!("\n{indent}{line}"));
    free.then(|| Edit { place: Place { file: place.file, span: Span::new(end, end) }, replacement })
}

/// Whether `restore` of the procedure at a place does this with that item.
pub(crate) fn restores(procedure: &Procedure, verb: &str, item: &str) -> bool {
    let does = |statement: &dwell_syntax::tree::Statement| {
        matches!(&statement.kind, StatementKind::Handle(handle)
            if handle.verb.text == verb && handle.item.text == item)
    };
    restore(procedure).is_some_and(|block| block.statements.iter().any(does))
}

fn restore(procedure: &Procedure) -> Option<&Block> {
    procedure.parts.iter().find_map(|part| match part {
        Part::Restore { block, .. } => Some(block),
        _ => None,
    })
}

/// Whether what a statement of `restore` handles is first handled before a place.
fn disturbed_before(procedure: &Procedure, kind: &StatementKind, place: Place) -> bool {
    let StatementKind::Handle(handle) = kind else { return false };
    let mut first = None;
    statements(procedure, procedure.body, &mut |statement, _| {
        if let StatementKind::Handle(other) = &statement.kind
            && other.item.text == handle.item.text
        {
            first.get_or_insert(statement.span.start);
        }
    });
    first.is_some_and(|first| first < place.span.start)
}

/// The items that must be in some state before the verb and the item of a line: "refit belt-guard".
fn needed<'a>(facts: &Facts<'a>, file: usize, line: &str) -> Vec<&'a str> {
    let mut words = line.split(' ');
    let (Some(verb), Some(item)) = (words.next(), words.next()) else { return Vec::new() };
    let known = facts.model.scopes.get(file).and_then(|scope| scope.names.get(item));
    let Some(Thing::Item(known) | Thing::Tool(known)) = known else { return Vec::new() };
    let needs = facts.model.items.get(*known).map(|item| item.needs.as_slice()).unwrap_or_default();
    let of_verb = needs.iter().filter(|needs| needs.verb == verb);
    of_verb
        .filter_map(|needs| facts.model.items.get(needs.state.item))
        .map(|item| item.name.as_str())
        .collect()
}

/// A `restore` that stands on one line, opened: each statement on a line of its own, the new one as that of that number.
fn opened(text: &str, file: usize, block: &Block, line: &str, at: usize) -> Edit {
    let indent = indent_at(text, block.span.start);
    let written = |span: Span| text.get(span.start..span.end).unwrap_or_default();
    let mut lines: Vec<&str> = block.statements.iter().map(|statement| written(statement.span)).collect();
    lines.insert(at.min(lines.len()), line);
    let inside: String = lines.iter().map(|line| format!("\n{indent}    {line}")).collect();
    let span = Span::new(block.span.start + 1, block.span.end.saturating_sub(1));
    let replacement = with_its_line_ends(text, format!("{inside}\n{indent}"));
    Edit { place: Place { file, span }, replacement }
}

/// A `restore` after the last step.
fn made(facts: &Facts, file: usize, procedure: &Procedure, line: &str) -> Option<Edit> {
    let text = whole(facts, file);
    let step = procedure.parts.iter().rev().find_map(|part| match part {
        Part::Step(step) => Some(step),
        _ => None,
    })?;
    let last = step.span;
    let end = line_end(text, last.end);
    let rest = text.get(last.end..end)?.trim();
    if !(rest.is_empty() || rest.starts_with('#')) || !is_first(text, last.start) {
        return None;
    }
    let indent = indent_at(text, last.start);
    let place = Place { file, span: Span::new(end, end) };
    let first = step.block.statements.first().filter(|first| is_first(text, first.span.start));
    let inner = first.map_or(format!("{indent}    "), |first| indent_at(text, first.span.start));
    let lines = format!("\n{indent}restore {{\n{inner}{line}\n{indent}}}");
    Some(Edit { place, replacement: with_its_line_ends(text, lines) })
}
