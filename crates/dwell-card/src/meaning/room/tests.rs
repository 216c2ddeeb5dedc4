//! A room and what limits leave of it, held against what the runner decides of each reading by itself.

use super::Room;
use crate::graph::Side;
use crate::limit::Formula;
use crate::meaning::{Samples, Value, formula_value};
use dwell_quantity::{Band, Bound, Exact, Place};

/// A few ends, open, closed and none.
fn ends() -> Vec<Option<Bound>> {
    let bound = |value, closed| Some(Bound { value: Exact::whole(value), closed });
    let mut all = vec![None];
    for value in 1..=3 {
        all.extend([bound(value, true), bound(value, false)]);
    }
    all
}

/// Every reading that there is of a few values: numbers, intervals with one end, none.
fn readings() -> Vec<Value> {
    let numbers = (1..=7).map(|halves| Value::point(Exact::ratio(halves, 2).unwrap()));
    let from = ends().into_iter().flatten().map(|low| Value::Read(Band { low: Some(low), high: None }));
    let to = ends().into_iter().flatten().map(|high| Value::Read(Band { low: None, high: Some(high) }));
    numbers.chain(from).chain(to).chain([Value::Missing]).collect()
}

fn limits() -> Vec<Band> {
    let pairs = ends().into_iter().flat_map(|low| ends().into_iter().map(move |high| (low.clone(), high)));
    pairs.map(|(low, high)| Band { low, high }).filter(|band| !band.is_empty()).collect()
}

fn side(value: &Value, limit: &Band) -> Side {
    match value {
        Value::Near(low, high) => side(&Value::Read(Band::closed(low.clone(), high.clone())), limit),
        Value::Read(read) => match limit.place(read) {
            Place::In => Side::In,
            Place::Low(_) => Side::Low,
            Place::High(_) => Side::High,
            Place::Undecided => Side::NoReading,
        },
        _ => Side::NoReading,
    }
}

/// Without computed intervals, which are not told apart.
fn measured() -> Room {
    Room { wide: false, ..Room::anything() }
}

#[test]
fn a_limit_leaves_just_the_readings_that_come_out_so() {
    for limit in limits() {
        for value in readings() {
            for wanted in [Side::In, Side::Low, Side::High, Side::NoReading] {
                let left = measured().on(&limit, wanted);
                let has = left.is_some_and(|room| room.has(&value));
                assert_eq!(has, side(&value, &limit) == wanted, "{value:?} on {limit:?}, {wanted:?}");
            }
        }
    }
}

#[test]
fn two_limits_one_after_the_other_leave_just_the_readings_that_come_out_so_on_both() {
    let sides = [Side::In, Side::Low, Side::High, Side::NoReading];
    for first in limits() {
        for was in sides {
            let Some(room) = measured().on(&first, was) else { continue };
            for second in limits() {
                let so: Vec<Value> =
                    readings().into_iter().filter(|value| side(value, &first) == was).collect();
                for now in sides {
                    let left = room.on(&second, now);
                    for value in &so {
                        let has = left.as_ref().is_some_and(|room| room.has(value));
                        assert_eq!(has, side(value, &second) == now, "{value:?}: {first:?}, then {second:?}");
                    }
                }
            }
        }
    }
}

/// What is never below 1, or never above 2.5, or both: intervals are cut there, and come out as they lie then.
#[test]
fn an_interval_ends_where_nothing_more_is_possible() {
    let bound = |value: Exact| Some(Bound::closed(value));
    let half = Exact::ratio(5, 2).unwrap();
    let mut cuts = 0;
    for span in [
        Band { low: bound(Exact::one()), high: None },
        Band { low: None, high: bound(half.clone()) },
        Band { low: bound(Exact::one()), high: bound(half) },
        Band { low: Some(Bound::open(Exact::one())), high: None },
    ] {
        let ends = || Some(span.clone());
        let room = Room { span: span.clone(), above: ends(), below: ends(), ..measured() };
        let cut = |value: Value| match value {
            Value::Read(band) if value.exact().is_none() => {
                Some(Value::Read(band.intersect(&span))).filter(|_| !band.intersect(&span).is_empty())
            }
            other => Some(other),
        };
        let all: Vec<Value> = readings().into_iter().filter_map(cut).collect();
        assert!(all.iter().all(|value| value.exact().is_some() || room.has(value)));
        for limit in limits() {
            for value in &all {
                let sides = [Side::In, Side::Low, Side::High, Side::NoReading];
                for wanted in sides {
                    let has = room.on(&limit, wanted).is_some_and(|room| room.has(value));
                    assert_eq!(
                        has,
                        side(value, &limit) == wanted,
                        "{value:?} on {limit:?}, {wanted:?}, {span:?}"
                    );
                }
                cuts += usize::from(value.exact().is_none());
            }
        }
    }
    assert!(cuts > 500, "{cuts}");
}

