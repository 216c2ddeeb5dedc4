//! A tool of the register, judged for one of a card: what a record notes of it, or what is against its use.

use crate::calibration::Standing;
use crate::fit::Misfit;
use crate::register::{Ability, Tool};
use dwell_card::limit;
use dwell_quantity::from_base_difference;
use std::fmt;
use time::Date;

/// What is against the use of a tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Against {
    /// It is not this kind of tool.
    Other {
        /// What it serves as.
        serves: Vec<String>,
    },
    /// It is not good enough: nobody can allow it.
    Misfits(Vec<Misfit>),
    /// Its calibration is over, or not known: somebody may answer for it.
    Calibration(Standing),
}

impl Tool {
    /// What is against its use as this tool of a card on a day.
    ///
    /// # Errors
    /// What is against it; the graver first.
    pub fn serves(&self, asked: &limit::Tool, day: Date) -> Result<Standing, Against> {
        if !self.serves.contains(&asked.name) {
            return Err(Against::Other { serves: self.serves.clone() });
        }
        let misfits = self.misfits(asked);
        if !misfits.is_empty() {
            return Err(Against::Misfits(misfits));
        }
        match (self.on(day, asked.calibrated_months), asked.calibrated_months) {
            (good @ Standing::Good { .. }, _) => Ok(good),
            // Where nobody asks for a calibration, none is needed; what is known to be over is over all the same.
            (Standing::Unknown, None) => Ok(Standing::Unknown),
            (standing, _) => Err(Against::Calibration(standing)),
        }
    }
}

impl Ability {
    /// How many decimals can be read or set in its unit: those of its step, at most 6; none where the step is not known.
    pub fn decimals(&self) -> u32 {
        let step = self.resolution.as_ref().map(|step| from_base_difference(step, self.unit));
        step.and_then(|step| step.decimals_needed()).unwrap_or(0).min(6)
    }
}

impl fmt::Display for Against {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Against::Other { serves } => write!(out, "it is used as {}", serves.join(" or ")),
            Against::Misfits(misfits) => {
                let all: Vec<String> = misfits.iter().map(ToString::to_string).collect();
                out.write_str(&all.join("; "))
            }
            Against::Calibration(standing) => standing.fmt(out),
        }
    }
}

impl fmt::Display for Standing {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Standing::Good { until } => write!(out, "good until {until}"),
            Standing::Overdue { since } => write!(out, "its calibration was over on {since}"),
            Standing::NotYet { calibrated } => {
                write!(out, "its last check is of {calibrated}, a day that has not come yet")
            }
            Standing::Unknown => out.write_str("nobody knows when it was last checked"),
        }
    }
}
