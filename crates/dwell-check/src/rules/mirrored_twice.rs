//! A part of the text that was copied for the other side, with a word of the first side left in it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use dwell_syntax::tree::{DeclarationKind, Name, Part, Span};
use std::cell::OnceCell;

pub(super) const RULE: Rule = Rule {
    name: "mirrored-twice",
    level: Level::Warning,
    waivable: true,
    page: include_str!("mirrored_twice.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, source) in facts.program.files.iter().enumerate().filter(|(_, source)| source.root) {
        let text = source.text.as_str();
        let mut groups: Vec<Vec<Twin<'_>>> = vec![Vec::new()];
        for declared in &source.tree.declarations {
            if let (Some(name), Some(first)) = (named(&declared.kind), groups.first_mut()) {
                first.push(Twin::new(text, name, declared.span));
            }
            if let DeclarationKind::Procedure(procedure) = &declared.kind {
                let steps = procedure.parts.iter().filter_map(|part| match part {
                    Part::Step(step) => Some(Twin::new(text, &step.name, step.span)),
                    _ => None,
                });
                groups.push(steps.collect());
            }
        }
        for group in &groups {
            let mut rest = group.as_slice();
            while let Some((first, later)) = rest.split_first() {
                rest = later;
                for copied in later {
                    if let Some((side, turned, place)) = left_over(text, first, copied) {
                        findings.push(
                            RULE.at(Place { file, span: place }, format!("`{}` is a copy of `{}` and still says “{side}” here", copied.name.text, first.name.text))
                                .label(format!("“{turned}”?"))
                                .related(Place { file, span: first.name.span }, "what it was copied from")
                                .why("The one side is done twice and the other side never, and both are ticked.")
                                .help(format!("write “{turned}”; where both really speak of the same thing, `positions` and `at each` say it once")),
                        );
                    }
                }
            }
        }
    }
}

/// A part of the text that can be a copy of another: each is held against many, and read into words once.
struct Twin<'a> {
    name: &'a Name,
    parts: Vec<&'a str>,
    text: &'a str,
    span: Span,
    words: OnceCell<Vec<(&'a str, usize)>>,
}

impl<'a> Twin<'a> {
    fn new(text: &'a str, name: &'a Name, span: Span) -> Twin<'a> {
        Twin { name, parts: name.text.split('-').collect(), text, span, words: OnceCell::new() }
    }

    fn words(&self) -> &[(&'a str, usize)] {
        self.words.get_or_init(|| words(self.text, self.span))
    }
}

/// The name of a declaration that can have a twin.
fn named(kind: &DeclarationKind) -> Option<&Name> {
    match kind {
        DeclarationKind::Item(item) => Some(&item.name),
        DeclarationKind::Quantity(quantity) => Some(&quantity.name),
        DeclarationKind::Spec(spec) => Some(&spec.name),
        DeclarationKind::Table(table) => Some(&table.name),
        DeclarationKind::Procedure(procedure) => Some(&procedure.name),
        _ => None,
    }
}

/// Words that are each other's mirror.
const MIRRORS: &[(&str, &str)] =
    &[("left", "right"), ("front", "rear"), ("inner", "outer"), ("upper", "lower"), ("inlet", "outlet")];

/// How many other words of a copy may have been changed.
const OTHERWISE_CHANGED: usize = 2;
/// The fewest words that make a copy.
const FEWEST: usize = 6;

/// The word of the first side that was left in the copy: that word, the one that should stand there, and where.
fn left_over<'a>(text: &str, first: &Twin<'a>, copied: &Twin<'a>) -> Option<(&'a str, &'a str, Span)> {
    let (side, turned, counted) = sides(&first.parts, &copied.parts)?;
    let (first, second) = (first.words(), copied.words());
    if first.len() != second.len() || first.len() < FEWEST {
        return None;
    }
    let pairs = || first.iter().zip(second);
    let changed =
        pairs().filter(|((one, _), (two, _))| one != two && !(same(one, side) && same(two, turned)));
    if changed.count() > OTHERWISE_CHANGED {
        return None;
    }
    let mut before = "";
    for ((one, _), (two, at)) in pairs() {
        let after_its_word = counted.is_none_or(|word| same(before, word));
        if one == two && same(one, side) && after_its_word && !located(text, *at) {
            return Some((side, turned, Span::new(*at, at + two.len())));
        }
        before = two;
    }
    None
}

/// What tells two names apart, where it is only a side or a number: both, and for a number the word before it.
fn sides<'a>(one: &[&'a str], two: &[&'a str]) -> Option<(&'a str, &'a str, Option<&'a str>)> {
    if one.len() != two.len() {
        return None;
    }
    let mut apart = one.iter().zip(two).enumerate().filter(|(_, (a, b))| a != b);
    let (place, (a, b)) = apart.next()?;
    if apart.next().is_some() {
        return None;
    }
    let number = |word: &str| word.chars().all(|digit| digit.is_ascii_digit());
    if MIRRORS.iter().any(|(x, y)| (x, y) == (a, b) || (y, x) == (a, b)) {
        return Some((a, b, None));
    }
    let before = place.checked_sub(1).and_then(|at| one.get(at))?;
    (number(a) && number(b)).then_some((a, b, Some(before)))
}

fn same(one: &str, other: &str) -> bool {
    one.eq_ignore_ascii_case(other)
}

/// The words and numbers of a part of the text, each with where it begins; lines that are comments are left out.
fn words(text: &str, span: Span) -> Vec<(&str, usize)> {
    let inside = text.get(span.start..span.end).unwrap_or_default();
    let mut all = Vec::new();
    let mut start = span.start;
    for line in inside.split('\n') {
        if !line.trim_start().starts_with('#') {
            let mut at = 0;
            for piece in line.split(|letter: char| !letter.is_alphanumeric()) {
                if !piece.is_empty() {
                    all.push((piece, start + at));
                }
                let rest = line.get(at + piece.len()..).unwrap_or_default();
                at += piece.len() + rest.chars().next().map_or(0, char::len_utf8);
            }
        }
        start += line.len() + 1;
    }
    all
}

/// Whether a place stands in the line that says where a thing is: two things may be on the same side of a third.
fn located(text: &str, at: usize) -> bool {
    let before = text.get(..at).unwrap_or_default();
    let line = before.rsplit('\n').next().unwrap_or_default();
    line.contains("located")
}
