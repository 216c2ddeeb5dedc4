//! What is said of a band before its readings are known, held against what it comes to with each of them.

use super::*;
use crate::meaning::{Room, Samples, States};
use crate::number::Num;
use dwell_quantity::Bound;

fn number(value: i64) -> Formula {
    Formula::Value(Num(Exact::whole(value)))
}

fn pair(make: fn(Box<Formula>, Box<Formula>) -> Formula, one: Formula, other: Formula) -> Formula {
    make(Box::new(one), Box::new(other))
}

/// So many times the reading, and a number.
fn line(times: i64, more: i64) -> Formula {
    pair(Formula::Plus, pair(Formula::Times, number(times), Formula::Latest(0)), number(more))
}

fn set(low: Option<Formula>, high: Option<Formula>, closed: bool) -> WorkedOut {
    WorkedOut {
        name: "limit".into(),
        kind: "torque".into(),
        unit: "N·m".into(),
        decimals: 0,
        low: low.map(|end| (end, closed)),
        high: high.map(|end| (end, closed)),
        written: String::new(),
    }
}

/// What `look` says where the one reading is this.
fn seen<R>(value: &Value, look: impl FnOnce(&Scene<'_>) -> R) -> R {
    let card = r#"{"format":1,"procedure":"nut","title":"Nut","notice":"","axes":[],"slots":[],"hazards":[],
        "readings":[{"name":"drag","frame":0,"quantity":"torque","kind":"torque","unit":"N·m","decimals":0}],
        "questions":[],"limits":[],"tools":[],"frames":[],"steps":[],"counters":[],"nodes":[]}"#;
    let card: Card = serde_json::from_str(card).unwrap();
    look(&Scene {
        card: &card,
        chosen: &[],
        slots: &[],
        read: &|_, _| value.clone(),
        samples: &|_| Samples::Unknown,
        answer: &|_| States::default(),
        judged: None,
    })
}

/// Lines that rise and fall, with and without caps, over readings of 0 to 6.
#[test]
fn what_is_sure_beforehand_is_so_with_every_reading() {
    let ends = || (-2..=2).flat_map(|times| (-3..=3).map(move |more| line(times, more)));
    let all = Band { low: Some(Bound::closed(Exact::zero())), high: Some(Bound::closed(Exact::whole(6))) };
    let somewhere = Value::Somewhere(Room::number(all));
    let (mut sure, mut never) = (0, 0);
    for low in ends() {
        for high in ends().chain([pair(Formula::Smaller, line(1, 2), number(4))]) {
            for closed in [true, false] {
                let limit = set(Some(low.clone()), Some(high.clone()), closed);
                let came: Vec<Option<Band>> = (0..=12)
                    .map(|halves| Value::point(Exact::ratio(halves, 2).unwrap()))
                    .map(|drag| seen(&drag, |scene| set_to(&limit, scene)))
                    .collect();
                let (may, may_not) = seen(&somewhere, |scene| may_be_set(&limit, scene));
                assert!(may || came.iter().all(Option::is_none), "{limit:?}");
                assert!(may_not || came.iter().all(Option::is_some), "{limit:?}");
                sure += usize::from(!may_not);
                if seen(&somewhere, |scene| never_set(&limit, true, scene)) {
                    assert!(came.iter().all(Option::is_none), "{limit:?}");
                    never += 1;
                }
                // Both are found wherever the ends are two lines: what they have in common falls out.
                if came.iter().all(Option::is_some) && !matches!(high, Formula::Smaller(..)) {
                    assert!(!may_not, "{limit:?}");
                }
            }
        }
    }
    assert!(sure > 300 && never > 300, "{sure} {never}");
}

#[test]
fn without_a_reading_or_with_an_interval_there_is_no_band() {
    let limit = set(Some(line(1, 6)), Some(line(1, 10)), true);
    assert_eq!(seen(&Value::Missing, |scene| set_to(&limit, scene)), None);
    let above = Value::Read(Band::above(Exact::whole(12)));
    assert_eq!(seen(&above, |scene| set_to(&limit, scene)), None);
    assert_eq!(seen(&Value::Missing, |scene| may_be_set(&limit, scene)), (false, true));
    let band = seen(&Value::point(Exact::whole(8)), |scene| set_to(&limit, scene));
    assert_eq!(band, Some(Band::closed(Exact::whole(14), Exact::whole(18))));
    let floor = set(Some(line(2, 0)), None, false);
    let band = seen(&Value::point(Exact::whole(8)), |scene| set_to(&floor, scene));
    assert_eq!(band, Some(Band { low: Some(Bound { value: Exact::whole(16), closed: false }), high: None }));
}
