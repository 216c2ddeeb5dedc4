//! Which tool of the workshop was used as one of the procedure.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A tool of the workshop was taken for one of the procedure. It counts for all that is measured or set with it from then on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ToolTaken {
    /// The tool of the procedure, by its name there.
    pub tool: String,
    /// What people call it.
    pub label: String,
    /// The number on its label.
    pub number: String,
    /// The day of its last good check, year-month-day, as the register said then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibrated: Option<String>,
    /// The last day on which it is good, year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
    /// The units that its scales show.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub scales: Vec<Scale>,
    /// Who allowed it although its calibration was over, or not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allowed: Option<Allowed>,
}

/// The scale of a tool for one kind of quantity.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Scale {
    /// The kind of quantity, `torque`.
    pub kind: String,
    /// The unit, `lb·ft`.
    pub unit: String,
    /// How many decimals can be read, or set.
    pub decimals: u32,
}

/// Somebody answers for the use of a tool that the rules would keep away.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Allowed {
    /// The person.
    pub by: String,
    /// The reason that was given.
    pub why: String,
    /// What was against it, "its calibration was over on 2031-03-01".
    pub although: String,
}

impl ToolTaken {
    /// `torque wrench: TW-07, calibrated 2030-11-04, good until 2031-11-04`.
    pub fn words(&self) -> String {
        let mut words = format!("{}: {}", self.label, self.number);
        words.extend(self.calibrated.iter().map(|day| format!(", calibrated {day}")));
        words.extend(self.due.iter().map(|day| format!(", good until {day}")));
        words.extend(
            self.allowed
                .iter()
                .map(|allowed| format!("; {}, allowed by {}: {}", allowed.although, allowed.by, allowed.why)),
        );
        words
    }
}
