//! Readings: the instruction, a blank for each value, and the bands that it is held against.

use super::{Writer, anchor};
use crate::bands::{Against, against};
use crate::outline::Line;
use crate::scale::scale;
use crate::tests_of::of_reading;
use crate::words::{plain, text, unit_named};
use dwell_card::graph::{Choose, Measure, Test};
use dwell_quantity::{Kind, shown};
use maud::{Markup, html};

/// The most blanks that one reading is written into.
const MOST_BLANKS: u32 = 10;
/// The most cases that are drawn as scales.
const MOST_SCALES: usize = 4;

impl Writer<'_> {
    /// A measurement.
    pub(super) fn measure(&mut self, line: &Line, measure: &Measure) -> Markup {
        let card = self.card;
        let mut groups: Vec<(Vec<Against>, Vec<usize>)> = Vec::new();
        for reading in &measure.readings {
            let held = self.held(*reading);
            match groups.iter_mut().find(|(known, _)| *known == held) {
                Some((_, readings)) => readings.push(*reading),
                None => groups.push((held, vec![*reading])),
            }
        }
        let blanks = if measure.sampling.is_some() { 1 } else { measure.times.clamp(1, MOST_BLANKS) };
        html! {
            li.measure data-node=(line.node) id=(anchor(line.node)) {
                (self.no(line.node)) (self.when(line.node)) span.tick {} (text(&measure.says, card))
                @if let Some(more) = &measure.text { div.more { (text(more, card)) } }
                @for (held, readings) in &groups {
                    div.readings {
                        @for reading in readings.iter().filter_map(|reading| card.readings.get(*reading)) {
                            @if self.sheet.is_some() { (self.boxes(line.node, reading, blanks, !held.is_empty())) } @else { p.reading {
                                span.name { (reading.words()) }
                                @for _ in 0..blanks { span.write {} }
                                @if blanks > 1 { " → " span.write {} }
                                " " (reading.unit)
                                @if let Some(signs) = reading.signs() { span.faint { " (" (signs) ")" } }
                            } }
                        }
                        @for one in held { (bands(one)) }
                    }
                }
                (self.arms(line))
            }
        }
    }

    /// What a reading is held against; the band to set to stands with the one to check.
    pub(crate) fn held(&self, reading: usize) -> Vec<Against> {
        let tests = of_reading(self.card, reading);
        let mut all: Vec<Against> = Vec::new();
        for held in &tests {
            let same_limit = |other: &Test| match (held.test, other) {
                (Test::Meets { limit: one, .. }, Test::Meets { limit: other, .. }) => {
                    self.card.limits.get(*one).map(|limit| &limit.name)
                        == self.card.limits.get(*other).map(|limit| &limit.name)
                }
                _ => held.test == other,
            };
            let adjusted = tests.iter().any(|other| other.adjusting && same_limit(other.test));
            let found = against(self.card, self.vehicle, held.test, adjusted || held.adjusting);
            all.extend(
                found.map(|found| Against { misses: false, ..found }).filter(|found| !all.contains(found)),
            );
        }
        all
    }

    /// A size from a series.
    pub(super) fn choose(&mut self, line: &Line, choose: &Choose) -> Markup {
        let reading = self.card.readings.get(choose.reading);
        let measure = reading.and_then(|known| unit_named(&known.unit).zip(Kind::named(&known.kind)));
        let sizes = measure.zip(reading).map(|((unit, kind), known)| {
            let number = |value: &dwell_card::Num| shown(&value.0, unit, kind, known.decimals);
            let step = dwell_quantity::from_base_difference(&choose.step.0, unit);
            format!("{} to {} in steps of {step} {unit}", number(&choose.low), number(&choose.high))
        });
        html! {
            li.do data-node=(line.node) id=(anchor(line.node)) {
                (self.no(line.node)) (self.when(line.node)) span.tick {} "Choose the size from " (plain(&choose.series)) " that is nearest to what is wanted"
                @if let Some(sizes) = sizes { " (" (sizes) ")" } "."
                (self.nearest(choose))
                p.reading {
                    span.name { (reading.map(|known| known.words()).unwrap_or_default()) }
                    @if self.sheet.is_some() { " " span.value-box.final {} } @else { span.write {} }
                    " " (reading.map_or("", |known| known.unit.as_str()))
                }
                (self.arms(line))
            }
        }
    }
}

/// Bands with their scales.
pub(super) fn bands(against: &Against) -> Markup {
    let drawn = against.cases.len() <= MOST_SCALES;
    html! {
        @for case in &against.cases {
            div.case {
                p.band {
                    @if !case.when.is_empty() { span.when { (case.when) ":" } " " }
                    @if let Some(check) = &case.check {
                        span.label { "in band" } " " strong { (check.ends) }
                        @for more in check.written.iter().chain(&check.others) { " (" (more) ")" }
                    }
                    @if let Some(set) = &case.set {
                        @if case.check.is_some() { br; }
                        span.label { "set to" } " " strong { (set.ends) }
                        @for more in set.written.iter().chain(&set.others) { " (" (more) ")" }
                    }
                    @if let Some(aim) = &case.target { ", aim at " strong { (aim) } }
                }
                @if drawn { @if let Some(scale) = scale(case) { (scale) } }
            }
        }
        @if !against.rows.is_empty() { (table(against)) }
        @if against.not_adjustable { p.faint { "Not adjustable." } }
        @if let Some(how) = &against.condition { p.more { (how) } }
        @if let Some(source) = &against.source { p.source { "Source: " (source) } }
    }
}

/// The rows of a table.
fn table(against: &Against) -> Markup {
    html! {
        @if let Some(how) = &against.looked_up { p.more { (how) } }
        table {
            tbody {
                @for (row, others) in &against.rows {
                    tr { td { (row) } @if !others.is_empty() { td { (others) } } }
                }
            }
        }
    }
}
