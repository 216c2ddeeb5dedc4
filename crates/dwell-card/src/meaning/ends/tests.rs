//! Roots and sines that are not rational: no decision by them is looser than by the exact number, which squares tell.

use crate::graph::{Side, Test};
use crate::limit::{Fold, Formula};
use crate::meaning::{Samples, Scene, States, Value, basis, formula_value, sides};
use crate::number::Num;
use dwell_quantity::{Band, Exact};
use proptest::prelude::*;

fn number(value: &Exact) -> Formula {
    Formula::Value(Num(value.clone()))
}

fn root(of: &Exact) -> Formula {
    Formula::Root(Box::new(number(of)))
}

fn look<R>(values: &[Exact], look: impl FnOnce(&Scene<'_>) -> R) -> R {
    let card = r#"{"format":1,"procedure":"p","title":"P","notice":"","axes":[],"slots":[],"hazards":[],"readings":[],
        "questions":[],"limits":[],"tools":[],"frames":[],"steps":[],"counters":[],"nodes":[]}"#;
    let card = serde_json::from_str(card).unwrap();
    let read = |reading: usize, _: bool| {
        values.get(reading).map_or(Value::Missing, |value| Value::point(value.clone()))
    };
    look(&Scene {
        card: &card,
        chosen: &[],
        slots: &[],
        read: &read,
        samples: &|_| Samples::Unknown,
        answer: &|_| States::default(),
        judged: None,
    })
}

fn side(value: Formula, low: Option<(Formula, bool)>, high: Option<(Formula, bool)>) -> Side {
    let test = Test::Within { value, low, high, written: String::new() };
    match look(&[], |scene| sides(&test, scene)).as_slice() {
        [one] => *one,
        many => panic!("{many:?}"),
    }
}

