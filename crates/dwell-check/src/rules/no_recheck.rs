//! The last measurement does not follow the last action that can move the quantity.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "no-recheck", level: Level::Error, waivable: true, page: include_str!("no_recheck.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NoRecheck { place, reading, measured, witness } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("{reading} is not measured again after this, which can move it"))
                .label(format!("can move {reading}"))
                .related(*measured, "measured last here, before that")
                .why("It can move what was read, as a lock nut turns what it locks: the vehicle leaves with a value that nobody has read.")
                .help(format!("write `measure {reading} again` after it and judge that reading"))
                .witness(witness),
        );
    }
}
