//! Bands whose ends are computed from readings: what `let LIMIT = … .. …` means, and what it is to meet one.

use super::Lowerer;
use crate::finding::Place;
use crate::model::QuantityRef;
use crate::resolve;
use crate::trouble::Trouble;
use dwell_card::graph::{Test, WorkedOut};
use dwell_card::limit::Formula;
use dwell_card::meaning::{Room, Samples, Scene, States, Value, formula_value, never_set};
use dwell_card::number::Num;
use dwell_quantity::{Band, Kind};
use dwell_syntax::tree::{self, Expr, NeverSide};

/// An end and whether it belongs to the band; none where there is none.
type End = Option<(Formula, bool)>;

/// A band whose ends are computed, in base units; what it never goes beyond is part of its ends.
pub(super) struct ComputedBand {
    pub(super) low: End,
    pub(super) high: End,
    pub(super) quantity: QuantityRef,
    pub(super) written: String,
    pub(super) place: Place,
}

impl<'a> Lowerer<'a> {
    /// `let preload-limit: torque = drag + 6 lbf·in .. drag + 10 lbf·in never above 18 lbf·in`.
    pub(super) fn computed_band(
        &mut self,
        name: &tree::Name,
        kind: Option<&tree::Name>,
        band: &tree::ComputedBand,
    ) {
        let mut result = None;
        let low = self.computed_end(band.low.as_ref(), &mut result);
        let high = self.computed_end(band.high.as_ref(), &mut result);
        let (Some(low), Some(high)) = (low, high) else { return };
        let Some(quantity) = self.declared_as(name, kind, result, "is a limit of") else { return };
        let Some(known) = self.model.kind(quantity) else { return };
        let (low, high) = self.never_beyond(&band.never, (low, high), known);
        let text = self.program.files.get(self.file()).map(|file| file.text.as_str()).unwrap_or_default();
        let written = text.get(band.span.start..band.span.end).unwrap_or_default();
        let written = written.split_whitespace().collect::<Vec<_>>().join(" ");
        let place = self.place(band.span);
        let computed = ComputedBand { low, high, quantity, written, place };
        self.has_room(&computed, known);
        if let Some(frame) = self.frame() {
            frame.bands.insert(name.text.clone(), computed);
        }
    }

    /// One end, where it is there; `None` where it cannot be computed, which is told. Two ends are of one kind.
    fn computed_end(&mut self, end: Option<&(Expr, bool)>, result: &mut Option<QuantityRef>) -> Option<End> {
        let Some((end, closed)) = end else { return Some(None) };
        let (formula, quantity) = self.expression(end)?;
        if let (Some(one), Some(other)) = (*result, quantity)
            && !self.model.may_meet(one, other)
            && self.model.kind(one) != self.model.kind(other)
        {
            self.mismatch(self.place(end.span()), None, one, other);
        }
        *result = result.or(quantity);
        Some(Some((formula, *closed)))
    }

    /// `never above 18 lbf·in`: the upper end is the smaller of the two, and there is one.
    fn never_beyond(
        &mut self,
        never: &[(NeverSide, tree::Amount)],
        (mut low, mut high): (End, End),
        kind: Kind,
    ) -> (End, End) {
        let file = self.file();
        for (side, amount) in never {
            let label = "what the limit never goes beyond";
            let Some(value) =
                resolve::limit(file, amount, kind, label, *side != NeverSide::Above, self.troubles)
            else {
                continue;
            };
            let cap = Formula::Value(Num(value));
            match side {
                NeverSide::Above => {
                    high = Some(match high {
                        Some((end, closed)) => (Formula::Smaller(Box::new(end), Box::new(cap)), closed),
                        None => (cap, true),
                    });
                }
                NeverSide::Below | NeverSide::Outside => {
                    low = Some(match low {
                        Some((end, closed)) => (Formula::Larger(Box::new(end), Box::new(cap)), closed),
                        None => (cap, true),
                    });
                }
            }
        }
        (low, high)
    }

    /// Tells of a band that has no room whatever is read with the tools.
    fn has_room(&mut self, band: &ComputedBand, kind: Kind) {
        let set = WorkedOut {
            name: String::new(),
            kind: kind.name().to_owned(),
            unit: String::new(),
            decimals: 0,
            low: band.low.clone(),
            high: band.high.clone(),
            written: band.written.clone(),
        };
        let read = |reading: usize, _: bool| self.readable(reading);
        let scene = Scene {
            card: &self.out.card,
            chosen: &[],
            slots: &[],
            read: &read,
            samples: &|_| Samples::Unknown,
            answer: &|_| States::default(),
            judged: None,
        };
        if never_set(&set, kind.counted(), &scene) {
            self.troubles.push(Trouble::BandEmpty {
                place: band.place,
                band: band.written.clone(),
                why: "whatever is read, its lower end is not below its upper end".to_owned(),
                guarded: None,
            });
        }
    }

    /// All that a reading can be where its tool shows it.
    fn readable(&self, reading: usize) -> Value {
        let Some(known) = self.out.card.readings.get(reading) else { return Value::unknown() };
        if let Some(formula) = known.formula.as_ref() {
            return formula_value(formula, &|reading, _| self.readable(reading), &|_| Samples::Unknown);
        }
        let tool = known.tool.and_then(|tool| self.out.card.tools.get(tool));
        let ability = tool.and_then(|tool| tool.measures.iter().find(|ability| known.kind == ability.kind));
        let range = ability.map_or_else(Band::all, |ability| ability.range.band());
        let span = self.reading_quantity.get(reading).map_or_else(Band::all, |is| self.span_of(*is));
        Value::of(Room::number(range.intersect(&span)))
    }

    /// Whether a name is that of a computed band of this procedure.
    pub(super) fn is_computed(&self, name: &tree::Name) -> bool {
        self.frames.last().is_some_and(|frame| frame.bands.contains_key(&name.text))
    }

    /// A value against a computed band.
    pub(super) fn meets_computed(
        &mut self,
        value: Formula,
        quantity: Option<QuantityRef>,
        what: &Expr,
        (misses, at): (bool, Option<&Expr>),
        name: &tree::Name,
    ) -> Option<Test> {
        let place = self.place(name.span);
        if misses || at.is_some() {
            self.cannot(
                place,
                format!("`{}` is worked out: it is met, or `otherwise` is done", name.text),
                format!("write `if … meets {} {{ … }} else {{ … }}`, with no `at`", name.text),
            );
            return None;
        }
        let band = self.frames.last()?.bands.get(&name.text)?;
        let (limit, declared) = (band.quantity, band.place);
        let test = Test::Within {
            value,
            low: band.low.clone(),
            high: band.high.clone(),
            written: band.written.clone(),
        };
        if let Some(quantity) = quantity
            && !self.model.may_meet(quantity, limit)
            && self.model.kind(quantity) != self.model.kind(limit)
        {
            let place = Place { file: self.file(), span: what.span().to(name.span) };
            self.mismatch(place, Some(declared), quantity, limit);
        }
        Some(test)
    }
}
