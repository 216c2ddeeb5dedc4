//! What is put into the head of a procedure: a line of `needs`, and for which vehicles it is.

use super::{indent_at, is_first, line_end, whole, with_its_line_ends};
use crate::facts::Facts;
use crate::finding::{Edit, Place};
use dwell_syntax::tree::{Part, Procedure, Span};

/// A state asked for in the `needs` of a procedure, which are made where there are none.
pub(crate) fn into_needs(facts: &Facts, file: usize, procedure: &Procedure, state: &str) -> Option<Edit> {
    let needs = procedure.parts.iter().find_map(|part| match part {
        Part::Needs(needs, span) => Some((needs, *span)),
        _ => None,
    });
    let Some((needs, span)) = needs else {
        return head(facts, file, procedure, &format!("needs {{ {state} }}"));
    };
    let text = whole(facts, file);
    let written = text.get(span.start..span.end)?;
    let (at, replacement) = match needs.last() {
        Some(last) => {
            let end = last.by.as_ref().map_or(last.state.span, |by| by.span).end;
            let end = end.max(last.state.span.end);
            let next = text.get(end..line_end(text, end))?.trim_start();
            // Behind its comment, where it has one; a text has nothing else on the line.
            let alone = written.contains('\n') && (next.is_empty() || next.starts_with('#'));
            match alone {
                true => (line_end(text, end), format!("\n{}{state}", indent_at(text, last.state.span.start))),
                false => (end, format!(", {state}")),
            }
        }
        None => {
            let brace = span.start + written.find('{')? + 1;
            (brace, format!(" {state} "))
        }
    };
    let place = Place { file, span: Span::new(at, at) };
    Some(Edit { place, replacement: with_its_line_ends(text, replacement) })
}

/// A procedure narrowed to the vehicles that have one of these values of a variant; none where it says already which
/// vehicles of that variant it is for.
pub(crate) fn narrowed(
    facts: &Facts,
    file: usize,
    procedure: &Procedure,
    variant: &str,
    values: &[&str],
) -> Option<Edit> {
    let said = procedure.parts.iter().any(|part| match part {
        Part::Applies(choice) => choice.name.text == variant,
        _ => false,
    });
    if said || values.is_empty() {
        return None;
    }
    head(facts, file, procedure, &format!("applies to {variant} {}", values.join(", ")))
}

/// A line put into a procedure behind its revision and what it applies to, before all else.
fn head(facts: &Facts, file: usize, procedure: &Procedure, line: &str) -> Option<Edit> {
    let text = whole(facts, file);
    let open = procedure.body.start + 1;
    let last = procedure.parts.iter().filter_map(|part| match part {
        Part::Revision { number, span, .. } => Some(span.end.max(number.span.end)),
        Part::Applies(choice) => choice.values.last().map(|value| value.span.end),
        _ => None,
    });
    let after = last.max().unwrap_or(open);
    let end = line_end(text, after);
    let rest = text.get(after..end)?.trim_start();
    let indent = match is_first(text, procedure.name.span.start) {
        true => String::new(),
        false => indent_at(text, procedure.name.span.start),
    };
    if rest.is_empty() || rest.starts_with('#') || rest.starts_with('"') {
        let replacement = with_its_line_ends(text, format!("\n{indent}    {line}"));
        return Some(Edit { place: Place { file, span: Span::new(end, end) }, replacement });
    }
    let blanks = text.get(after..end)?.len() - rest.len();
    let place = Place { file, span: Span::new(after, after + blanks) };
    let replacement = with_its_line_ends(text, format!("\n{indent}    {line}\n{indent}    "));
    Some(Edit { place, replacement })
}
