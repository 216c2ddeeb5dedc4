//! Conditions and formulas: which readings, which limit, which answer, which state.

use super::measure::fold;
use super::{Lowerer, words};
use crate::finding::Place;
use crate::model::{QuantityRef, StateRef, Thing};
use crate::trouble::Trouble;
use crate::{names, resolve};
use dwell_card::graph::{Condition, Test};
use dwell_card::limit::Formula;
use dwell_card::number::Num;
use dwell_card::vehicle::Guard;
use dwell_quantity::{Exact, Kind};
use dwell_syntax::tree::{self, BandForm, Expr, Function, Operator, Quantifier, TestKind};

/// A formula with the quantity that it comes to, where that can be told.
type Typed = (Formula, Option<QuantityRef>);

/// The kinds that a root is of.
const ROOTS: [Kind; 3] = [Kind::AREA, Kind::NUMBER, Kind::RATIO];
/// The kinds that a sine is of.
const ANGLES: [Kind; 5] =
    [Kind::ANGLE, Kind::ANGLE_DIFFERENCE, Kind::TOTAL_ANGLE, Kind::WHEEL_ANGLE, Kind::TURN_ANGLE];

impl<'a> Lowerer<'a> {
    /// A condition; `adjusting` takes the bands to set to.
    pub(super) fn condition(&mut self, condition: &tree::Condition, adjusting: bool) -> Condition {
        let quantifier = condition.quantifier.map(|(quantifier, _)| quantifier);
        let mut tests = Vec::new();
        let mut each = Vec::new();
        if let Some(moments) = self.at_moments(condition, adjusting) {
            return moments;
        }
        for test in &condition.tests {
            let first = tests.len();
            self.test(test, quantifier, adjusting, &mut tests);
            each.push(first..tests.len());
        }
        let (any, groups) = self.grouped(condition, &tests, each);
        let file = self.file();
        let text = self.program.files.get(file).map(|file| file.text.as_str()).unwrap_or_default();
        let says = text.get(condition.span.start..condition.span.end).unwrap_or_default();
        Condition { any, tests, groups, says: says.split_whitespace().collect::<Vec<_>>().join(" ") }
    }

    pub(super) fn test(
        &mut self,
        test: &tree::Test,
        quantifier: Option<Quantifier>,
        adjusting: bool,
        out: &mut Vec<Test>,
    ) {
        match &test.kind {
            TestKind::Meets { what, misses, spec, at } if self.is_computed(spec) => {
                for (value, quantity) in self.spread_out(what, quantifier) {
                    out.extend(self.meets_computed(value, quantity, what, (*misses, at.as_ref()), spec));
                }
            }
            TestKind::Meets { what, misses, spec, at } => {
                let Some(limit) = self.judging_spec(spec) else { return };
                for (value, quantity) in self.spread_out(what, quantifier) {
                    self.meets_kind(quantity, limit, what, spec);
                    self.judged_range(&value, limit);
                    let at = self.looked_up(limit, spec, at.as_ref());
                    let Some(limit) = self.limit(limit, self.place(spec.span)) else { continue };
                    self.show_as(&value, limit);
                    out.push(Test::Meets { value, limit, adjusting, misses: *misses, at });
                }
            }
            TestKind::Band { what, band } => {
                for (value, quantity) in self.spread_out(what, quantifier) {
                    if let Some(test) = self.band_test(value, quantity, band) {
                        out.push(test);
                    }
                }
            }
            TestKind::Is { name, at, not, values, within } => {
                if within.is_some() && !self.is_of_samples(name, values) {
                    let place = self.place(test.span);
                    self.cannot(
                        place,
                        "`within` after `is` says how much a reading may move",
                        "write it after `is steady` or `is fluctuating`",
                    );
                    return;
                }
                out.extend(self.is_test(name, at.as_ref(), *not, values, within.as_ref()));
            }
        }
    }

    /// A value, or with `every` and `any` the values of a row.
    fn spread_out(&mut self, what: &Expr, quantifier: Option<Quantifier>) -> Vec<Typed> {
        if let (Some(_), Expr::Name(name)) = (quantifier, what) {
            let all = self.row(name);
            return all
                .into_iter()
                .map(|reading| (Formula::Latest(reading), self.reading_quantity.get(reading).copied()))
                .collect();
        }
        self.expression(what).into_iter().collect()
    }

