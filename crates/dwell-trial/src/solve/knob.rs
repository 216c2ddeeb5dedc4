//! One reading that can be set anew, or all of one name together, and the values that are worth trying: between the places
//! where a limit is just met, and on them.

use super::course::{Course, Taken};
use super::give::{Candidate, Given};
use dwell_card::meaning::Room;
use dwell_quantity::{Band, Bound, Exact, Rounding};
use std::collections::BTreeSet;

/// How many values stand on the grid on which changes are looked for.
const GRID: i64 = 12;

/// How often the place of a change is narrowed down.
const MOST_STEPS: usize = 30;

/// The most values that are tried.
const MOST: usize = 160;

/// Measurements that are set together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Knob {
    /// Their places among all that is measured.
    pub(super) taken: Vec<usize>,
}

impl Knob {
    /// A value in the middle of what the tool shows, or half its end where the middle is zero.
    pub(super) fn usual(&self, course: &Course<'_>) -> Option<Exact> {
        let taken = course.taken.get(*self.taken.first()?)?;
        let (low, high) = shown(course, taken)?;
        let half = |number: &Exact| number.checked_div(&Exact::whole(2));
        let value = match (low, high) {
            (Some(low), Some(high)) => {
                half(&(&low + &high)).filter(|middle| !middle.is_zero()).or(half(&high))?
            }
            (Some(end), None) | (None, Some(end)) => &end + &end,
            (None, None) => Exact::whole(100),
        };
        Some(value.rounded(taken.typing.decimals, Rounding::HalfEven))
    }

    /// What is given with this value; nothing where it cannot be typed.
    pub(super) fn set(&self, course: &Course<'_>, given: &[Given], to: &Candidate) -> Option<Vec<Given>> {
        let mut given = given.to_vec();
        for place in &self.taken {
            let taken = course.taken.get(*place)?;
            *given.get_mut(*place)? = taken.typing.give(to, taken.measure)?;
        }
        Some(given)
    }
}

/// What the tool of a reading shows, in the unit of the reading.
fn shown(course: &Course<'_>, taken: &Taken<'_>) -> Option<(Option<Exact>, Option<Exact>)> {
    let known = course.card.readings.get(taken.reading)?;
    let room = Room::measured(taken.measure, known);
    let tool = known.tool.and_then(|tool| course.card.tools.get(tool));
    let ability = tool.and_then(|tool| tool.measures.iter().find(|ability| ability.kind == known.kind));
    let range = ability.map_or_else(Band::all, |ability| ability.range.band());
    let span = room.number?.intersect(&range);
    let typing = &taken.typing;
    let end = |end: &Option<Bound>| end.as_ref().map(|end| typing.in_unit(&end.value));
    let (low, high) = (end(&span.low), end(&span.high));
    Some(if typing.unit.descending() { (high, low) } else { (low, high) })
}

/// What decides where the run left the way: each measurement by itself, the latest first, then those of one name together.
pub(super) fn knobs(course: &Course<'_>) -> Vec<Knob> {
    let deciding = course.deciding();
    let mut all: Vec<Knob> = deciding.iter().rev().map(|place| Knob { taken: vec![*place] }).collect();
    let name = |place: &usize| course.taken.get(*place).map(|taken| taken.typing.name.as_str());
    let names: BTreeSet<&str> = deciding.iter().filter_map(name).collect();
    for of in names {
        let together: Vec<usize> = deciding.iter().copied().filter(|place| name(place) == Some(of)).collect();
        if together.len() > 1 {
            all.push(Knob { taken: together });
        }
    }
    all
}

