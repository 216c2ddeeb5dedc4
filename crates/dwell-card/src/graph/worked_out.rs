//! A band to set to that is worked out from readings while the work is done.

use super::Test;
use crate::limit::Formula;
use crate::number::Num;
use dwell_quantity::Exact;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A band to set to whose ends are formulas. Where it has no value, or no room between its ends, the work is not done: then
/// the way on is [`super::Way::NoReading`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct WorkedOut {
    /// Its name.
    pub name: String,
    /// The kind of quantity.
    pub kind: String,
    /// The unit that it is shown in.
    pub unit: String,
    /// The decimals that it is shown with.
    pub decimals: u32,
    /// The low end, in base units, and whether it is included.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low: Option<(Formula, bool)>,
    /// The high end, in base units, and whether it is included.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<(Formula, bool)>,
    /// The band as written.
    pub written: String,
}

impl WorkedOut {
    /// The test whether there is such a band: its middle, or its one end, lies in it. It comes out `in`, or there is no reading.
    pub fn has_room(&self) -> Test {
        let zero = || Formula::Value(Num(Exact::zero()));
        let value = match (&self.low, &self.high) {
            (Some((low, _)), Some((high, _))) => Formula::Over(
                Box::new(Formula::Plus(Box::new(low.clone()), Box::new(high.clone()))),
                Box::new(Formula::Value(Num(Exact::whole(2)))),
            ),
            (Some((end, _)), None) | (None, Some((end, _))) => end.clone(),
            (None, None) => zero(),
        };
        let closed = |end: &Option<(Formula, bool)>| match (&self.low, &self.high) {
            (Some(_), Some(_)) => end.clone(),
            _ => end.clone().map(|(end, _)| (end, true)),
        };
        Test::Within {
            value,
            low: closed(&self.low),
            high: closed(&self.high),
            written: self.written.clone(),
        }
    }

    /// The band as a test of nothing: for what only asks after its ends.
    pub fn band(&self) -> Test {
        let value = Formula::Value(Num(Exact::zero()));
        Test::Within { value, low: self.low.clone(), high: self.high.clone(), written: self.written.clone() }
    }
}
