//! Mistakes put into words: where, what, and how to mend it.

use super::input::Tok;
use super::mistake::{Label, Mistake, Saying};
use super::near::nearest;
use super::synonyms::limit_synonym;
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
        Saying::Orphan => {
            let mut slip = slip(span, "`otherwise` has nothing before it that can go another way");
            slip.help("it stands right after `expect`, `adjust`, `keep`, `perform`, `choose` or `back to`, with no other statement between");
            slip
        }
        Saying::Loose => {
            let mut slip = slip(span, "a statement stands here between the parts of a procedure");
            slip.help("put it into a `step`; only cautions, notes and waivers stand outside");
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

fn misspelt(span: Span, text: &str, word: Word) -> Slip {
    let mut slip = slip(span, format!("`{}` is no word of the language here", brief(text)));
    slip.help(format!("did you mean `{}`?", word.text())).fix(span, word.text());
    slip
}

/// What is said where something else was expected.
fn unexpected(mistake: &Mistake, rest: &[Tok<'_>], tokens: &[Tok<'_>]) -> Slip {
    let shown = mistake.expected.shown();
    let Some(found) = rest.first() else {
        let last = tokens.last().map_or(Span::default(), |last| last.span);
        let mut slip = slip(last, "the file ends too early");
        slip.help(format!("after this stands {}", listed(&shown)));
        return slip;
    };
    if let Some(said) = limit_synonym(rest, mistake.expected) {
        let mut slip = slip(said.span, "this limit is said in words that are not known here");
        slip.help(format!("write `{}`", said.instead)).fix(said.span, said.instead);
        return slip;
    }
    if found.is_word()
        && let Some(word) =
            nearest(found.text, |word| mistake.expected.can_be(word)).filter(|word| !found.is(*word))
    {
        return misspelt(found.span, found.text, word);
    }
    if let Some((head, word)) = misspelt_head(tokens, mistake.start) {
        return misspelt(head.span, head.text, word);
    }
    let what = match found.kind {
        TokenKind::Str | TokenKind::LineStr => "a text".to_owned(),
        _ => format!("`{}`", brief(found.text)),
    };
    if found.kind == TokenKind::CloseBrace && found.span.start == found.span.end {
        let before = mistake.start.checked_sub(1).and_then(|before| tokens.get(before));
        let mut slip = slip(before.map_or(found.span, |before| before.span), "the block ends too early");
        slip.help(format!("after this stands {}", listed(&shown)));
        return slip;
    }
    let before = mistake.start.checked_sub(1).and_then(|before| tokens.get(before));
    if let Some(before) = before.filter(|_| found.first && goes_on(mistake)) {
        let shown_before = brief(before.text);
        return match shown.as_slice() {
            [one] => slip(before.span, format!("{one} is missing after `{shown_before}`")),
            _ => {
                let mut slip = slip(before.span, "something is missing at the end of this line");
                slip.help(format!("after `{shown_before}` stands {}", listed(&shown)));
                slip
            }
        };
    }
    match (shown.as_slice(), hint(found, mistake)) {
        ([one], None) => slip(found.span, format!("{one} is missing before {what}")),
        (_, hint) => {
            let mut slip = slip(found.span, format!("{what} cannot stand here"));
            slip.help(hint.unwrap_or_else(|| format!("here can stand {}", listed(&shown))));
            slip
        }
    }
}

/// Whether what was being read was not at its end, so that nothing new could begin.
fn goes_on(mistake: &Mistake) -> bool {
    ![Label::Statement, Label::Part, Label::Declaration, Label::Line]
        .iter()
        .any(|label| mistake.expected.has_label(*label))
        && !mistake.expected.has_kind(TokenKind::CloseBrace)
}

/// Help for what people often run into.
fn hint(found: &Tok<'_>, mistake: &Mistake) -> Option<String> {
    let statement = mistake.expected.has_label(Label::Statement);
    match found.kind {
        TokenKind::LineStr => {
            Some("a text that stands first on its line belongs to nothing: put it on the line above, or write `do` or `note` before it".to_owned())
        }
        TokenKind::Word if statement && found.is_name() => {
            Some("a verb is the first word on its line, or stands right after a brace".to_owned())
        }
        TokenKind::Equals => Some("`=` stands only in `let`; a value is tested with `at least`, `within` or `is`".to_owned()),
        _ => None,
    }
}

/// The word at the start of the line before the place, where it is nearly a keyword.
fn misspelt_head<'a, 't>(tokens: &'a [Tok<'t>], at: usize) -> Option<(&'a Tok<'t>, Word)> {
    let before = tokens.get(at.saturating_sub(6)..at)?;
    let head = before.iter().rev().find(|token| token.kind == TokenKind::LineWord)?;
    if head.word.is_some() {
        return None;
    }
    nearest(head.text, |word| word.begins_statement() || word.begins_part() || word.begins_declaration())
        .map(|word| (head, word))
}

/// `a, b or c`, not more than seven.
fn listed(shown: &[String]) -> String {
    let shown: Vec<&str> = shown.iter().take(7).map(String::as_str).collect();
    match shown.as_slice() {
        [] => "something else".to_owned(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
