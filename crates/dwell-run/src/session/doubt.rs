//! Doubt: a value that looks like a slip of the hand or of the unit is asked back once before it is taken.
//!
//! A value is doubted where
//! 1. the tool that reads it cannot show it;
//! 2. it lies out of every band that it is held against, and would lie in one of them with the decimal point one to three
//!    places further, with the other sign, or read in the unit that its own is commonly taken for (torque ×12, length ×25.4,
//!    pressure psi and bar or kPa). The sign counts for bands with two ends; of a band with one end, or around zero,
//!    only the half next to its end counts: else every value that is out would do. A value near an earlier one of the same reading is not doubted: the first was asked back;
//! 3. it is five times as large, or as small, as each of two or more other values of the same measurement, and off by more than the band.
//!
//! Nothing is guessed and nothing is changed: the value is taken as it is when it is given again.

use super::state::Taken;
use super::turn::{Belief, Turn};
use crate::prompt::ReadingPrompt;
use crate::refusal::{Doubt, Refusal};
use crate::typed::Typed;
use dwell_card::graph::{Act, Measure};
use dwell_card::limit::Fold;
use dwell_card::meaning::{Value, basis};
use dwell_quantity::{Amount, Band, Bound, Decimal, Exact, Lookup, band_shown, from_base, lookup, shown};

/// Units that are commonly taken for each other.
const PAIRS: [(&str, &str); 4] = [("lbf·ft", "lbf·in"), ("in", "mm"), ("psi", "bar"), ("psi", "kPa")];

/// So many times larger or smaller than all others is far from them.
const APART: i64 = 5;

impl Turn<'_> {
    /// A typed value with what is believed of it: refused where it is to be asked back, marked where it was.
    pub(super) fn doubted(
        &self,
        prompt: &ReadingPrompt,
        given: &Typed,
        mut taken: Taken,
        others: &[Exact],
    ) -> Result<Taken, Refusal> {
        let doubt = match self.belief {
            Belief::Recorded => None,
            Belief::Ask | Belief::Keep => self.doubt_of(prompt, given, others),
        };
        match (doubt, self.belief) {
            (Some(why), Belief::Ask) => {
                let decimals = given.decimals.unwrap_or(prompt.decimals);
                let value = super::view::in_words(
                    &Value::Read(given.band.clone()),
                    prompt.unit,
                    prompt.kind,
                    decimals,
                );
                Err(Refusal::Doubtful { value, why })
            }
            (Some(_), _) => {
                taken.sample = taken.sample.kept();
                Ok(taken)
            }
            (None, _) => Ok(taken),
        }
    }

    /// Why a value is asked back; nothing for one that is plausible, and for an interval.
    fn doubt_of(&self, prompt: &ReadingPrompt, given: &Typed, others: &[Exact]) -> Option<Doubt> {
        let Act::Measure(measure) = &self.node().ok()?.act else { return None };
        let base = point(&given.band)?;
        if let Some(doubt) = self.beyond_tool(prompt, measure, base) {
            return Some(doubt);
        }
        // Single values of a spread mean nothing by themselves.
        if measure.take == Fold::Spread {
            return None;
        }
        let value = from_base(base, prompt.unit, prompt.kind);
        let bands = self.bands_of(prompt);
        if bands.iter().any(|band| band.contains(&value)) {
            return None;
        }
        if let Some(doubt) = apart(prompt, &value, others, &bands) {
            return Some(doubt);
        }
        if prompt.sampled.is_some() || self.was_near(prompt, &value, others) {
            return None;
        }
        let says = |meant: &Exact| in_unit(meant, prompt);
        let other_side = |band: &Band| band.width().is_some() && band.contains(&-value.clone());
        if bands.iter().any(other_side) {
            return Some(Doubt::Sign { meant: says(&-value) });
        }
        let near: Vec<Band> = bands.iter().filter_map(next_to_its_end).collect();
        let is_meant = |other: &Exact| near.iter().any(|band| band.contains(other));
        let (meant, what) = slips(&value, prompt).into_iter().find(|(other, _)| is_meant(other))?;
        Some(Doubt::Slip { meant: says(&meant), what })
    }

    /// The tool cannot show this value.
    fn beyond_tool(&self, prompt: &ReadingPrompt, measure: &Measure, base: &Exact) -> Option<Doubt> {
        let tool = self.card.tools.get(measure.tool?)?;
        let known = self.card.readings.get(prompt.reading)?;
        let named: Vec<_> = tool.measures.iter().filter(|able| able.quantity == known.quantity).collect();
        let able: Vec<_> = match named.is_empty() {
            true => tool.measures.iter().filter(|able| able.kind == known.kind).collect(),
            false => named,
        };
        // A meter that goes up to 1000 V shows -400 V as well, where the quantity has two signs.
        let shows = |band: Band| {
            let one_sided = band.low.as_ref().is_some_and(|low| !low.value.is_negative());
            band.contains(base) || prompt.kind.signed() && one_sided && band.contains(&base.abs())
        };
        let first = able.first()?;
        let beyond = !able.iter().any(|able| shows(able.range.band()));
        beyond.then(|| Doubt::BeyondTool {
            tool: tool.label.clone(),
            range: band_shown(&first.range.band(), prompt.unit, prompt.kind, prompt.decimals),
        })
    }

    /// The bands that a reading is held against, in the unit that it is asked for in.
    fn bands_of(&self, prompt: &ReadingPrompt) -> Vec<Band> {
        let known = self.tests_of(prompt.reading);
        let bands = known.filter_map(|(test, _)| self.view().scene(|scene| basis(test, scene)));
        bands.map(|basis| in_unit_of(&basis.band, prompt)).collect()
    }

    /// Whether an earlier value of this reading is like this one.
    fn was_near(&self, prompt: &ReadingPrompt, value: &Exact, others: &[Exact]) -> bool {
        let earlier = [false, true].into_iter().filter_map(|first| {
            let all = if first { &self.state.first } else { &self.state.latest };
            let stored = all.get(prompt.reading)?.as_ref()?;
            stored.value.about().map(|about| from_base(about, prompt.unit, prompt.kind))
        });
        let near = |other: &Exact| {
            other.is_negative() == value.is_negative()
                && (&other.abs() * &Exact::whole(2)) >= value.abs()
                && (&value.abs() * &Exact::whole(2)) >= other.abs()
        };
        earlier.collect::<Vec<_>>().iter().chain(others).any(near)
    }

    /// The values that this measurement has of a reading already, in the unit that it is asked for in.
    pub(super) fn others_of(&self, prompt: &ReadingPrompt) -> Vec<Exact> {
        let Ok(Act::Measure(measure)) = self.node().map(|node| &node.act) else { return Vec::new() };
        let place = measure.readings.iter().position(|reading| *reading == prompt.reading);
        let values = place.and_then(|place| self.state.taken.get(place));
        let about = |taken: &Taken| Some(from_base(taken.value.about()?, prompt.unit, prompt.kind));
        values.into_iter().flatten().filter_map(about).collect()
    }
}