    /// The readings of a name that are meant here.
    fn row(&mut self, name: &tree::Name) -> Vec<usize> {
        let all = self.frames.last().and_then(|frame| frame.readings.get(&name.text)).cloned();
        match all {
            Some(all) => self.here(&all),
            None => {
                self.unknown_reading(name);
                Vec::new()
            }
        }
    }

    /// A band on the spot, its ends numbers or formulas.
    fn band_test(
        &mut self,
        value: Formula,
        quantity: Option<QuantityRef>,
        band: &tree::Band,
    ) -> Option<Test> {
        let file = self.file();
        let text = self.program.files.get(file).map(|file| file.text.as_str()).unwrap_or_default();
        let written = text.get(band.span.start..band.span.end).unwrap_or_default();
        let written = written.split_whitespace().collect::<Vec<_>>().join(" ");
        let open = match &band.form {
            BandForm::AtLeast(end) => Some((end, true, true)),
            BandForm::Above(end) => Some((end, true, false)),
            BandForm::AtMost(end) => Some((end, false, true)),
            BandForm::Below(end) => Some((end, false, false)),
            _ => None,
        };
        if let Some((end, low, included)) = open
            && !matches!(end, Expr::Amount(_))
        {
            if let Some(second) = &band.second {
                let place = self.place(second.span);
                self.cannot(
                    place,
                    "a second unit beside a limit that is worked out",
                    "take it away: the band is shown in the unit of the tool where it is used",
                );
            }
            let (formula, kind) = self.expression(end)?;
            if let (Some(one), Some(other)) = (quantity, kind)
                && !self.model.may_meet(one, other)
                && self.model.kind(one) != self.model.kind(other)
            {
                self.mismatch(self.place(end.span()), None, one, other);
            }
            let end = Some((formula, included));
            let (low, high) = if low { (end, None) } else { (None, end) };
            return Some(Test::Within { value, low, high, written });
        }
        let quantity = quantity?;
        let known = resolve::band(self.model, file, band, quantity, self.troubles)?;
        self.spot_range(&value, &known);
        if let Formula::Latest(reading) = &value
            && let Some(reading) = self.out.card.readings.get_mut(*reading)
            && reading.tool.is_none()
        {
            reading.unit = known.unit.symbol().to_owned();
            reading.decimals = reading.decimals.max(known.decimals);
        }
        let end = |bound: &Option<dwell_quantity::Bound>| {
            bound.as_ref().map(|bound| (Formula::Value(Num(bound.value.clone())), bound.closed))
        };
        Some(Test::Within { value, low: end(&known.band.low), high: end(&known.band.high), written })
    }