/// One step of the 30th decimal, and far less than that.
fn steps() -> [Exact; 2] {
    let mut ten = Exact::one();
    let mut small = Vec::new();
    for decimals in 1..=45 {
        ten = ten.checked_div(&Exact::whole(10)).unwrap();
        if decimals == 30 || decimals == 45 {
            small.push(ten.clone());
        }
    }
    [small[0].clone(), small[1].clone()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// A root against a limit, and a value against a limit that is a root, far from each other and as near as can be. What is
    /// in is so by the squares; what is farther apart than two steps of the 30th decimal is decided as the squares decide it.
    #[test]
    fn nothing_is_in_that_the_squares_have_out(
        above in 1_i64..1_000_000, below in 1_i64..1_000, near in 0_usize..9, closed: bool
    ) {
        let square = Exact::ratio(above, below).unwrap();
        let (low, high) = dwell_quantity::root(&square).unwrap();
        let [step, less] = steps();
        let other = match near {
            0 => low.clone(),
            1 => high,
            2 => low.clone() - step.clone(),
            3 => high + step.clone(),
            4 => low.clone() + less,
            5 => high - less,
            6 => Exact::ratio(above + 1, below).unwrap(),
            7 => low.rounded(3, dwell_quantity::Rounding::HalfEven),
            _ => (low.clone() + high).checked_div(&Exact::whole(2)).unwrap(),
        };
        let compared = (&other * &other).cmp(&square);
        let truly_below = compared.is_gt() || (closed && compared.is_eq());
        let truly_above = compared.is_lt() || (closed && compared.is_eq());
        let far = (other.clone() - low).abs() > step * Exact::whole(2);
        let end = |formula| Some((formula, closed));
        let root = || root(&square);
        for (decided, truly) in [
            (side(root(), None, end(number(&other))), truly_below),
            (side(root(), end(number(&other)), None), truly_above),
            (side(number(&other), None, end(root())), truly_above),
            (side(number(&other), end(root()), None), truly_below),
        ] {
            prop_assert!(decided != Side::In || truly, "{} {}", square, other);
            prop_assert!(!far || (decided == Side::In) == truly, "{} {}", square, other);
            prop_assert!(decided != Side::NoReading);
        }
    }

    /// What is made of several: the numbers between which it lies hold the exact one, which is rational here.
    #[test]
    fn what_roots_cancel_out_to_is_held(one in 2_i64..10_000, other in 2_i64..10_000, by in 1_i64..50) {
        let (one, other) = (Exact::whole(one), Exact::whole(other));
        let pair = |make: fn(Box<Formula>, Box<Formula>) -> Formula, a, b| make(Box::new(a), Box::new(b));
        let all = [
            // (√a + √b) · (√a - √b) = a - b; √a · √a = a; k · √a / √a = k.
            (
                pair(
                    Formula::Times,
                    pair(Formula::Plus, root(&one), root(&other)),
                    pair(Formula::Minus, root(&one), root(&other)),
                ),
                &one - &other,
            ),
            (pair(Formula::Times, root(&one), root(&one)), one.clone()),
            (
                pair(Formula::Over, pair(Formula::Times, number(&Exact::whole(by)), root(&one)), root(&one)),
                Exact::whole(by),
            ),
        ];
        for (formula, exact) in all {
            let value = formula_value(&formula, &|_, _| Value::Missing, &|_| Samples::Unknown);
            let reach = value.reach().unwrap().into_owned();
            prop_assert!(reach.contains(&exact), "{:?} {}", reach, exact);
            prop_assert!(reach.width().unwrap() < Exact::ratio(1, 1_000_000_000_000_000_000).unwrap());
        }
    }
}

/// Sines whose equations are known: 4 s + 1 of 18 ° is the root of 5, 1 - 2 s² of 22.5 ° is the root of a half.
#[test]
fn sines_are_held_by_their_equations() {
    let sine = |degrees: i64, of: i64| {
        let turns = Exact::ratio(degrees, 360 * of).unwrap();
        let value = formula_value(&Formula::Sine(Box::new(number(&turns))), &|_, _| Value::Missing, &|_| {
            Samples::Unknown
        });
        let Value::Near(low, high) = value else { panic!("{value:?}") };
        (low, high)
    };
    let square = |number: Exact| &number * &number;
    let (low, high) = sine(18, 1);
    let times = |number: Exact| number * Exact::whole(4) + Exact::one();
    assert!(square(times(low)) < Exact::whole(5) && Exact::whole(5) < square(times(high)));
    let (low, high) = sine(45, 2);
    let left = |number: Exact| square(Exact::one() - square(number) * Exact::whole(2));
    let half = Exact::ratio(1, 2).unwrap();
    assert!(left(high) < half && half < left(low));
    let (low, high) = sine(45, 1);
    assert!(square(low) < half && half < square(high));
}

/// The ends of a limit that is worked out are drawn in, and what is made of several numbers holds them all.
#[test]
fn ends_are_drawn_in_and_folds_hold_their_numbers() {
    let two = Exact::whole(2);
    let (low, high) = dwell_quantity::root(&two).unwrap();
    let limit = Test::Within {
        value: number(&Exact::one()),
        low: Some((root(&two), true)),
        high: Some((Formula::Plus(Box::new(root(&two)), Box::new(number(&Exact::one()))), true)),
        written: String::new(),
    };
    let band = look(&[], |scene| basis(&limit, scene)).unwrap().band;
    assert_eq!(band, Band::closed(high.clone(), low.clone() + Exact::one()));
    let values =
        [Value::Near(low.clone(), high.clone()), Value::point(Exact::one()), Value::point(two.clone())];
    let fold = |fold| super::super::value::folded(fold, &values);
    assert_eq!(fold(Fold::Lowest), Value::point(Exact::one()));
    assert_eq!(fold(Fold::Highest), Value::point(two.clone()));
    assert_eq!(fold(Fold::Furthest), Value::point(two.clone()));
    assert_eq!(fold(Fold::Last), Value::point(two.clone()));
    assert_eq!(fold(Fold::Spread), Value::point(Exact::one()));
    let three = Exact::whole(3);
    assert_eq!(fold(Fold::Sum), Value::Near(low + three.clone(), high + three));
}
