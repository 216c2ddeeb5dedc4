//! What stands between two tokens: line ends, blank lines, comments. Also which line ending a file has.

use crate::lex::Token;
use crate::tree::Trivia;

/// A comment on a line of its own.
#[derive(Clone, Copy, Debug)]
pub(super) struct OwnLine<'t> {
    /// From the `#` on, without blanks at its end.
    pub(super) text: &'t str,
    /// A blank line stands above it.
    pub(super) blank: bool,
}

/// What stands before a token (or before the end of the file).
#[derive(Clone, Debug, Default)]
pub(super) struct Gap<'t> {
    /// A comment on the line of the token before.
    pub(super) trailing: Option<&'t str>,
    /// Comments on lines of their own.
    pub(super) own: Vec<OwnLine<'t>>,
    /// A blank line stands right above the token.
    pub(super) blank: bool,
    /// The token stands on another line than the one before.
    pub(super) line_end: bool,
}

impl Gap<'_> {
    /// Whether a comment stands here.
    pub(super) fn commented(&self) -> bool {
        self.trailing.is_some() || !self.own.is_empty()
    }
}

/// The gap before each token, and the one at the end: one more than there are tokens.
pub(super) fn of<'t>(text: &'t str, tokens: &[Token], trivia: &Trivia) -> Vec<Gap<'t>> {
    let mut comments = trivia.comments.iter().peekable();
    let mut gaps = Vec::with_capacity(tokens.len() + 1);
    let mut at = 0;
    let ends = tokens.iter().map(|token| (token.span.start, token.span.end));
    for (number, (start, end)) in ends.chain([(text.len(), text.len())]).enumerate() {
        let mut gap = Gap::default();
        while let Some(comment) = comments.next_if(|comment| comment.span.start < start) {
            let above = line_ends(text, at, comment.span.start);
            let shown = text.get(comment.span.start..comment.span.end).unwrap_or("").trim_end();
            if above == 0 && number > 0 && !gap.commented() {
                gap.trailing = Some(shown);
            } else {
                gap.own.push(OwnLine { text: shown, blank: above > 1 });
            }
            gap.line_end = true;
            at = comment.span.end;
        }
        let above = line_ends(text, at, start);
        gap.blank = above > 1;
        gap.line_end |= above > 0;
        gaps.push(gap);
        at = end;
    }
    gaps
}

/// How many lines end between two places; a carriage return with its line feed is one end.
fn line_ends(text: &str, start: usize, end: usize) -> usize {
    let mut count = 0;
    let mut after_return = false;
    for byte in text.get(start..end).unwrap_or("").bytes() {
        count += usize::from(byte == b'\r' || (byte == b'\n' && !after_return));
        after_return = byte == b'\r';
    }
    count
}

/// The line ending that most lines of a text have; a plain line feed where there is a tie or no line end.
pub(super) fn line_ending(text: &str) -> &'static str {
    let pairs = text.matches("\r\n").count();
    let feeds = text.matches('\n').count() - pairs;
    let returns = text.matches('\r').count() - pairs;
    if feeds >= pairs && feeds >= returns {
        "\n"
    } else if pairs >= returns {
        "\r\n"
    } else {
        "\r"
    }
}

/// What the comments of a text say, in order.
pub(super) fn remarks(trivia: &Trivia) -> Vec<&str> {
    trivia.comments.iter().map(|comment| comment.text.as_str()).collect()
}
