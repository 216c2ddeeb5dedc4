//! Units of light and sound, counts, and the bare number.

use super::factor::{FOOT, ONE as FACTOR_ONE};
use super::table::{BY_NAME, Row, SI, WITH_SI, YARD_POUND, row};
use crate::kind::Kind;

const LEVEL: &[Kind] = &[Kind::SOUND_LEVEL];

pub(super) static LIGHT_AND_SOUND: &[Row] = &[
    row("cd", "cd", FACTOR_ONE, &[Kind::LUMINOUS_INTENSITY], SI, &["candela"]),
    row("lm", "lm", FACTOR_ONE, &[Kind::LUMINOUS_FLUX], SI, &["lumen", "lumens"]),
    row("lx", "lx", FACTOR_ONE, &[Kind::ILLUMINANCE], SI, &["lux"]),
    row(
        "lm/ft²",
        "lm/[sft_i]",
        FACTOR_ONE.over(FOOT.times(FOOT)),
        &[Kind::ILLUMINANCE],
        YARD_POUND,
        &["lm/ft2", "footcandle", "footcandles"],
    ),
    row("dB", "dB", FACTOR_ONE, LEVEL, WITH_SI, &[]),
    row("dB(A)", "dB{A}", FACTOR_ONE, LEVEL, WITH_SI, &["dBA", "dB (A)"]),
];

/// The kinds that may be written with no unit.
const BARE: &[Kind] = &[Kind::NUMBER, Kind::RATIO, Kind::SPECIFIC_GRAVITY, Kind::LAMBDA];

const fn one() -> Row {
    row("", "1", FACTOR_ONE, BARE, BY_NAME, &[])
}

/// The unit of a bare number.
pub(super) static ONE: Row = one();

pub(super) static COUNTS: &[Row] =
    &[one(), row("digit", "{digit}", FACTOR_ONE, &[Kind::DISPLAY_DIGITS], BY_NAME, &["digits"])];
