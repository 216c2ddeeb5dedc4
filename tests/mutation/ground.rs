//! The sound library as the mutators see it: every file with its tree, its statements with where they stand, its things.

use dwell_syntax::tree::{
    Amount, Band, BandForm, DeclarationKind, Expr, File, Handling, Line, Part, Procedure, Span, Spec,
    SpecLine, SpecLineKind, Statement, StatementKind, When,
};

use super::broken::Broken;
use crate::merle::Merle;

/// The library, read.
pub(super) struct Ground {
    /// The texts.
    pub(super) merle: Merle,
    /// Each file with its tree.
    pub(super) sources: Vec<Source>,
    /// What the language brings along.
    prelude: File,
}

/// One file.
pub(super) struct Source {
    /// Its path in the library.
    pub(super) path: String,
    /// Its text.
    pub(super) text: String,
    /// Its tree.
    pub(super) tree: File,
}

/// An item or a tool.
#[derive(Clone, Copy)]
pub(super) struct Thing<'a> {
    pub(super) source: &'a Source,
    pub(super) name: &'a str,
    pub(super) handlings: &'a [dwell_syntax::tree::Name],
    pub(super) at_each: Option<&'a str>,
    pub(super) lines: &'a [Line],
    pub(super) is_tool: bool,
}

/// In which part of a procedure a statement stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Within {
    Procedure,
    Step,
    Restore,
}

/// A statement and where it stands.
#[derive(Clone)]
pub(super) struct Spot<'a> {
    pub(super) source: &'a Source,
    pub(super) procedure: &'a Procedure,
    pub(super) within: Within,
    /// The statements that it stands in, outermost first.
    pub(super) inside: Vec<&'a Statement>,
    /// Its block, and its place there.
    pub(super) block: &'a [Statement],
    pub(super) at: usize,
}

/// One line of a spec that gives a band.
#[derive(Clone, Copy)]
pub(super) struct Limit<'a> {
    pub(super) source: &'a Source,
    pub(super) spec: &'a Spec,
    pub(super) line: &'a SpecLine,
    pub(super) band: &'a Band,
    pub(super) when: &'a [When],
    /// Whether it is to check by; else it is to adjust to.
    pub(super) checks: bool,
}

impl Ground {
    pub(super) fn read() -> Ground {
        let merle = Merle::read();
        let source = |(path, text): (&String, &String)| Source {
            path: path.clone(),
            text: text.clone(),
            tree: dwell_syntax::parse::parse(text).tree,
        };
        let prelude = include_str!("../../crates/dwell-check/src/prelude.dwell");
        Ground {
            sources: merle.files.iter().map(source).collect(),
            prelude: dwell_syntax::parse::parse(prelude).tree,
            merle,
        }
    }

    /// Every procedure with its file.
    pub(super) fn procedures(&self) -> impl Iterator<Item = (&Source, &Procedure)> {
        self.sources.iter().flat_map(|source| {
            source.tree.declarations.iter().filter_map(move |declaration| match &declaration.kind {
                DeclarationKind::Procedure(procedure) => Some((source, &**procedure)),
                _ => None,
            })
        })
    }

    /// Every statement of every procedure.
    pub(super) fn spots(&self) -> Vec<Spot<'_>> {
        let mut all = Vec::new();
        for (source, procedure) in self.procedures() {
            for part in &procedure.parts {
                let (within, block) = match part {
                    Part::Statement(statement) => (Within::Procedure, std::slice::from_ref(statement)),
                    Part::Step(step) => (Within::Step, step.block.statements.as_slice()),
                    Part::Restore { block, .. } => (Within::Restore, block.statements.as_slice()),
                    _ => continue,
                };
                gather(source, procedure, within, &[], block, &mut all);
            }
        }
        all
    }

    /// Every item and tool.
    pub(super) fn things(&self) -> Vec<Thing<'_>> {
        let mut all = Vec::new();
        for source in &self.sources {
            for declaration in &source.tree.declarations {
                all.extend(match &declaration.kind {
                    DeclarationKind::Item(item) => Some(Thing {
                        source,
                        name: &item.name.text,
                        handlings: &item.handlings,
                        at_each: item.at_each.as_ref().map(|name| name.text.as_str()),
                        lines: &item.lines,
                        is_tool: false,
                    }),
                    DeclarationKind::Tool(tool) => Some(Thing {
                        source,
                        name: &tool.name.text,
                        handlings: &tool.handlings,
                        at_each: None,
                        lines: &tool.lines,
                        is_tool: true,
                    }),
                    _ => None,
                });
            }
        }
        all
    }

    /// The thing of this name.
    pub(super) fn thing(&self, name: &str) -> Option<Thing<'_>> {
        self.things().into_iter().find(|thing| thing.name == name)
    }

    /// What is said of a quantity of this name.
    pub(super) fn quantity(&self, name: &str) -> Option<&dwell_syntax::tree::Quantity> {
        let all = self.sources.iter().map(|source| &source.tree).chain([&self.prelude]);
        all.flat_map(|tree| &tree.declarations).find_map(|declaration| match &declaration.kind {
            DeclarationKind::Quantity(quantity) if quantity.name.text == name => Some(quantity),
            _ => None,
        })
    }

    /// The handlings of a thing.
    pub(super) fn handlings(&self, thing: Thing<'_>) -> Vec<&Handling> {
        let all = self.sources.iter().map(|source| &source.tree).chain([&self.prelude]);
        let all = all.flat_map(|tree| &tree.declarations).filter_map(|declaration| match &declaration.kind {
            DeclarationKind::Handling(handling) => Some(handling),
            _ => None,
        });
        all.filter(|handling| thing.handlings.iter().any(|name| name.text == handling.name.text)).collect()
    }

    /// Every line of every spec that gives a band.
    pub(super) fn limits(&self) -> Vec<Limit<'_>> {
        let mut all = Vec::new();
        for source in &self.sources {
            for declaration in &source.tree.declarations {
                let DeclarationKind::Spec(spec) = &declaration.kind else { continue };
                for line in &spec.lines {
                    let (band, when, checks) = match &line.kind {
                        SpecLineKind::Check(band, when) => (band, when, true),
                        SpecLineKind::Adjust(band, when) => (band, when, false),
                        _ => continue,
                    };
                    all.push(Limit { source, spec, line, band, when, checks });
                }
            }
        }
        all
    }
}

