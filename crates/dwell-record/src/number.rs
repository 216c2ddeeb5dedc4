//! Numbers in a record: exact, as text, so that what is read back is what was written.

use dwell_quantity::{Band, Bound, Exact};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use std::borrow::Cow;

/// An exact number; in JSON a string, `"0.35"` or `"1/3"`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Number(pub Exact);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Number, D::Error> {
        let text = Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map(Number).map_err(D::Error::custom)
    }
}

impl JsonSchema for Number {
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

/// What a reading came to, in the unit that stands beside it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Value {
    /// One number.
    Number(Number),
    /// Only that it lies in here: "above 1000 MΩ".
    Between(Span),
    /// Nothing could be read.
    NoReading,
}

/// Where a value lies; an end that is not there is open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Span {
    /// The low end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low: Option<SpanEnd>,
    /// The high end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<SpanEnd>,
}

/// One end of a span.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct SpanEnd {
    /// Where it is.
    pub value: Number,
    /// Whether it belongs to the span.
    pub included: bool,
}

impl From<&Band> for Value {
    fn from(band: &Band) -> Value {
        let end = |bound: &Option<Bound>| {
            bound.as_ref().map(|bound| SpanEnd { value: Number(bound.value.clone()), included: bound.closed })
        };
        match (&band.low, &band.high) {
            (Some(low), Some(high)) if low.value == high.value => Value::Number(Number(low.value.clone())),
            _ => Value::Between(Span { low: end(&band.low), high: end(&band.high) }),
        }
    }
}
