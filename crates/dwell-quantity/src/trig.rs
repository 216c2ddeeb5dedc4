//! Sine and cosine of an exact angle: exact where they are rational, else between two exact numbers that lie close together.

use crate::number::{Exact, Rounding};

/// How many decimals are worked with, and how many are sure.
const WORKED: u32 = 60;
const SURE: u32 = 50;
/// The number of terms of the series: the next one is below 10 to the power of -60 for a quarter of a turn.
const TERMS: i64 = 30;
/// The first 50 decimals of pi, without its point.
const PI: &str = "3.14159265358979323846264338327950288419716939937510";

/// The cosine of an angle in turns: the two numbers between which it lies, the same one twice where it is rational (0, a
/// sixth, a quarter, a third of a turn and so on; no others are, by Niven's theorem). They are less than 10 to the power of
/// -48 apart, within -1 and 1.
pub fn cosine(turns: &Exact) -> (Exact, Exact) {
    let whole = turns.rounded(0, Rounding::Down);
    let mut part = turns - &whole;
    let half = fraction(1, 2);
    if part > half {
        part = Exact::one() - part;
    }
    let turned = part > fraction(1, 4);
    if turned {
        part = half - part;
    }
    let (low, high) = first_quarter(&part);
    if turned { (-high, -low) } else { (low, high) }
}

/// The sine of an angle in turns, as [`cosine`].
pub fn sine(turns: &Exact) -> (Exact, Exact) {
    cosine(&(turns - &fraction(1, 4)))
}

/// The cosine of an angle from 0 to a quarter of a turn.
fn first_quarter(turns: &Exact) -> (Exact, Exact) {
    for (angle, cosine) in [((0, 1), (1, 1)), ((1, 6), (1, 2)), ((1, 4), (0, 1))] {
        if *turns == fraction(angle.0, angle.1) {
            let exact = fraction(cosine.0, cosine.1);
            return (exact.clone(), exact);
        }
    }
    let step = smallest(SURE);
    let pi = PI.parse::<Exact>().unwrap_or_else(|_| Exact::whole(3));
    let twice = turns * &Exact::whole(2);
    let narrow = (&twice * &pi).rounded(SURE, Rounding::Down);
    let wide = (&twice * &(pi + step.clone())).rounded(SURE, Rounding::Up);
    // The cosine falls from 0 to a quarter of a turn.
    let low = series(&wide) - step.clone();
    let high = series(&narrow) + step;
    (low.max(Exact::zero()), high.min(Exact::one()))
}

/// The cosine of an angle in radians, 0 to 1.6, by its series; not further off than 10 to the power of -55.
fn series(angle: &Exact) -> Exact {
    let square = angle * angle;
    let (mut term, mut sum) = (Exact::one(), Exact::one());
    for n in 1..=TERMS {
        let next = fraction(-1, (2 * n - 1) * (2 * n));
        term = (&(&term * &square) * &next).rounded(WORKED, Rounding::HalfEven);
        sum = sum + term.clone();
    }
    sum
}

/// 10 to the power of minus `decimals`.
fn smallest(decimals: u32) -> Exact {
    let mut small = Exact::one();
    for _ in 0..decimals {
        small = small * fraction(1, 10);
    }
    small
}

fn fraction(numerator: i64, denominator: i64) -> Exact {
    Exact::ratio(numerator, denominator).unwrap_or_else(Exact::zero)
}
