//! What is said where something else was expected: what is missing, or what could stand there.

use super::super::input::Tok;
use super::super::mistake::{Expected, Label, Mistake};
use super::super::near::{nearest, nearest_of_few};
use super::super::synonyms::limit_synonym;
use super::tested::tested;
use super::{misspelt, slip, what};
use crate::lex::{TokenKind, brief};
use crate::slip::Slip;
use crate::tree::Span;
use crate::words::Word;

/// What is said where something else was expected.
pub(super) fn unexpected(mistake: &Mistake, rest: &[Tok<'_>], tokens: &[Tok<'_>]) -> Slip {
    let shown = foremost(mistake, rest).shown();
    let Some(found) = rest.first() else {
        let last = tokens.last().map_or(Span::default(), |last| last.span);
        let mut slip = slip(last, "the file ends too early");
        slip.help(format!("after this stands {}", listed(&shown)));
        return slip;
    };
    if let Some(slip) = tested(tokens, mistake.start) {
        return slip;
    }
    if let Some(said) = limit_synonym(rest, mistake.expected) {
        let mut slip = slip(said.span, "this limit is said in words that are not known here");
        slip.help(format!("write `{}`", said.instead)).fix(said.span, said.instead);
        return slip;
    }
    let near = if found.kind == TokenKind::Word { mistake.expected.going_on() } else { mistake.expected };
    if found.is_word()
        && let Some(word) =
            nearest_of_few(found.text, |word| near.can_be(word)).filter(|word| !found.is(*word))
    {
        return misspelt(found.span, found.text, word);
    }
    if let Some((relation, word)) = misspelt_relation(rest, mistake) {
        return misspelt(relation.span, relation.text, word);
    }
    if let Some((head, word)) = misspelt_head(tokens, mistake.start) {
        return misspelt(head.span, head.text, word);
    }
    let what = what(found);
    if found.kind == TokenKind::CloseBrace && found.span.start == found.span.end {
        let before = mistake.start.checked_sub(1).and_then(|before| tokens.get(before));
        let mut slip = slip(before.map_or(found.span, |before| before.span), "the block ends too early");
        slip.help(format!("after this stands {}", listed(&shown)));
        return slip;
    }
    if found.first && (found.is(Word::Is) || found.is(Word::Are) || found.kind == TokenKind::Colon) {
        let mut slip = slip(found.span, format!("a name is missing before {what}"));
        slip.help("a line never begins with it");
        return slip;
    }
    let before = mistake.start.checked_sub(1).and_then(|before| tokens.get(before));
    if let Some(slip) = keyword_lost(found, before, mistake).or_else(|| side_lost(found, mistake, tokens)) {
        return slip;
    }
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
            let also = if begins_late(found, mistake) { "; a verb begins a line of its own" } else { "" };
            slip.help(hint.unwrap_or_else(|| format!("here can stand {}{also}", listed(&shown))));
            slip
        }
    }
}

/// What is named of what could stand here: on a line that goes on what goes on with it, before a colon what is declared.
fn foremost(mistake: &Mistake, rest: &[Tok<'_>]) -> Expected {
    let [found, next @ ..] = rest else { return mistake.expected };
    let declares = next.first().is_some_and(|next| next.kind == TokenKind::Colon);
    if mistake.expected.has_label(Label::Declaration) && declares {
        return Expected::label(Label::Declaration);
    }
    let expected = if found.first { mistake.expected } else { mistake.expected.going_on() };
    expected.foremost()
}

/// What is said where a line begins with a name that a verb needs as its item, or a keyword as what it names.
fn keyword_lost(found: &Tok<'_>, before: Option<&Tok<'_>>, mistake: &Mistake) -> Option<Slip> {
    let item_only = mistake.expected == Expected::label(Label::ItemOnLine);
    let before = before.filter(|_| item_only && found.kind != TokenKind::Error)?;
    let name = brief(before.text);
    if !found.first && matches!(found.kind, TokenKind::Colon | TokenKind::Comma) {
        let mut slip = slip(
            before.span,
            format!("a word such as `measure`, `read` or `let` is missing before `{name}`"),
        );
        slip.help("a line that names something new begins with what is done with it");
        return Some(slip);
    }
    let says = |word| matches!(word, Word::Do | Word::Note);
    if let Some(word) = nearest_of_few(before.text, says).filter(|_| found.kind == TokenKind::Str) {
        return Some(misspelt(before.span, before.text, word));
    }
    let mut slip = slip(before.span, format!("a verb or its item is missing beside `{name}`"));
    slip.help("a verb and its item stand on one line: `remove belt-guard`");
    Some(slip)
}

/// What is said of `at 85 °C`, where a test has lost the half of `at least`.
fn side_lost(found: &Tok<'_>, mistake: &Mistake, tokens: &[Tok<'_>]) -> Option<Slip> {
    let at = mistake.start.checked_sub(2).and_then(|before| tokens.get(before))?;
    if found.kind != TokenKind::Unit || !at.is(Word::At) {
        return None;
    }
    let mut slip = slip(at.span, "`least` or `most` is missing after `at`");
    slip.help("a limit on one side is `at least` or `at most`");
    Some(slip)
}