    /// `X is Y`: an answer, a reading that is steady, a variant, a place in hand, a state.
    fn is_test(
        &mut self,
        name: &tree::Name,
        at: Option<&tree::Name>,
        not: bool,
        values: &[tree::Name],
        within: Option<&tree::Amount>,
    ) -> Vec<Test> {
        let question = self.frames.last().and_then(|frame| frame.questions.get(&name.text)).copied();
        if let Some(question) = question {
            self.no_place(at, "an answer");
            let known =
                self.out.card.questions.get(question).map(|known| known.values.clone()).unwrap_or_default();
            let values = self.among(values, &known, "an answer to this question");
            return vec![Test::Answer { question, values, not }];
        }
        if self.is_of_samples(name, values) {
            return self.sample_test(name, at, not, values, within);
        }
        let found =
            names::look_up(self.model, self.file(), name, "an answer, a variant or an item", |thing| {
                matches!(thing, Thing::Variant(_) | Thing::Item(_) | Thing::Tool(_) | Thing::Positions(_))
            });
        match found {
            Ok(Thing::Variant(variant)) => {
                self.no_place(at, "a variant");
                let axis = self.axis(variant);
                let Some(known) = self.model.variants.get(variant) else { return Vec::new() };
                let all = &known.values;
                let file = self.file();
                let places: Vec<usize> = values
                    .iter()
                    .filter_map(|value| resolve::told(resolve::value_of(file, known, value), self.troubles))
                    .collect();
                let here = self.out.card.axes.get(axis).map(|axis| axis.values.clone()).unwrap_or_default();
                let values = places
                    .iter()
                    .filter_map(|place| all.get(*place))
                    .filter_map(|value| here.iter().position(|known| known == value))
                    .collect();
                vec![Test::Guard { guard: Guard::Variant { axis, values }, not }]
            }
            Ok(Thing::Positions(set)) => {
                self.no_place(at, "a set of positions");
                let all = self.model.positions.get(set).map(|known| known.values.clone()).unwrap_or_default();
                let places = self.among(values, &all, "one of these places");
                let bound = self
                    .frames
                    .last()
                    .and_then(|frame| frame.bound.iter().rev().find(|(known, _)| *known == set));
                let holds = bound.is_some_and(|(_, value)| places.contains(value)) != not;
                let one = || Formula::Value(Num(Exact::one()));
                let low = if holds { Exact::one() } else { Exact::whole(2) };
                let written = format!(
                    "{} is {}",
                    name.text,
                    values.iter().map(|v| v.text.as_str()).collect::<Vec<_>>().join(" or ")
                );
                vec![Test::Within {
                    value: one(),
                    low: Some((Formula::Value(Num(low)), true)),
                    high: None,
                    written,
                }]
            }
            Ok(Thing::Item(item) | Thing::Tool(item)) => self.state_test(item, name, at, not, values),
            Ok(_) => Vec::new(),
            Err(trouble) => {
                self.troubles.push(trouble);
                Vec::new()
            }
        }
    }

    /// `at left` after something that has no places.
    fn no_place(&mut self, at: Option<&tree::Name>, what: &str) {
        if let Some(at) = at {
            let place = self.place(at.span);
            self.cannot(place, format!("{what} has no places"), format!("take `at {}` away", at.text));
        }
    }

    fn state_test(
        &mut self,
        item: usize,
        name: &tree::Name,
        at: Option<&tree::Name>,
        not: bool,
        values: &[tree::Name],
    ) -> Vec<Test> {
        let mut states: Vec<StateRef> = Vec::new();
        for value in values {
            let asked = tree::StateOf {
                item: name.clone(),
                at: at.cloned(),
                state: value.clone(),
                span: name.span.to(value.span),
            };
            states.extend(resolve::state(self.model, self.file(), &asked, self.troubles));
        }
        let Some(first) = states.first().copied() else { return Vec::new() };
        let place = self.place(name.span);
        let same: Vec<usize> =
            states.iter().filter(|state| state.handling == first.handling).map(|state| state.state).collect();
        let places = self.places_of(item, first.at, place, true);
        places
            .into_iter()
            .filter_map(|at| self.slot(item, at, first.handling))
            .map(|slot| Test::Guard { guard: Guard::State { slot, states: same.clone() }, not })
            .collect()
    }

    fn among(&mut self, values: &[tree::Name], known: &[String], what: &'static str) -> Vec<usize> {
        let mut places = Vec::new();
        for value in values {
            match known.iter().position(|known| *known == value.text) {
                Some(place) => places.push(place),
                None => {
                    let place = self.place(value.span);
                    self.troubles.push(Trouble::NotFound {
                        place,
                        name: value.text.clone(),
                        what,
                        near: known.to_vec(),
                        elsewhere: None,
                    });
                }
            }
        }
        places
    }

    /// The reading of a row at the place of that name.
    pub(super) fn reading_there(&mut self, all: &[usize], at: &tree::Name) -> Option<usize> {
        let known: Vec<(usize, String)> = all
            .iter()
            .filter_map(|reading| {
                let known = self.out.card.readings.get(*reading)?;
                Some((*reading, known.at.clone()?))
            })
            .collect();
        let places: Vec<String> = known.iter().map(|(_, place)| place.clone()).collect();
        let found = self.among(std::slice::from_ref(at), &places, "a place of this reading");
        found.first().and_then(|place| known.get(*place)).map(|(reading, _)| *reading)
    }

