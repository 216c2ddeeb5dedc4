//! What is held during a span of a procedure.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What is held during a span.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Hold {
    /// The item or the quantity, by its name in the text.
    pub name: String,
    /// Its place, for one of a row.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// What is held, "The engine speed stays 2500 ± 300 rpm."
    pub says: String,
    /// What more the technician is told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// The states that are held; none where a quantity is.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub states: Vec<Held>,
}

/// A state that is held.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Held {
    /// The slot.
    pub slot: usize,
    /// The state that it is held in.
    pub state: usize,
    /// The states that it may be in once that is lost.
    pub lost: Vec<usize>,
}
