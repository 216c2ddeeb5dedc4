//! What can be folded away: blocks between braces, runs of comments, runs of `use`.

use dwell_check::program::Content;
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::DeclarationKind;

/// What a fold hides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Folded {
    /// What stands between two braces.
    Block,
    /// Comments on lines of their own.
    Comments,
    /// The files that are used.
    Uses,
}

/// Lines that fold into the first of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Folding {
    /// The line that stays, from 0.
    pub first: usize,
    /// The last line that is hidden, from 0; after `first`.
    pub last: usize,
    /// What is hidden.
    pub what: Folded,
}

/// All folds of a text, by their first lines; of those that begin on one line only the largest. They follow from the braces
/// alone, so a line that cannot be read takes none away.
pub fn folding(content: &Content) -> Vec<Folding> {
    let line = |at: usize| content.lines.line(at);
    let lexed = lex(&content.text);
    let mut all = Vec::new();
    let mut open = Vec::new();
    let mut before = 0;
    for token in &lexed.tokens {
        match token.kind {
            TokenKind::OpenBrace => open.push(line(token.span.start)),
            TokenKind::CloseBrace => {
                if let Some(first) = open.pop() {
                    // The closing brace stays in sight where it has a line of its own.
                    let (closes, last) = (line(token.span.start), line(before));
                    let last = if last < closes { closes.saturating_sub(1) } else { closes };
                    all.push(Folding { first, last, what: Folded::Block });
                }
            }
            _ => {}
        }
        before = token.span.start;
    }
    let comments = lexed.trivia.comments.iter().filter(|comment| comment.own_line);
    all.extend(runs(comments.map(|comment| line(comment.span.start)), Folded::Comments));
    let uses = content.tree.declarations.iter().filter(|one| matches!(one.kind, DeclarationKind::Use(_)));
    all.extend(runs(uses.map(|one| line(one.span.start)), Folded::Uses));
    all.retain(|fold| fold.first < fold.last);
    all.sort_by_key(|fold| (fold.first, std::cmp::Reverse(fold.last)));
    all.dedup_by_key(|fold| fold.first);
    all
}

/// Lines that follow each other without a gap.
fn runs(lines: impl Iterator<Item = usize>, what: Folded) -> Vec<Folding> {
    let mut runs: Vec<Folding> = Vec::new();
    for line in lines {
        match runs.last_mut() {
            Some(run) if line <= run.last + 1 => run.last = line,
            _ => runs.push(Folding { first: line, last: line, what }),
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::{Folded, folding};
    use dwell_check::program::Content;

    fn told(text: &str) -> Vec<(usize, usize, Folded)> {
        let all = folding(&Content::of(text.to_owned()));
        all.into_iter().map(|fold| (fold.first, fold.last, fold.what)).collect()
    }

    #[test]
    fn blocks_comments_and_uses_fold() {
        let text = "use \"a.dwell\"\nuse \"b.dwell\"\n\n# one 😀\n# two\n# three\nprocedure p {\n    needs { x is y }\n    step s {\n        note \"}\"\n    }\n}\n# last\n";
        assert_eq!(
            told(text),
            [(0, 1, Folded::Uses), (3, 5, Folded::Comments), (6, 10, Folded::Block), (8, 9, Folded::Block)]
        );
    }

    #[test]
    fn what_closes_on_a_line_with_something_else_hides_that_line_and_what_opens_on_one_line_folds_once() {
        assert_eq!(told("procedure p { step s {\nnote \"a\"\nnote \"b\" }\n}\n"), [(0, 2, Folded::Block)]);
        assert_eq!(told("item x: y { located \"a\" }\n# a\n"), []);
    }

    #[test]
    fn folds_are_left_where_something_cannot_be_read() {
        assert_eq!(told("item %% {\nx\ny\n}\nprocedure p {\nstep s {\n"), [(0, 2, Folded::Block)]);
        assert_eq!(told("}\n}\r\nitem x: y {\r\nlocated \"µ\"\r\n}"), [(2, 3, Folded::Block)]);
        assert_eq!(told(""), []);
    }
}
