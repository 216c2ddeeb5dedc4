//! Units behind a number: those of what is limited, measured or waited for there.

use super::super::bands::thing;
use super::super::view::View;
use super::names::kind_of_reading;
use super::{Sort, Suggestion, name};
use dwell_check::model::Thing;
use dwell_quantity::{Kind, units_for};
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::Span;

/// Letters and signs that a unit is written with.
fn in_unit(letter: &char) -> bool {
    letter.is_alphabetic() || matches!(letter, '°' | '%' | '/' | '·' | '²' | '³' | '*' | '′' | '″')
}

/// The units that can stand at a byte, where a number is right before it on its line; nothing where none is.
pub(super) fn after_number(view: &View, at: usize) -> Option<Vec<Suggestion>> {
    let text = view.text();
    let before = text.get(..at)?;
    let typed: usize = before.chars().rev().take_while(in_unit).map(char::len_utf8).sum();
    let start = at - typed;
    let lexed = lex(before.get(..start)?);
    let number = lexed.tokens.last().filter(|last| last.kind == TokenKind::Number)?;
    let gap = before.get(number.span.end..start)?;
    if gap.contains(['\n', '\r']) || (gap.is_empty() && typed == 0) {
        return None;
    }
    let words: Vec<&str> = lexed
        .tokens
        .iter()
        .rev()
        .skip(1)
        .map(|token| before.get(token.span.start..token.span.end).unwrap_or_default())
        .collect();
    let kind = kind(view, &words, at)?;
    let end = at + text.get(at..)?.chars().take_while(in_unit).map(char::len_utf8).sum::<usize>();
    let span = Span::new(start, end);
    let usual = kind.usual_unit();
    let mut units = units_for(kind);
    units.retain(|unit| !unit.symbol().is_empty());
    let suggestions = units.iter().zip(0..).map(|(unit, place)| Suggestion {
        detail: kind.name().to_owned(),
        ..name(unit.symbol(), Sort::Unit, span, if *unit == usual { 0 } else { 1 + place })
    });
    let mut all: Vec<Suggestion> = suggestions.collect();
    // `3 times` counts, and is no amount.
    if words
        .iter()
        .take_while(|word| !matches!(**word, "{" | "}"))
        .any(|word| *word == "measure" || *word == "up")
    {
        all.push(name("times", Sort::Word, span, 0));
    }
    (!all.is_empty()).then_some(all)
}

/// The kind of what stands before a number, the nearest word first.
fn kind(view: &View, words: &[&str], at: usize) -> Option<Kind> {
    let model = &view.checked.model;
    let mut braces = 0usize;
    for word in words {
        let times = ["wait", "after", "every", "averaging", "over", "lasts", "up", "settles"];
        match *word {
            "}" => braces += 1,
            "{" => braces = braces.saturating_sub(1),
            _ if braces > 0 => continue,
            word if times.contains(&word) => return Kind::named("duration"),
            "resolution" | "check" | "adjust" | "target" | "±" | ".." | "within" => continue,
            _ => {}
        }
        let known = match thing(view, word) {
            Some(Thing::Kind(kind)) => Some(kind),
            Some(Thing::Quantity(quantity)) => model.quantities.get(quantity).map(|known| known.kind),
            Some(Thing::Spec(spec) | Thing::Table(spec)) => model.specs.get(spec).map(|known| known.kind),
            Some(Thing::Item(_)) if words.contains(&"to") => Kind::named("torque"),
            _ => kind_of_reading(view, at, word),
        };
        if known.is_some() {
            return known;
        }
    }
    None
}