    /// A formula, in base units.
    pub(super) fn expression(&mut self, expr: &Expr) -> Option<Typed> {
        match expr {
            Expr::Name(name) => {
                let all = self.row(name);
                match all.as_slice() {
                    [] => None,
                    [one] => Some((Formula::Latest(*one), self.reading_quantity.get(*one).copied())),
                    _ => {
                        let place = self.place(name.span);
                        self.cannot(
                            place,
                            format!("`{}` has a value at each place", name.text),
                            format!("write `every {0}`, `highest of {0}`, or `{0} at` one place", name.text),
                        );
                        None
                    }
                }
            }
            Expr::At(inner, at) => {
                let Expr::Name(name) = inner.as_ref() else { return self.expression(inner) };
                let all = self.frames.last().and_then(|frame| frame.readings.get(&name.text)).cloned()?;
                let found = self.reading_there(&all, at);
                found.map(|reading| (Formula::Latest(reading), self.reading_quantity.get(reading).copied()))
            }
            Expr::First(name) => {
                let reading = self.row(name).first().copied()?;
                Some((Formula::First(reading), self.reading_quantity.get(reading).copied()))
            }
            Expr::Fold(how, inner, _) => {
                let Expr::Name(name) = inner.as_ref() else { return self.expression(inner) };
                let all = self.frames.last().and_then(|frame| frame.readings.get(&name.text)).cloned();
                let Some(all) = all else {
                    self.unknown_reading(name);
                    return None;
                };
                let quantity = all.first().and_then(|reading| self.reading_quantity.get(*reading)).copied();
                if let [one] = all.as_slice()
                    && self.has_samples(*one)
                {
                    self.samples_asked(*one, if *how == tree::Fold::Spread { 2 } else { 1 }, name);
                    return Some((Formula::Samples(fold(*how), *one), quantity));
                }
                Some((Formula::Fold(fold(*how), all), quantity))
            }
            Expr::Function(function, inner, _) => self.function(*function, inner),
            Expr::TargetOf(name) => {
                let spec = self.judging_spec(name)?;
                let known = self.model.specs.get(spec)?;
                let band = known.adjust.iter().chain(&known.check).find(|band| self.fits_here(&band.when))?;
                let aim = band.limit.target.clone().or_else(|| band.limit.band.middle())?;
                Some((Formula::Value(Num(aim)), Some(known.quantity)))
            }
            Expr::Share(share, inner) => {
                let (formula, quantity) = self.expression(inner)?;
                let kind = Kind::named("ratio")?;
                let file = self.file();
                let share = resolve::amount(file, share, kind, "a share", false, self.troubles)?;
                Some((Formula::Times(Box::new(Formula::Value(Num(share))), Box::new(formula)), quantity))
            }
            Expr::Group(inner, _) => self.expression(inner),
            Expr::Amount(amount) => self.constant(amount),
            Expr::Binary(operator, left, right) => self.binary(*operator, left, right),
        }
    }

    /// The sine of an angle is a ratio, the root of an area a length; of what has no kind, its root has none either.
    fn function(&mut self, function: Function, inner: &Expr) -> Option<Typed> {
        let (formula, quantity) = self.expression(inner)?;
        let kind = quantity.and_then(|quantity| self.model.kind(quantity));
        let fits: &[Kind] = match function {
            Function::Sine => &ANGLES,
            Function::Root => &ROOTS,
        };
        let (wanted, result) = match function {
            Function::Sine => (Kind::ANGLE, Kind::RATIO),
            Function::Root if kind == Some(Kind::AREA) => (Kind::AREA, Kind::LENGTH),
            Function::Root => (Kind::AREA, Kind::RATIO),
        };
        if let (Some(known), Some(quantity)) = (kind, quantity)
            && !fits.contains(&known)
        {
            let place = Place { file: self.file(), span: inner.span() };
            self.mismatch(place, None, quantity, QuantityRef::Kind(wanted));
        }
        let formula = Box::new(formula);
        Some(match function {
            Function::Sine => (Formula::Sine(formula), Some(QuantityRef::Kind(result))),
            Function::Root => (Formula::Root(formula), kind.map(|_| QuantityRef::Kind(result))),
        })
    }

