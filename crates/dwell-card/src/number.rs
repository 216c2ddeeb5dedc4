//! Exact numbers and bands in the files: a number is a string in its one text form.

use dwell_quantity::{Band, Bound, Exact};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use std::borrow::Cow;

/// An exact number; in JSON a string, `"0.35"` or `"1/3"`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Num(pub Exact);

impl Serialize for Num {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Num {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Num, D::Error> {
        let text = Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map(Num).map_err(D::Error::custom)
    }
}

impl JsonSchema for Num {
    fn schema_name() -> Cow<'static, str> {
        "Number".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "An exact number: a decimal, or a fraction of two whole numbers.",
            "pattern": "^-?[0-9]+(\\.[0-9]+|/[0-9]+)?$"
        })
    }
}

/// One end of a band.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct End {
    /// The limit, in the base unit of the kind.
    pub value: Num,
    /// Whether the limit itself is in.
    pub included: bool,
}

/// A band in the base unit of its kind; an end that is not there is open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Range {
    /// The low end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low: Option<End>,
    /// The high end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<End>,
}

impl Range {
    /// The band to judge with.
    pub fn band(&self) -> Band {
        let bound = |end: &Option<End>| {
            end.as_ref().map(|end| Bound { value: end.value.0.clone(), closed: end.included })
        };
        Band { low: bound(&self.low), high: bound(&self.high) }
    }
}

impl From<&Band> for Range {
    fn from(band: &Band) -> Range {
        let end = |bound: &Option<Bound>| {
            bound.as_ref().map(|bound| End { value: Num(bound.value.clone()), included: bound.closed })
        };
        Range { low: end(&band.low), high: end(&band.high) }
    }
}