/// The value of a band that is one.
fn point(band: &Band) -> Option<&Exact> {
    match (&band.low, &band.high) {
        (Some(low), Some(high)) if low.value == high.value => Some(&low.value),
        _ => None,
    }
}

/// What a value could have been meant as, each with the slip, the likeliest first.
fn slips(value: &Exact, prompt: &ReadingPrompt) -> Vec<(Exact, String)> {
    let point = |factor, places: &'static str| {
        let factor = Exact::whole(factor);
        let both = [value.checked_div(&factor), Some(value * &factor)];
        both.into_iter().flatten().map(move |meant| (meant, format!("the decimal point is {places} off")))
    };
    let unit = |symbol| match lookup(symbol) {
        Lookup::Unit(unit) if unit.measures(prompt.kind) => Some(unit),
        _ => None,
    };
    let others = PAIRS.iter().flat_map(|(one, other)| [(*one, *other), (*other, *one)]);
    let units = others.filter(|(asked, _)| *asked == prompt.unit.symbol()).filter_map(|(_, other)| {
        // The number that was typed, in the unit that it may have been read in.
        let ratio = unit(other)?.factor().checked_div(&prompt.unit.factor())?;
        Some((value * &ratio, format!("it was read in {other}")))
    });
    let units: Vec<(Exact, String)> = units.collect();
    let near = point(10, "one place").chain(units);
    near.chain(point(100, "two places")).chain(point(1000, "three places")).collect()
}

/// Where a value must lie to be meant: in the band, or in the half next to its end where it has one end or holds zero.
fn next_to_its_end(band: &Band) -> Option<Band> {
    let half = |end: &Exact| end.checked_div(&Exact::whole(2));
    match (&band.low, &band.high) {
        (Some(low), Some(high))
            if low.value.is_negative() == high.value.is_negative() && !low.value.is_zero() =>
        {
            Some(band.clone())
        }
        (_, Some(high)) if !high.value.is_negative() && !high.value.is_zero() => {
            Some(Band { low: Some(Bound::closed(half(&high.value)?)), high: Some(high.clone()) })
        }
        (Some(low), None) if !low.value.is_negative() && !low.value.is_zero() => {
            Some(Band { low: Some(low.clone()), high: Some(Bound::closed(&low.value * &Exact::whole(2))) })
        }
        _ => None,
    }
}

/// Far from every other value of the measurement.
fn apart(prompt: &ReadingPrompt, value: &Exact, others: &[Exact], bands: &[Band]) -> Option<Doubt> {
    let times = Exact::whole(APART);
    let width = bands.iter().filter_map(Band::width).max();
    let ends =
        || bands.iter().flat_map(|band| [&band.low, &band.high]).flatten().map(|end| end.value.abs()).max();
    let step = Exact::one().checked_div(&Exact::whole(10_i64.checked_pow(prompt.decimals.min(12))?))?;
    let off = width.or_else(ends).unwrap_or_else(|| &step * &Exact::whole(10));
    let far = |other: &Exact| {
        let ratio = value.abs() >= &other.abs() * &times || other.abs() >= &value.abs() * &times;
        ratio && (value - other).abs() > off
    };
    // Between two values nobody can say which is the one that is far off.
    let is_far = others.len() > 1 && others.iter().all(far);
    is_far
        .then(|| Doubt::Apart { others: others.iter().take(3).map(|other| in_unit(other, prompt)).collect() })
}

/// A band in the unit that a reading is asked for in.
fn in_unit_of(band: &Band, prompt: &ReadingPrompt) -> Band {
    let turned = |bound: &Bound| Bound {
        value: from_base(&bound.value, prompt.unit, prompt.kind),
        closed: bound.closed,
    };
    let (low, high) = (band.low.as_ref().map(turned), band.high.as_ref().map(turned));
    if prompt.unit.descending() { Band { low: high, high: low } } else { Band { low, high } }
}

/// A number of the unit asked for, in words.
fn in_unit(value: &Exact, prompt: &ReadingPrompt) -> String {
    let decimals = value
        .decimals_needed()
        .unwrap_or(prompt.decimals)
        .clamp(prompt.decimals, prompt.decimals.saturating_add(2));
    let amount = Amount::new(Decimal::new(value.clone(), decimals), prompt.unit);
    match amount.in_base(prompt.kind) {
        Ok(base) => shown(&base, prompt.unit, prompt.kind, decimals),
        Err(_) => value.fixed(decimals),
    }
}