    /// A number in a formula: its unit says what kind it is; without a unit it is a plain number.
    fn constant(&mut self, amount: &tree::Amount) -> Option<Typed> {
        let kind = match &amount.unit {
            None => Kind::named("number"),
            Some(unit) => match dwell_quantity::lookup(&unit.text) {
                dwell_quantity::Lookup::Unit(unit) => unit.kinds().first().copied(),
                _ => None,
            },
        }?;
        let file = self.file();
        let value = resolve::amount(file, amount, kind, "a number", false, self.troubles)?;
        Some((Formula::Value(Num(value)), Some(QuantityRef::Kind(kind))))
    }

    /// One side of a sign. A place on a scale is neither multiplied nor divided by, so that `10 °F` is a difference there.
    fn factor(&mut self, side: &Expr, scales: bool) -> Option<Typed> {
        let Expr::Amount(amount) = side else { return self.expression(side) };
        let unit = amount.unit.as_ref().map(|unit| dwell_quantity::lookup(&unit.text));
        let kind = match unit {
            Some(dwell_quantity::Lookup::Unit(unit)) => unit.kinds().first().copied(),
            _ => None,
        };
        let Some(kind) = kind.filter(|kind| scales && kind.point()) else { return self.constant(amount) };
        let file = self.file();
        let value = resolve::amount(file, amount, kind, "a number", true, self.troubles)?;
        Some((Formula::Value(Num(value)), Some(QuantityRef::Kind(kind.difference()))))
    }

    fn binary(&mut self, operator: Operator, left: &Expr, right: &Expr) -> Option<Typed> {
        let scales = matches!(operator, Operator::Times | Operator::Over);
        let (a, one) = self.factor(left, scales)?;
        let (b, other) = self.factor(right, scales)?;
        let kinds =
            one.and_then(|one| self.model.kind(one)).zip(other.and_then(|other| self.model.kind(other)));
        let (a, b) = (Box::new(a), Box::new(b));
        Some(match operator {
            Operator::Plus | Operator::Minus => {
                let sum = |(k, l): (Kind, Kind)| match operator {
                    Operator::Minus => k.minus(l),
                    _ => k.plus(l),
                };
                if let (Some(x), Some(y), Some(None)) = (one, other, kinds.map(sum)) {
                    let place = Place { file: self.file(), span: left.span().to(right.span()) };
                    self.mismatch(place, None, x, y);
                }
                let kept = |(k, _): &(Kind, Kind)| kinds.and_then(sum) == Some(*k);
                let result = match kinds {
                    Some(both) if !kept(&both) => sum(both).map(QuantityRef::Kind).or(one),
                    _ => one,
                };
                let formula =
                    if operator == Operator::Plus { Formula::Plus(a, b) } else { Formula::Minus(a, b) };
                (formula, result)
            }
            Operator::Times => {
                (Formula::Times(a, b), kinds.and_then(|(k, l)| k.times(l)).map(QuantityRef::Kind))
            }
            Operator::Over => {
                (Formula::Over(a, b), kinds.and_then(|(k, l)| k.over(l)).map(QuantityRef::Kind))
            }
        })
    }

    /// Two kinds met.
    pub(super) fn mismatch(
        &mut self,
        place: Place,
        other: Option<Place>,
        one: QuantityRef,
        two: QuantityRef,
    ) {
        let why = match (self.model.kind(one), self.model.kind(two)) {
            (Some(one), Some(two)) => one.why_not(two).map(str::to_owned),
            _ => None,
        };
        let say = |quantity| words::quantity(self.model, quantity);
        let (first, second) = (say(one), say(two));
        self.troubles.push(Trouble::KindMismatch { place, other, first, second, why });
    }

    /// A reading against a spec: may the two kinds meet?
    fn meets_kind(&mut self, quantity: Option<QuantityRef>, spec: usize, what: &Expr, name: &tree::Name) {
        let Some(known) = self.model.specs.get(spec) else { return };
        let Some(quantity) = quantity else { return };
        if !self.model.may_meet(quantity, known.quantity) {
            let place = Place { file: self.file(), span: what.span().to(name.span) };
            self.mismatch(place, Some(known.place), quantity, known.quantity);
        }
    }
}
