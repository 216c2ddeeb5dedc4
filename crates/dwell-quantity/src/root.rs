//! The square root of an exact number: exact where it is rational, else rounded.

use crate::number::Exact;

/// How many decimals a root has that is not rational.
const DECIMALS: u32 = 30;

/// The square root; exact where it is rational, else rounded to the nearest 30th decimal. `None` of a number below zero.
pub fn root(number: &Exact) -> Option<Exact> {
    if number.is_negative() {
        return None;
    }
    let (above, below) = number.terms();
    let (one, other) = (above.sqrt(), below.sqrt());
    if &(&one * &one) == above && &(&other * &other) == below {
        return Exact::from_big(one, other);
    }
    // The whole root of the number times 10 to the power of 2 · 31, half a step added, has 30 decimals and is cut there.
    let ten = num_bigint::BigInt::from(10);
    let scale = num_traits::Pow::pow(&ten, DECIMALS + 1);
    let scaled = above * &scale * &scale / below;
    let nearest = Exact::from_big(scaled.sqrt(), scale)?;
    Some(nearest.rounded(DECIMALS, crate::Rounding::HalfEven))
}
