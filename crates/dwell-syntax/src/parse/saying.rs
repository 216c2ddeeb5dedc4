//! Mistakes put into words: where, what, and how to mend it.

mod tested;
mod unexpected;

use self::unexpected::unexpected;
use super::input::Tok;
use super::mistake::{Mistake, Saying};
use super::near::nearest;
use crate::lex::{TokenKind, brief, only_suggestion, unit_help};
use crate::slip::Slip;
use crate::tree::Span;
use crate::words::{Group, Word};

/// What is said of a mistake; `tokens` are those that were parsed.
pub(super) fn said(mistake: &Mistake, tokens: &[Tok<'_>]) -> Slip {
    let rest = tokens.get(mistake.start..).unwrap_or(&[]);
    match mistake.saying {
        Some(saying) => put(saying, rest),
        None => unexpected(mistake, rest, tokens),
    }
}

fn slip(span: Span, message: impl Into<String>) -> Slip {
    Slip { rule: "syntax", span, message: message.into(), help: None, fix: None }
}

fn put(saying: Saying, rest: &[Tok<'_>]) -> Slip {
    let span = rest.first().map_or(Span::default(), |found| found.span);
    let text = rest.first().map_or("", |found| found.text);
    match saying {
        Saying::UnitUnknown => {
            let mut slip = slip(span, format!("`{}` is no unit", brief(text)));
            slip.rule = "unit-unknown";
            slip.help(unit_help(text));
            if let Some(one) = only_suggestion(text) {
                slip.fix(span, one);
            }
            slip
        }
        Saying::Misspelt(word) => misspelt(span, text, word),
        Saying::Lost(word) => lost(span, rest.first(), word),
        Saying::Orphan => {
            let mut slip = slip(span, "`otherwise` has nothing before it that can go another way");
            slip.help("it stands right after `expect`, `adjust`, `keep`, `perform`, `choose` or `back to`, with nothing else between");
            slip
        }
        Saying::LostArm => {
            let mut slip = slip(span, "before this `{` its word is missing");
            slip.help("after `expect`, `adjust` and the like it is `otherwise`, after `if` it is `else`; a block does not stand alone");
            slip
        }
        Saying::LostPart => {
            let mut slip = slip(span, "before this `{` its word is missing");
            slip.help("among the parts of a procedure a block begins with `needs`, `leaves`, `step`, `restore` or `case`");
            slip
        }
        Saying::Loose => {
            let mut slip = slip(span, "an instruction stands here between the parts of a procedure");
            slip.help("put it into a `step`; only cautions, notes and waivers stand outside, and what is held all the while after `keep`");
            slip
        }
        Saying::Mixed => {
            let mut slip = slip(span, "`and` and `or` stand in one condition");
            slip.help("it is not clear which comes first: use two tests one inside the other, or name a part with `let`");
            slip
        }
        Saying::QuantifierAgain => {
            let mut slip =
                slip(span, format!("`{}` stands before a later test of the condition", brief(text)));
            slip.help("`every` or `any` stands first and is for the whole condition: ask the other in an `if` or `expect` of its own");
            slip
        }
        Saying::GluedSign => {
            let mended = text.get(1..).map(|digits| format!("{} {digits}", text.get(..1).unwrap_or("-")));
            let mut slip = slip(
                span,
                format!(
                    "`{}` stands right after a value: a sign that calculates has a blank on both sides",
                    brief(text)
                ),
            );
            slip.help("was a blank meant after the sign?");
            if let Some(mended) = mended {
                slip.fix(span, mended);
            }
            slip
        }
        Saying::DashRange => {
            let mut slip = slip(span, "from … to is written with two points: `..`");
            slip.fix(span, "..");
            slip
        }
        Saying::Count => {
            let mut slip = slip(span, format!("`{}` is no count", brief(text)));
            slip.help("a count is a whole number from 1 to 10,000, without a unit");
            slip
        }
        Saying::FormulaIs => {
            let mut slip = slip(span, "`is` asks for the state of an item or for an answer, not for a value");
            slip.help("for a value write `at least`, `at most`, `above`, `below`, `within` or `exactly`");
            slip
        }
        Saying::TimesBound => {
            let span = rest.get(1).map_or(span, |most| span.to(most.span));
            let mut slip =
                slip(span, "`at most` bounds a value; how often something is done is bounded with `up to`");
            slip.fix(span, "up to");
            slip
        }
        Saying::Outcome => {
            let mut slip = slip(span, format!("`{}` is no way for a procedure to end", brief(text)));
            match nearest(text, |word| word.group() == Group::Outcome) {
                Some(word) => {
                    slip.help(format!("did you mean `{}`?", word.text()));
                    slip.fix(span, word.text());
                }
                None => {
                    slip.help("it ends `passed`, `failed` or `unfinished`");
                }
            }
            slip
        }
    }
}

fn lost(span: Span, found: Option<&Tok<'_>>, word: Word) -> Slip {
    let before = found.map_or_else(String::new, what);
    let mut slip = slip(span, format!("`{}` is missing before {before}", word.text()));
    slip.fix(Span::new(span.start, span.start), format!("{} ", word.text()));
    slip
}

/// A token in a message.
fn what(found: &Tok<'_>) -> String {
    match found.kind {
        TokenKind::Str | TokenKind::LineStr => "a text".to_owned(),
        _ => format!("`{}`", brief(found.text)),
    }
}

fn misspelt(span: Span, text: &str, word: Word) -> Slip {
    let mut slip = slip(span, format!("`{}` is no word of the language here", brief(text)));
    slip.help(format!("did you mean `{}`?", word.text())).fix(span, word.text());
    slip
}
