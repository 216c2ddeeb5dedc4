//! A window on a very long line: enough of it to see the marked place.

use dwell_check::program::SourceFile;
use dwell_syntax::tree::Span;
use std::ops::Range;

/// The longest line that is shown whole, in characters.
const LONGEST: usize = 200;
/// How many characters are shown before and after the marked ones.
const AROUND: usize = 60;

/// The marked line cut to a window, in a text of its own.
pub(super) struct Window {
    /// As many empty lines as stand before it, so that it keeps its number, and the cut line.
    pub(super) text: String,
    /// The mark in that text.
    pub(super) mark: Range<usize>,
}

/// The window for a mark on a line that is too long to be shown; none for a line of ordinary length.
pub(super) fn window(file: &SourceFile, shown: &str, span: Span) -> Option<Window> {
    let line = file.lines.line(span.start);
    let start = file.lines.start(line);
    let whole = shown.get(start..)?.split(['\r', '\n']).next()?;
    if whole.chars().count() <= LONGEST {
        return None;
    }
    let from = whole.floor_char_boundary(span.start.saturating_sub(start));
    let most = char_end(whole, from, LONGEST - 2 * AROUND);
    let to = whole.ceil_char_boundary(span.end.saturating_sub(start)).clamp(from, most);
    let before = whole.get(..from)?.char_indices().rev().take(AROUND).last().map_or(from, |(at, _)| at);
    let after = char_end(whole, to, AROUND);
    let mut text = "\n".repeat(line);
    if before > 0 {
        text.push('…');
    }
    let begin = text.len() + from - before;
    text.push_str(whole.get(before..after)?);
    if after < whole.len() {
        text.push('…');
    }
    Some(Window { text, mark: begin..begin + to - from })
}

/// The byte after `count` characters from `from` on.
fn char_end(line: &str, from: usize, count: usize) -> usize {
    line.get(from..).and_then(|rest| rest.char_indices().nth(count)).map_or(line.len(), |(at, _)| from + at)
}
