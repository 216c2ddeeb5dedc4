//! The square root of an exact number: exact where it is rational, else between two exact numbers that lie close together.

use crate::number::Exact;

/// How many decimals the two numbers have between which a root lies that is not rational.
const DECIMALS: u32 = 30;

/// The square root: the two numbers between which it lies, the same one twice where it is rational. They have 30 decimals and
/// are one step of the last one apart. `None` of a number below zero.
pub fn root(number: &Exact) -> Option<(Exact, Exact)> {
    if number.is_negative() {
        return None;
    }
    let (above, below) = number.terms();
    let (one, other) = (above.sqrt(), below.sqrt());
    if &(&one * &one) == above && &(&other * &other) == below {
        let exact = Exact::from_big(one, other)?;
        return Some((exact.clone(), exact));
    }
    // The whole root of the number times 10 to the power of 2 · 30 is the root cut off behind its 30th decimal.
    let ten = num_bigint::BigInt::from(10);
    let scale = num_traits::Pow::pow(&ten, DECIMALS);
    let cut = (above * &scale * &scale / below).sqrt();
    Some((Exact::from_big(cut.clone(), scale.clone())?, Exact::from_big(cut + 1, scale)?))
}
