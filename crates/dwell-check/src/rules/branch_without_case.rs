//! A branch that no case comes to; found where the cases are carried out.

use super::Rule;
use crate::finding::{Finding, Level, Place};

pub(super) const RULE: Rule = Rule {
    name: "branch-without-case",
    level: Level::Hint,
    waivable: true,
    page: include_str!("branch_without_case.md"),
};

/// Whether a finding is one of this rule.
pub fn is_one(finding: &Finding) -> bool {
    finding.rule == RULE.name
}

/// The finding of one branch. `what` says when it is taken: "`lamp is lit` holds".
pub fn finding(place: Place, what: &str) -> Finding {
    RULE.at(place, format!("no case comes to where {what}"))
        .label("no case goes this way")
        .why("Nobody has tried it: the first to go this way would be a technician at a vehicle.")
        .help("add a case that goes there; `dwell paths --as-cases` writes the ways as cases")
}

/// The finding of a procedure that has no case at all; `place` is its name.
pub fn of_none(place: Place, procedure: &str) -> Finding {
    RULE.at(place, format!("`{procedure}` has no case"))
        .label("no case")
        .why("Nobody has tried it with a reading, good or bad: the first would be a technician at a vehicle.")
        .help("add `case \"…\" { … ends passed }` with readings; `dwell paths --as-cases` writes the ways as cases")
}