fn gather<'a>(
    source: &'a Source,
    procedure: &'a Procedure,
    within: Within,
    inside: &[&'a Statement],
    block: &'a [Statement],
    all: &mut Vec<Spot<'a>>,
) {
    for (at, statement) in block.iter().enumerate() {
        all.push(Spot { source, procedure, within, inside: inside.to_vec(), block, at });
        let inside: Vec<&Statement> = inside.iter().copied().chain([statement]).collect();
        for block in statement.blocks() {
            gather(source, procedure, within, &inside, &block.statements, all);
        }
    }
}

impl<'a> Spot<'a> {
    pub(super) fn statement(&self) -> &'a Statement {
        &self.block[self.at]
    }

    /// The statements after it in its block.
    pub(super) fn later(&self) -> &'a [Statement] {
        &self.block[self.at + 1..]
    }

    /// Whether it stands in what is done again and again.
    pub(super) fn in_loop(&self) -> bool {
        self.inside
            .iter()
            .any(|outer| matches!(outer.kind, StatementKind::Adjust { .. } | StatementKind::ForEach { .. }))
    }
}

impl Source {
    /// The text there.
    pub(super) fn of(&self, span: Span) -> &str {
        &self.text[span.start..span.end]
    }

    /// The line or lines of a span, with the end of the last; only the span where something else stands beside it.
    pub(super) fn lines(&self, span: Span) -> Span {
        let start = self.text[..span.start].rfind('\n').map_or(0, |at| at + 1);
        let end = self.text[span.end..].find('\n').map_or(self.text.len(), |at| span.end + at + 1);
        let alone =
            self.text[start..span.start].trim().is_empty() && self.text[span.end..end].trim().is_empty();
        if alone { Span { start, end } } else { span }
    }

    /// A break of this file.
    pub(super) fn broken(&self, what: impl Into<String>) -> Broken {
        Broken::of(&self.path, what)
    }

    /// The declaration that holds a place.
    pub(super) fn declaration(&self, at: usize) -> Option<Span> {
        self.tree
            .declarations
            .iter()
            .map(|declaration| declaration.span)
            .find(|span| span.start <= at && at <= span.end)
    }
}

/// The amounts of a band's form, in order; none of a formula.
pub(super) fn amounts(band: &Band) -> Vec<&Amount> {
    match &band.form {
        BandForm::Range(a, b) | BandForm::PlusMinus(a, b) => vec![a, b],
        BandForm::Uneven(a, b, c) => vec![a, b, c],
        BandForm::AtLeast(Expr::Amount(a))
        | BandForm::AtMost(Expr::Amount(a))
        | BandForm::Above(Expr::Amount(a))
        | BandForm::Below(Expr::Amount(a))
        | BandForm::Exactly(a)
        | BandForm::Bare(a) => vec![a],
        _ => Vec::new(),
    }
}

/// The ends of a band of plain numbers in one unit, each as it would be typed, with its unit; none where they must be computed
/// from anything else.
pub(super) fn ends(band: &Band) -> Vec<(String, &str)> {
    let amounts = amounts(band);
    let Some(unit) = amounts.iter().rev().find_map(|amount| amount.unit.as_ref()) else { return Vec::new() };
    let same = |amount: &&Amount| amount.unit.as_ref().is_none_or(|own| own.text == unit.text);
    let numbers: Option<Vec<f64>> = amounts.iter().map(|amount| value(amount)).collect();
    let (Some(numbers), true) = (numbers, amounts.iter().all(same)) else { return Vec::new() };
    let decimals = |amount: &&Amount| amount.number.text.split_once('.').map_or(0, |(_, after)| after.len());
    let decimals = amounts.iter().map(decimals).max().unwrap_or(0);
    let shown = |number: f64| (format!("{number:.decimals$}"), unit.text.as_str());
    match (&band.form, numbers.as_slice()) {
        (BandForm::Exactly(_) | BandForm::Bare(_), _) => Vec::new(),
        (BandForm::PlusMinus(..), [middle, half]) => vec![shown(middle - half), shown(middle + half)],
        (BandForm::Uneven(..), [middle, plus, minus]) => vec![shown(middle + minus), shown(middle + plus)],
        _ => amounts.iter().map(|amount| (amount.number.text.clone(), unit.text.as_str())).collect(),
    }
}

/// The text of a band without its target.
pub(super) fn form(band: &Band) -> Span {
    let end = amounts(band).last().map_or(band.span.end, |last| last.span.end);
    Span { start: band.span.start, end }
}

/// A plain number as it is typed.
pub(super) fn value(amount: &Amount) -> Option<f64> {
    if amount.number.compound { None } else { amount.number.text.parse().ok() }
}