#[test]
fn what_is_joined_has_what_either_has() {
    let [one, other] = [Band::at_most(Exact::one()), Band::above(Exact::whole(2))]
        .map(|limit| measured().on(&limit, Side::In).unwrap());
    let both = one.joined(&other);
    for value in readings() {
        assert!(!(one.has(&value) || other.has(&value)) || both.has(&value), "{value:?}");
    }
    assert_eq!(one.both(&other), None);
}

#[test]
fn a_computed_interval_may_lie_across_any_end() {
    let room = Room { wide: true, ..Room::number(Band::closed(Exact::zero(), Exact::whole(9))) };
    assert_eq!(room.sides(&Band::at_least(Exact::whole(5))), [Side::In, Side::Low, Side::NoReading]);
    assert_eq!(room.sides(&Band::at_least(Exact::zero())), [Side::In]);
    let number = Room { wide: false, ..room };
    assert_eq!(number.sides(&Band::at_least(Exact::whole(5))), [Side::In, Side::Low]);
}

/// Rooms with a number and intervals of each kind, and readings that they have.
fn parts() -> Vec<Room> {
    let limits = [
        Band::at_least(Exact::whole(2)),
        Band::at_most(Exact::whole(2)),
        Band::closed(Exact::one(), Exact::whole(3)),
    ];
    let sides = [Side::In, Side::Low, Side::High, Side::NoReading];
    let span = Band { low: Some(Bound::closed(Exact::one())), high: None };
    let cut = Room { span: span.clone(), above: Some(span.clone()), below: Some(span), ..measured() };
    let of = |room: Room| -> Vec<Room> {
        let left = |limit| sides.iter().filter_map(|side| room.on(limit, *side)).collect::<Vec<Room>>();
        limits.iter().flat_map(left).collect()
    };
    of(measured()).into_iter().chain(of(cut).into_iter().step_by(4)).collect()
}

/// The readings that a room has, intervals as far as they are possible there.
fn of(room: &Room) -> Vec<Value> {
    let cut = |value: Value| match &value {
        Value::Read(band) if value.exact().is_none() => Value::Read(band.intersect(&room.span)),
        _ => value,
    };
    let some = |value: &Value| !matches!(value, Value::Read(band) if band.is_empty());
    readings().into_iter().map(cut).filter(some).filter(|value| room.has(value)).collect()
}

#[test]
fn what_is_computed_from_readings_is_in_what_is_computed_from_their_rooms() {
    let a = || Box::new(Formula::Latest(0));
    let b = || Box::new(Formula::Latest(1));
    let twice = || Box::new(Formula::Value(crate::number::Num(Exact::whole(-2))));
    let formulas = [
        Formula::Plus(a(), b()),
        Formula::Minus(a(), b()),
        Formula::Times(a(), twice()),
        Formula::Over(a(), twice()),
        Formula::Smaller(a(), b()),
        Formula::Larger(a(), b()),
        Formula::Times(a(), b()),
        Formula::Sine(a()),
        Formula::Sine(Box::new(Formula::Over(
            a(),
            Box::new(Formula::Value(crate::number::Num(Exact::whole(40)))),
        ))),
        Formula::Root(a()),
        Formula::Root(Box::new(Formula::Plus(a(), b()))),
    ];
    let value = |formula: &Formula, one: &Value, other: &Value| {
        let read = |reading, _| if reading == 0 { one.clone() } else { other.clone() };
        formula_value(formula, &read, &|_| Samples::Unknown)
    };
    let mut held = 0;
    for (one, other) in
        parts().iter().flat_map(|one| parts().into_iter().map(move |other| (one.clone(), other)))
    {
        for formula in &formulas {
            let room = value(formula, &Value::of(one.clone()), &Value::of(other.clone())).room();
            for x in &of(&one) {
                for y in &of(&other) {
                    let came = value(formula, x, y);
                    let endless = came == Value::Read(Band::all());
                    for limit in limits() {
                        assert!(
                            room.sides(&limit).contains(&side(&came, &limit)),
                            "{formula:?} of {x:?}, {y:?} is {came:?}, on {limit:?}; {endless} {room:?}"
                        );
                    }
                    held += 1;
                }
            }
        }
    }
    assert!(held > 1000, "{held}");
}
