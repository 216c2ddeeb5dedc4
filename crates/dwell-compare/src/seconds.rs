//! Second units in parentheses: nothing is decided by them, but a crew reads them.

use crate::{Change, Grade, Side};
use dwell_check::finding::Place;
use dwell_syntax::lex::{Token, TokenKind, lex};
use dwell_syntax::tree::{DeclarationKind, Name, Span};

/// Words that a limit may begin with.
const OF_A_LIMIT: [&str; 6] = ["at", "least", "most", "above", "below", "exactly"];

/// One amount or limit that is printed in two units.
struct Printed<'a> {
    /// The first, as typed.
    first: String,
    /// The second, as typed.
    second: String,
    place: Place,
    /// The declaration that it stands in: what it is, and its name.
    of: (&'static str, &'a str),
}

/// Adds a change for each second unit that is another one, where the first is still the same.
pub(crate) fn all(old: Side, new: Side, changes: &mut Vec<Change>) {
    let before = printed(old);
    let mut after: Vec<Option<Printed>> = printed(new).into_iter().map(Some).collect();
    for then in &before {
        let same = |now: &Option<Printed>| {
            now.as_ref().is_some_and(|now| now.of == then.of && now.first == then.first)
        };
        // The one that stayed as it is, or else the first of its like.
        let exactly = after
            .iter()
            .position(|now| same(now) && now.as_ref().is_some_and(|now| now.second == then.second));
        let Some(now) =
            exactly.or_else(|| after.iter().position(same)).and_then(|at| after.get_mut(at)?.take())
        else {
            continue;
        };
        if now.second == then.second {
            continue;
        }
        let disagrees = disagrees(old, then.place) || disagrees(new, now.place);
        let also = if disagrees { ", and one of them is another value" } else { "" };
        changes.push(Change {
            grade: if disagrees { Grade::Loud } else { Grade::Quiet },
            of: format!("{} {}", now.of.0, now.of.1),
            kind: "second unit",
            says: format!(
                "only the printed second unit of {}: ({}) → ({}){also}",
                then.first, then.second, now.second
            ),
            old: old.place(then.place),
            new: new.place(now.place),
        });
    }
}

/// Whether the two units there were found to say different things.
fn disagrees(side: Side, place: Place) -> bool {
    side.checked.findings.iter().chain(side.checked.waived.iter().map(|waived| &waived.finding)).any(
        |finding| {
            matches!(finding.rule, "pair-disagrees" | "pair-rounds-outward")
                && finding.place.file == place.file
                && place.span.holds(finding.place.span)
        },
    )
}

/// All that is printed in two units, in the order of the texts.
fn printed<'a>(side: Side<'a>) -> Vec<Printed<'a>> {
    let mut all = Vec::new();
    for (file, source) in side.checked.program.files.iter().enumerate().skip(1) {
        let tokens = lex(&source.text).tokens;
        for declared in &source.tree.declarations {
            let Some(of) = named(&declared.kind) else { continue };
            let inside: Vec<&Token> = tokens.iter().filter(|token| declared.span.holds(token.span)).collect();
            let text = |token: &Token| source.text.get(token.span.start..token.span.end).unwrap_or_default();
            for (at, token) in inside.iter().enumerate() {
                let is_beside = token.kind == TokenKind::OpenParen
                    && at
                        .checked_sub(1)
                        .and_then(|at| inside.get(at))
                        .is_some_and(|before| ends_amount(before))
                    && inside.get(at + 1).is_some_and(|next| belongs(next, text(next)));
                if !is_beside {
                    continue;
                }
                let close = inside.iter().skip(at).position(|token| token.kind == TokenKind::CloseParen);
                let Some(close) = close.map(|more| at + more) else { continue };
                let first =
                    inside.iter().take(at).rev().take_while(|token| belongs(token, text(token))).count();
                let words = |range: &[&Token]| -> String {
                    range.iter().map(|token| text(token)).collect::<Vec<_>>().join(" ")
                };
                let (Some(one), Some(other)) = (inside.get(at - first..at), inside.get(at + 1..close)) else {
                    continue;
                };
                let (Some(begin), Some(end)) = (other.first(), other.last()) else { continue };
                let place = Place { file, span: Span::new(begin.span.start, end.span.end) };
                all.push(Printed { first: words(one), second: words(other), place, of });
            }
        }
    }
    all
}

/// Whether an amount can end with this token.
fn ends_amount(token: &Token) -> bool {
    matches!(token.kind, TokenKind::Unit | TokenKind::Number | TokenKind::Compound)
}

/// Whether a token can stand in an amount or a limit.
fn belongs(token: &Token, text: &str) -> bool {
    ends_amount(token)
        || matches!(token.kind, TokenKind::PlusMinus | TokenKind::DotDot)
        || (matches!(token.kind, TokenKind::Word | TokenKind::LineWord) && OF_A_LIMIT.contains(&text))
}

/// What a declaration is, and its name.
fn named(kind: &DeclarationKind) -> Option<(&'static str, &str)> {
    fn of<'a>(what: &'static str, name: &'a Name) -> Option<(&'static str, &'a str)> {
        Some((what, name.text.as_str()))
    }
    match kind {
        DeclarationKind::Item(node) => of("item", &node.name),
        DeclarationKind::Quantity(node) => of("quantity", &node.name),
        DeclarationKind::Spec(node) => of("spec", &node.name),
        DeclarationKind::Table(node) => of("table", &node.name),
        DeclarationKind::Series(node) => of("series", &node.name),
        DeclarationKind::Tool(node) => of("tool", &node.name),
        DeclarationKind::Procedure(node) => of("procedure", &node.name),
        _ => None,
    }
}
