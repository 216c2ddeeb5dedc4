//! `choose`: the size from a series that is nearest to a value.

use super::Lowerer;
use crate::finding::Place;
use crate::model::Thing;
use crate::names;
use crate::trouble::Trouble;
use dwell_card::graph::{Act, Choose, Way};
use dwell_card::number::Num;
use dwell_syntax::tree::{self, Name};

impl<'a> Lowerer<'a> {
    /// The reading `name` gets the size; where none fits, `otherwise` says what is done.
    pub(super) fn choose(
        &mut self,
        name: &Name,
        from: &Name,
        nearest: &tree::Expr,
        arms: &'a [tree::Arm],
        place: Place,
    ) {
        let found = names::look_up(self.model, self.file(), from, "a series", |thing| {
            matches!(thing, Thing::Series(_))
        });
        let series = match found {
            Ok(Thing::Series(series)) => self.model.series.get(series),
            Ok(_) => None,
            Err(trouble) => {
                self.troubles.push(trouble);
                None
            }
        };
        let wanted = self.expression(nearest);
        let (Some(series), Some((nearest_value, quantity))) = (series, wanted) else { return };
        if let Some(quantity) = quantity
            && !self.model.may_meet(quantity, series.quantity)
            && self.model.kind(quantity) != self.model.kind(series.quantity)
        {
            self.mismatch(self.place(nearest.span()), Some(series.place), quantity, series.quantity);
        }
        let (Some(low), Some(high)) = (&series.range.band.low, &series.range.band.high) else {
            return self.cannot(
                self.place(from.span),
                format!("the series `{}` has no two ends", series.name),
                "write its smallest and its largest size: `2.20 .. 3.20 mm`",
            );
        };
        let bound = self.frames.last().and_then(|frame| frame.bound.last().copied());
        let reading = self.reading(name, series.quantity, None, bound);
        if let Some(known) = self.out.card.readings.get_mut(reading) {
            known.unit = series.range.unit.symbol().to_owned();
            known.decimals = series.range.decimals;
        }
        let choose = Choose {
            reading,
            series: series.name.clone(),
            low: Num(low.value.clone()),
            high: Num(high.value.clone()),
            step: Num(series.step.clone()),
            nearest: nearest_value,
        };
        let node = self.add(Act::Choose(choose), place);
        self.loose = vec![(node, Way::NoReading)];
        self.nothing_fits(name, arms, place);
        self.loose.push((node, Way::Then));
    }

    /// What is done where no size fits: it must be said, and there is only one way of not fitting.
    fn nothing_fits(&mut self, name: &Name, arms: &'a [tree::Arm], place: Place) {
        if let Some(arm) = arms.iter().find(|arm| arm.side.is_some()) {
            let here = self.place(arm.span);
            self.cannot(
                here,
                "a size that does not fit is neither low nor high",
                "write a plain `otherwise`",
            );
        }
        match arms.iter().find(|arm| arm.side.is_none()) {
            Some(arm) => self.block(&arm.block),
            None => {
                self.troubles.push(Trouble::NoWayOut { place, what: format!("choosing `{}`", name.text) });
                self.ended(dwell_card::graph::Outcome::Unfinished, None, place);
            }
        }
    }
}
