//! A text set as the formatter sets it: the smallest edits that lead there, and none while something cannot be read.

use dwell_check::program::Content;
use dwell_syntax::format::format;
use dwell_syntax::tree::Span;

/// One edit: what to replace, and by what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The bytes.
    pub span: Span,
    /// The new text.
    pub text: String,
}

/// The edits that set the whole text; none where it is set already or has a slip.
pub fn whole(content: &Content) -> Vec<Edit> {
    if !content.slips.is_empty() {
        return Vec::new();
    }
    let Ok(set) = format(&content.text) else { return Vec::new() };
    lines_changed(&content.text, &set)
}

/// The same for the lines that a range touches.
pub fn within(content: &Content, range: Span) -> Vec<Edit> {
    whole(content)
        .into_iter()
        .filter(|edit| edit.span.start <= range.end && range.start <= edit.span.end)
        .collect()
}

/// The lines in which two texts differ, each run of them as one edit.
fn lines_changed(old: &str, new: &str) -> Vec<Edit> {
    let mut edits = Vec::new();
    let diff = similar::TextDiff::from_lines(old, new);
    let starts = |text: &str| {
        let mut at = 0;
        let mut starts = vec![0];
        for line in text.split_inclusive('\n') {
            at += line.len();
            starts.push(at);
        }
        starts
    };
    let (old_starts, new_starts) = (starts(old), starts(new));
    let at = |starts: &[usize], line: usize| starts.get(line).or(starts.last()).copied().unwrap_or_default();
    for op in diff.ops().iter().filter(|op| op.tag() != similar::DiffTag::Equal) {
        let (was, is) = (op.old_range(), op.new_range());
        let span = Span::new(at(&old_starts, was.start), at(&old_starts, was.end));
        let text = new.get(at(&new_starts, is.start)..at(&new_starts, is.end)).unwrap_or_default();
        edits.push(Edit { span, text: text.to_owned() });
    }
    edits
}
