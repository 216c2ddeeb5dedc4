//! Something is decided by readings that were moved since they were taken.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "stale-reading",
    level: Level::Error,
    waivable: true,
    page: include_str!("stale_reading.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::StaleReading { place, readings, measured, moved, action, witness } = trouble else {
            continue;
        };
        let names = readings.join(" and ");
        let message = match readings.as_slice() {
            [one] => format!("{one} is not what it was when it was measured, and this decides by it"),
            _ => format!("{names} are not what they were when they were measured, and this decides by them"),
        };
        findings.push(
            RULE.at(*place, message)
                .label(format!("looks at {names}"))
                .related(*measured, "measured last here")
                .related(*moved, format!("“{action}” can move it"))
                .why("The vehicle is judged by a value that it no longer has.")
                .help(format!(
                    "write `measure {} again` before this; where the value as found is meant, `first {}`",
                    readings.join(", "),
                    readings.first().map_or("", String::as_str)
                ))
                .witness(witness),
        );
    }
}
