//! What was done by a sheet of paper and typed in later.

use super::By;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What follows was noted by hand on a sheet, and typed in at this moment; its own time is the one on the sheet. It holds up to the
/// next event of this kind, or until the job is taken up again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct FromPaper {
    /// Who typed it, and on which device.
    pub by: By,
    /// When it was typed, as RFC 3339 writes it.
    pub at: String,
}
