//! The one spelling of each token: `±` for `+-`, `°` for `deg`, `Ω` for `ohm`, `µ` for `u`, `·` for `*` in a unit.

use std::collections::HashMap;
use std::sync::LazyLock;

use dwell_quantity::{Lookup, Unit, lookup};

use crate::lex::{Token, TokenKind, lex};
use crate::tree::File;

/// What is written for each token.
pub(super) fn texts(text: &str, tokens: &[Token]) -> Vec<String> {
    let mended = lex(text).mended;
    let mut mended = mended.into_iter().peekable();
    tokens
        .iter()
        .enumerate()
        .map(|(at, token)| {
            let meant = mended.next_if(|(index, _)| *index == at).map(|(_, text)| text);
            let typed = || text.get(token.span.start..token.span.end).unwrap_or("").to_owned();
            match token.kind {
                TokenKind::PlusMinus => "±".to_owned(),
                TokenKind::Times => "*".to_owned(),
                TokenKind::Unit => unit(&meant.unwrap_or_else(typed)),
                _ => meant.unwrap_or_else(typed),
            }
        })
        .collect()
}

/// The first of the spellings of a unit that differ only in a twin sign. Another word for the unit stays as typed, and so
/// does what is no unit.
pub(super) fn unit(typed: &str) -> String {
    let Some(meant) = known(typed) else { return typed.to_owned() };
    let mut spelling = typed.to_owned();
    for twin in [degree, ohm, micro, dot] {
        let other = twin(&spelling);
        if other != spelling && known(&other) == Some(meant) {
            spelling = other;
        }
    }
    spelling
}

/// The unit of a spelling of the table. Unlike a look-up it costs nothing where there is none.
fn known(spelling: &str) -> Option<Unit> {
    static TABLE: LazyLock<HashMap<&'static str, Unit>> = LazyLock::new(|| {
        let spelt = dwell_quantity::spellings().map(|spelling| (spelling, lookup(spelling)));
        spelt
            .filter_map(
                |(spelling, found)| {
                    if let Lookup::Unit(unit) = found { Some((spelling, unit)) } else { None }
                },
            )
            .collect()
    });
    TABLE.get(spelling).copied()
}

fn degree(spelling: &str) -> String {
    match spelling.strip_prefix("deg") {
        Some(rest) if !rest.starts_with(|c: char| c.is_lowercase()) => format!("°{rest}"),
        _ => spelling.to_owned(),
    }
}

fn ohm(spelling: &str) -> String {
    spelling.replace("ohm", "Ω")
}

fn micro(spelling: &str) -> String {
    spelling.strip_prefix('u').map_or_else(|| spelling.to_owned(), |rest| format!("µ{rest}"))
}

fn dot(spelling: &str) -> String {
    spelling.replace(['*', '.'], "·")
}

/// All that a tree says, without the places it stands at and with units in their one spelling.
pub(super) fn meaning(tree: &File) -> String {
    let whole = format!("{tree:?}");
    let mut said = String::with_capacity(whole.len() / 2);
    let mut rest = whole.as_str();
    while let Some((before, after)) = rest.split_once("Span { ") {
        said.push_str(&one_spelling(before));
        rest = after.split_once(" }").map_or("", |(_, rest)| rest);
    }
    said.push_str(rest);
    said
}

/// A piece of a printed tree with the unit that it ends with, if it does, in its one spelling.
fn one_spelling(piece: &str) -> String {
    let found =
        piece.rsplit_once("text: \"").and_then(|(before, name)| Some((before, name.split_once('"')?)));
    match found {
        Some((before, (name, after))) => format!("{before}text: \"{}\"{after}", unit(name)),
        None => piece.to_owned(),
    }
}