/// The values to try for a knob, those near the one that it has first.
pub(super) fn candidates(
    course: &Course<'_>,
    given: &[Given],
    knob: &Knob,
    stops: &[usize],
) -> Vec<Candidate> {
    let Some(turn) = Turn::of(course, given, knob, stops) else { return Vec::new() };
    let roots = turn.roots();
    let mut between: Vec<Exact> = Vec::new();
    let step = turn.taken.typing.step();
    let wide = &step * &Exact::whole(10);
    if let (Some(first), Some(last)) = (roots.first(), roots.last()) {
        between.extend([first - &wide, last + &wide]);
    }
    for pair in roots.windows(2) {
        if let [low, high] = pair {
            between.extend((low + high).checked_div(&Exact::whole(2)));
        }
    }
    let decimals = turn.taken.typing.decimals;
    let tidy = |number: &Exact| number.rounded(decimals, Rounding::HalfEven);
    let mut all: Vec<Exact> = Vec::new();
    let mut add = |mut numbers: Vec<Exact>| {
        numbers.sort_by_key(|number| (number - &turn.now).abs());
        all.extend(numbers);
    };
    add(between.iter().map(tidy).collect());
    add(between);
    add(roots
        .iter()
        .flat_map(|root| [tidy(root), &tidy(root) + &step, &tidy(root) - &step, root.clone()])
        .collect());
    add(turn.grid.iter().map(tidy).collect());
    let mut seen = BTreeSet::new();
    all.retain(|number| turn.may_be(number) && seen.insert(number.clone()));
    all.truncate(MOST);
    let mut out: Vec<Candidate> = Vec::new();
    let numbers: Vec<Exact> = [turn.now.clone()].into_iter().chain(all.iter().take(8).cloned()).collect();
    let limits = course.of_samples(turn.taken.reading, stops);
    out.extend(all.into_iter().map(Candidate::Number));
    for limit in limits {
        let step = turn.step_of_tool();
        let by = &limit.unwrap_or_else(|| step.clone()) + &step;
        for number in &numbers {
            out.push(Candidate::Number(number.clone()));
            out.push(Candidate::Moving(number.clone(), by.clone(), false));
            out.push(Candidate::Moving(number.clone(), by.clone(), true));
        }
    }
    out.push(Candidate::Nothing);
    if turn.room.may_be_interval() {
        for root in roots.iter().chain(&numbers).take(12) {
            out.extend([Candidate::Interval("above", tidy(root)), Candidate::Interval("below", tidy(root))]);
        }
    }
    out
}

/// A knob about to be turned.
struct Turn<'t, 'a> {
    course: &'t Course<'a>,
    given: &'t [Given],
    knob: &'t Knob,
    stops: &'t [usize],
    taken: &'t Taken<'a>,
    room: Room,
    /// What it is now, in the unit of the reading.
    now: Exact,
    /// The values at which is looked.
    grid: Vec<Exact>,
}

impl<'t, 'a> Turn<'t, 'a> {
    fn of(
        course: &'t Course<'a>,
        given: &'t [Given],
        knob: &'t Knob,
        stops: &'t [usize],
    ) -> Option<Turn<'t, 'a>> {
        let place = *knob.taken.first()?;
        let taken = course.taken.get(place)?;
        let known = course.card.readings.get(taken.reading)?;
        let room = Room::measured(taken.measure, known);
        let (low, high) = shown(course, taken)?;
        let typing = &taken.typing;
        let known = given.get(place).and_then(|given| given.value.exact()).map(|value| typing.in_unit(value));
        let zero = Exact::zero();
        let now = known.unwrap_or_else(|| match (&low, &high) {
            (Some(low), Some(high)) => (low + high).checked_div(&Exact::whole(2)).unwrap_or(zero),
            (Some(end), None) | (None, Some(end)) => end.clone(),
            (None, None) => zero,
        });
        let mut grid = vec![now.clone()];
        // Other readings of the same kind, which it may be compared with.
        let alike = course.taken.iter().zip(given).filter(|(other, _)| other.typing.kind == typing.kind);
        grid.extend(alike.filter_map(|(_, given)| Some(typing.in_unit(given.value.exact()?))));
        let step = typing.step();
        for (over, under) in [(1, 10), (1, 2), (9, 10), (11, 10), (2, 1), (5, 1), (10, 1), (100, 1)] {
            let share = Exact::ratio(over, under).unwrap_or_else(Exact::one);
            grid.extend([&now * &share, &now + &(&step * &(&share * &Exact::whole(10)))]);
            grid.push(&now - &(&step * &(&share * &Exact::whole(10))));
        }
        if let (Some(low), Some(high)) = (&low, &high) {
            let width = (high - low).checked_div(&Exact::whole(GRID)).unwrap_or_default();
            grid.extend((0..=GRID).map(|place| low + &(&width * &Exact::whole(place))));
        }
        let mut turn = Turn { course, given, knob, stops, taken, room, now, grid: Vec::new() };
        let mut grid: Vec<Exact> =
            grid.iter().map(|number| number.rounded(typing.decimals + 2, Rounding::HalfEven)).collect();
        grid.retain(|number| turn.may_be(number));
        grid.sort();
        grid.dedup();
        turn.grid = grid;
        Some(turn)
    }

