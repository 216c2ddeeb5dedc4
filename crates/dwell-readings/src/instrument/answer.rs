//! What an instrument answers to the question for a value.

use std::fmt;

/// An answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answered {
    /// A number with a decimal point, with all the digits that the instrument gave and none more.
    Value(String),
    /// It measured and has no value: the reading is `no reading`.
    Nothing(Nothing),
}

/// Why there is no value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nothing {
    /// The value lies above the range in use: 9.9E+37 (SCPI-1999, volume 1, 7.2.1.4).
    AboveRange,
    /// It lies below: -9.9E+37.
    BelowRange,
    /// The instrument has no number to give: 9.91E+37 (7.2.1.5).
    NotANumber,
}

impl fmt::Display for Nothing {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Nothing::AboveRange => "the instrument shows that the value lies above its range",
            Nothing::BelowRange => "the instrument shows that the value lies below its range",
            Nothing::NotANumber => "the instrument measured and has no value",
        })
    }
}
