//! A size that was chosen from a series.

use super::ReadingName;
use crate::number::Value;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A size was chosen from a series, or none fitted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Chosen {
    /// The reading that has the size from then on.
    pub reading: ReadingName,
    /// The quantity.
    pub quantity: String,
    /// The series.
    pub series: String,
    /// The value that was wanted, as it is shown; `no reading` where there was none.
    pub wanted: String,
    /// The unit of `value`.
    pub unit: String,
    /// The exact size; no reading where none fitted.
    pub value: Value,
    /// The size as it is shown, `2.64 mm`; `no size fits` where none did.
    pub shown: String,
    /// The next larger size, where it was just as near: the smaller one is taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub as_near: Option<String>,
}