    /// Whether the runner believes a number, in the unit of the reading.
    fn may_be(&self, number: &Exact) -> bool {
        let base = self.taken.typing.base(number);
        base.is_some_and(|base| self.room.number.as_ref().is_some_and(|room| room.contains(&base)))
    }

    /// The smallest step of the tool, or of what is typed, in base units.
    fn step_of_tool(&self) -> Exact {
        let card = self.course.card;
        let known = card.readings.get(self.taken.reading);
        let tool = known.and_then(|known| known.tool).and_then(|tool| card.tools.get(tool));
        let ability = tool.and_then(|tool| {
            tool.measures.iter().find(|ability| known.is_some_and(|known| known.kind == ability.kind))
        });
        let resolution = ability.and_then(|ability| ability.resolution.as_ref()).map(|step| step.0.clone());
        resolution.unwrap_or_else(|| {
            let typing = &self.taken.typing;
            let ends = [Exact::zero(), typing.step()].map(|number| typing.base(&number).unwrap_or_default());
            let [zero, one] = ends;
            (&one - &zero).abs()
        })
    }

    fn distances(&self, number: &Exact) -> Vec<Option<Exact>> {
        let set = self.knob.set(self.course, self.given, &Candidate::Number(number.clone()));
        set.map(|given| self.course.distances(&given, self.stops)).unwrap_or_default()
    }

    /// The values at which something that decides is just on an end, in order.
    fn roots(&self) -> Vec<Exact> {
        let rows: Vec<Vec<Option<Exact>>> = self.grid.iter().map(|number| self.distances(number)).collect();
        let columns = rows.iter().map(Vec::len).max().unwrap_or_default();
        let mut all = Vec::new();
        for column in 0..columns {
            let at = |row: &Vec<Option<Exact>>| row.get(column).cloned().flatten();
            for (numbers, pair) in self.grid.windows(2).zip(rows.windows(2)) {
                let ([low, high], [below, above]) = (numbers, pair) else { continue };
                match (at(below), at(above)) {
                    (Some(below), _) if below.is_zero() => all.push(low.clone()),
                    (_, Some(above)) if above.is_zero() => all.push(high.clone()),
                    (Some(below), Some(above)) if below.is_negative() != above.is_negative() => {
                        all.extend(self.root(column, (low.clone(), below), (high.clone(), above)));
                    }
                    _ => {}
                }
            }
        }
        all.sort();
        all.dedup();
        all
    }

    /// Where between two values the distance is zero, to a hundredth of a step of what is typed.
    fn root(&self, column: usize, from: (Exact, Exact), to: (Exact, Exact)) -> Option<Exact> {
        let ((mut low, mut below), (mut high, mut above)) = (from, to);
        let decimals = self.taken.typing.decimals + 2;
        let close = Exact::ratio(1, 10_i64.pow(decimals.min(9)))?;
        for round in 0..MOST_STEPS {
            let width = &high - &low;
            if width <= close {
                break;
            }
            let share = match round {
                // On a straight line the first one is right.
                0..3 => below.abs().checked_div(&(&below.abs() + &above.abs()))?,
                _ => Exact::ratio(1, 2)?,
            };
            let mut middle = (&low + &(&width * &share)).rounded(decimals, Rounding::HalfEven);
            if middle <= low || middle >= high {
                middle = (&low + &high).checked_div(&Exact::whole(2))?;
            }
            let there = self.distances(&middle).get(column).cloned().flatten()?;
            if there.is_zero() {
                return Some(middle);
            }
            if there.is_negative() == below.is_negative() {
                (low, below) = (middle, there);
            } else {
                (high, above) = (middle, there);
            }
        }
        Some(low)
    }
}
