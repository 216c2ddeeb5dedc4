//! Where a repair changes a text: a line put in before a statement, a statement moved, a line put into `restore`. The
//! writer's indentation and comments stay.

mod head;
mod ready;
mod restore;
mod units;

pub(crate) use head::{into_needs, narrowed};
pub(crate) use ready::{settled, shown, warmed};
pub(crate) use restore::{into_restore, restores};
pub(crate) use units::{declared_band, declared_kind};

use crate::check::statements;
use crate::facts::Facts;
use crate::finding::{Edit, Place};
use dwell_syntax::tree::{DeclarationKind, Procedure, Span, Statement, StatementKind};

/// A statement with what it stands in.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Held<'a> {
    /// The procedure.
    pub(crate) procedure: &'a Procedure,
    /// The statement.
    pub(crate) statement: &'a Statement,
    /// The braces, or the whole procedure.
    pub(crate) block: Span,
}

/// The innermost statement that a place begins in.
pub(crate) fn statement_at<'a>(facts: &Facts<'a>, place: Place) -> Option<Held<'a>> {
    let procedure = procedure_at(facts, place)?;
    let mut held = None;
    statements(procedure, procedure.body, &mut |statement, block| {
        if statement.span.start <= place.span.start && place.span.start < statement.span.end {
            held = Some(Held { procedure, statement, block });
        }
    });
    held
}

/// The procedure that a place lies in.
pub(crate) fn procedure_at<'a>(facts: &Facts<'a>, place: Place) -> Option<&'a Procedure> {
    let file = facts.program.files.get(place.file)?;
    file.tree.declarations.iter().find_map(|declaration| match &declaration.kind {
        DeclarationKind::Procedure(procedure) if declaration.span.holds(place.span) => Some(&**procedure),
        _ => None,
    })
}

/// A new statement before one that is there, on a line of its own.
pub(crate) fn before(facts: &Facts, file: usize, statement: Span, line: &str) -> Edit {
    let text = whole(facts, file);
    let place = Place { file, span: Span::new(statement.start, statement.start) };
    let indent = indent_at(text, statement.start);
    let replacement = if is_first(text, statement.start) {
        format!("{line}\n{indent}")
    } else {
        format!("\n{indent}    {line}\n{indent}    ")
    };
    Edit { place, replacement: with_its_line_ends(text, replacement) }
}

/// A statement taken out, with its line where it has one to itself.
pub(crate) fn without(facts: &Facts, file: usize, statement: Span) -> Edit {
    let text = whole(facts, file);
    let start = line_start(text, statement.start);
    let end = line_end(text, statement.end);
    let alone = is_first(text, statement.start)
        && text.get(statement.end..end).is_some_and(|rest| rest.trim().is_empty());
    let line_feed = text.get(end..).and_then(|rest| rest.find('\n'));
    let span = match (alone, line_feed) {
        (true, Some(more)) => Span::new(start, end + more + 1),
        (true, None) => Span::new(start, end),
        (false, _) => {
            let rest = text.get(statement.end..).unwrap_or_default();
            let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
            Span::new(statement.start, statement.end + blanks)
        }
    };
    Edit { place: Place { file, span }, replacement: String::new() }
}

/// The only one of these, or none.
pub(crate) fn only<T: PartialEq>(all: impl IntoIterator<Item = T>) -> Option<T> {
    let mut all = all.into_iter();
    let first = all.next()?;
    all.all(|other| other == first).then_some(first)
}

/// The texts of all statements of a procedure that handle an item so.
pub(crate) fn handled<'a>(
    procedure: &'a Procedure,
    verb: &str,
    item: &str,
) -> Vec<(&'a Statement, &'a dwell_syntax::tree::Handle)> {
    let mut found = Vec::new();
    statements(procedure, procedure.body, &mut |statement, _| {
        if let StatementKind::Handle(handle) = &statement.kind
            && handle.item.text == item
            && (verb.is_empty() || handle.verb.text == verb)
        {
            found.push((statement, handle));
        }
    });
    found
}

/// The text of a file.
pub(crate) fn whole<'a>(facts: &Facts<'a>, file: usize) -> &'a str {
    facts.program.files.get(file).map_or("", |file| file.text.as_str())
}

/// Where the line of a byte begins.
fn line_start(text: &str, at: usize) -> usize {
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |end| end + 1)
}

/// Where the line of a byte ends, before its line end.
fn line_end(text: &str, at: usize) -> usize {
    let rest = text.get(at..).unwrap_or_default();
    let line = rest.get(..rest.find('\n').unwrap_or(rest.len())).unwrap_or_default();
    at + line.strip_suffix('\r').unwrap_or(line).len()
}

/// Lines to put in, with the line ends that the text has.
fn with_its_line_ends(text: &str, lines: String) -> String {
    if text.contains("\r\n") { lines.replace('\n', "\r\n") } else { lines }
}

/// The blanks that the line of a byte begins with.
fn indent_at(text: &str, at: usize) -> String {
    let line = text.get(line_start(text, at)..at).unwrap_or_default();
    line.chars().take_while(|letter| matches!(letter, ' ' | '\t')).collect()
}

/// Whether nothing but blanks stands before a byte on its line.
fn is_first(text: &str, at: usize) -> bool {
    text.get(line_start(text, at)..at).is_some_and(|before| before.trim().is_empty())
}