/// Whether what was being read was not at its end, so that nothing new could begin.
fn goes_on(mistake: &Mistake) -> bool {
    ![Label::Statement, Label::Part, Label::Declaration, Label::Line]
        .iter()
        .any(|label| mistake.expected.has_label(*label))
        && !mistake.expected.has_kind(TokenKind::CloseBrace)
}

/// Whether a name stands where a statement could begin, but for its line.
fn begins_late(found: &Tok<'_>, mistake: &Mistake) -> bool {
    found.kind == TokenKind::Word && found.is_name() && mistake.expected.has_label(Label::Statement)
}

/// Whether a number stands where only a line can begin.
fn begins_wrong(found: &Tok<'_>, mistake: &Mistake) -> bool {
    let only_begins = mistake.expected == mistake.expected.going_on();
    mistake.expected.has_label(Label::Line) && (found.first || only_begins)
}

/// Help for what people often run into.
fn hint(found: &Tok<'_>, mistake: &Mistake) -> Option<String> {
    match found.kind {
        TokenKind::LineStr => {
            Some("a text that stands first on its line belongs to nothing: put it on the line above, or write `do` or `note` before it".to_owned())
        }
        TokenKind::Word if found.is(Word::Least) || found.is(Word::Most) => {
            Some("a test stands after `expect`, `if`, `until` or `where`".to_owned())
        }
        TokenKind::Word if begins_late(found, mistake) && mistake.expected == mistake.expected.going_on() => {
            Some("a verb is the first word on its line, or stands right after a brace".to_owned())
        }
        TokenKind::Number | TokenKind::Compound if begins_wrong(found, mistake) => {
            Some("a name or a word is missing before it: nothing begins with a number".to_owned())
        }
        TokenKind::Equals => Some("`=` stands only in `let`; a value is tested with `at least`, `within` or `is`".to_owned()),
        _ => None,
    }
}

/// The word after the first of a line, where it is nearly one that says what a verb or a state does.
fn misspelt_relation<'a, 't>(rest: &'a [Tok<'t>], mistake: &Mistake) -> Option<(&'a Tok<'t>, Word)> {
    let relation = rest.get(1).filter(|next| next.kind == TokenKind::Word && next.word.is_none())?;
    let says = |word| {
        matches!(
            word,
            Word::Needs | Word::Brings | Word::Moves | Word::Lasts | Word::Has | Word::Checked | Word::Signed
        )
    };
    let word = nearest(relation.text, says).filter(|_| mistake.expected.has_label(Label::Line))?;
    Some((relation, word))
}

/// The word at the start of the line before the place, where it is nearly a keyword.
fn misspelt_head<'a, 't>(tokens: &'a [Tok<'t>], at: usize) -> Option<(&'a Tok<'t>, Word)> {
    let before = tokens.get(at.saturating_sub(6)..at)?;
    if tokens.get(at).is_some_and(|found| found.first) {
        return None;
    }
    let head = before.iter().rev().find(|token| token.first || token.kind == TokenKind::LineWord)?;
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
