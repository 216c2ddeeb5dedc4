//! Specs, tables and series: the values that a maker publishes.

use chumsky::prelude::*;

use super::amount::{Where, band, paired, range};
use super::input::{Rule, roomy, span_of};
use super::line::braced;
use super::lost::head::rows_word;
use super::lost::{colon, must, or_lost_name};
use super::name::{date, sign, text, word};
use super::state::{persons, when};
use super::waiver::waiver;
use crate::lex::TokenKind;
use crate::tree::{
    DeclarationKind, Expr, Name, Row, RowGroup, Series, Spec, SpecLine, SpecLineKind, Table, When,
};
use crate::words::Word;

/// `spec belt-tension: belt-frequency { … }`; `named` reads the word and the name.
pub(super) fn spec<'t>(named: Rule<'t, Name>, formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    named
        .then_ignore(colon())
        .then(or_lost_name())
        .then(braced(spec_line(formula)))
        .map(|((name, kind), lines)| DeclarationKind::Spec(Spec { name, kind, lines }))
        .boxed()
}

/// A line of a spec.
fn spec_line<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, SpecLine> {
    let band = band(formula.clone());
    let stage = word(Word::Turn).or_not().then(band.clone()).map(|(turn, band)| (turn.is_some(), band));
    let kind = choice((
        word(Word::Check)
            .ignore_then(band.clone())
            .then(when())
            .map(|(band, when)| SpecLineKind::Check(band, when)),
        word(Word::Adjust)
            .ignore_then(band)
            .then(when())
            .map(|(band, when)| SpecLineKind::Adjust(band, when)),
        word(Word::Not).then(word(Word::Adjustable)).to(SpecLineKind::NotAdjustable),
        word(Word::Source).ignore_then(text()).map(SpecLineKind::Source),
        word(Word::Condition).ignore_then(text()).map(SpecLineKind::Condition),
        word(Word::Stages)
            .ignore_then(stage.separated_by(word(Word::Then)).at_least(1).collect())
            .map(SpecLineKind::Stages),
        persons().map(SpecLineKind::Signed),
        word(Word::Withdrawn)
            .then(must(Word::On, |next| next.kind == TokenKind::Date))
            .ignore_then(date().then(text()))
            .map(|(date, why)| SpecLineKind::Withdrawn(date, why)),
        waiver().map(|(rule, because)| SpecLineKind::Waive { rule, because }),
    ));
    roomy(kind.map_with(|kind, extra| SpecLine { kind, span: span_of(extra.slice()) }).boxed())
}

/// One entry between the braces of a table.
#[derive(Clone)]
enum TableLine {
    Row(Row),
    Group(Vec<When>, Vec<Row>),
    Between(bool),
    Outside,
    Line(SpecLine),
}

/// `table regulated-voltage: electric-potential by temperature { … }`; `named` reads the word and the name.
pub(super) fn table<'t>(named: Rule<'t, Name>, formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    let row = roomy(row(formula));
    let group = rows_word().ignore_then(when()).then(braced(row.clone()));
    let rule = word(Word::Linear).to(true).or(word(Word::Refuse).to(false));
    let line = choice((
        row.map(TableLine::Row),
        group.map(|(when, rows)| TableLine::Group(when, rows)),
        word(Word::Between).then(word(Word::Rows)).ignore_then(rule).map(TableLine::Between),
        word(Word::Outside).then(word(Word::Rows)).then(word(Word::Refuse)).to(TableLine::Outside),
        spec_line(formula).map(TableLine::Line),
    ));
    named
        .then_ignore(colon())
        .then(or_lost_name())
        .then_ignore(must(Word::By, |next| next.is_name()))
        .then(or_lost_name())
        .then(braced(line.boxed()))
        .map(|(((name, kind), by), lines)| {
            let mut table = Table {
                name,
                kind,
                by,
                groups: Vec::new(),
                between_linear: None,
                outside_refuse: false,
                lines: Vec::new(),
            };
            for line in lines {
                add(&mut table, line);
            }
            DeclarationKind::Table(table)
        })
        .boxed()
}

/// Rows that stand in the table itself make one group without a condition.
fn add(table: &mut Table, line: TableLine) {
    match line {
        TableLine::Row(row) => match table.groups.iter_mut().find(|group| group.when.is_empty()) {
            Some(group) => group.rows.push(row),
            None => table.groups.push(RowGroup { when: Vec::new(), rows: vec![row] }),
        },
        TableLine::Group(when, rows) => table.groups.push(RowGroup { when, rows }),
        TableLine::Between(linear) => table.between_linear = Some(linear),
        TableLine::Outside => table.outside_refuse = true,
        TableLine::Line(line) => table.lines.push(line),
    }
}

/// `at -20 °C: 14.2 .. 15.2 V`, `at most 16 in: at most 2 in`.
fn row<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, Row> {
    let class = word(Word::At).then(choice((word(Word::Least), word(Word::Most)))).rewind();
    let class = class.ignore_then(band(formula.clone()));
    let point = word(Word::At).ignore_then(range());
    class
        .or(point)
        .then_ignore(sign(TokenKind::Colon))
        .then(band(formula.clone()))
        .map_with(|(key, band), extra| Row { key, band, span: span_of(extra.slice()) })
        .boxed()
}

/// `series shims: shim-thickness 2.20 .. 3.20 mm steps of 0.02 mm`, after its word.
pub(super) fn series<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, DeclarationKind> {
    or_lost_name()
        .then_ignore(colon())
        .then(or_lost_name())
        .then(band(formula.clone()))
        .then_ignore(word(Word::Steps).then(word(Word::Of)))
        .then(paired(Where::Anywhere))
        .map(|(((name, kind), range), step)| DeclarationKind::Series(Series { name, kind, range, step }))
        .boxed()
}
