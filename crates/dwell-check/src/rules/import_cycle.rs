//! Files that use each other in a circle.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "import-cycle",
    level: Level::Error,
    waivable: false,
    page: include_str!("import_cycle.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ImportCycle { place, files } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("these files use each other in a circle: {}", files.join(" → ")))
                .label("this closes the circle")
                .why("Nobody can change one of them without reading all the others, and what was missed is worked to at the vehicle.")
                .help("put what both need into a file of its own, and let both use that one"),
        );
    }
}
