//! Something that must stay as it is does not, on some way.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "kept-broken", level: Level::Error, waivable: true, page: include_str!("kept_broken.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::KeptBroken { place, kept, what, witness } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("this changes the {what}, which is to be kept as it is"))
                .label("this breaks it")
                .related(*kept, "to be kept from here on")
                .why("The rest of the procedure rests on it, up to `restore`.")
                .help(
                    "do this before the `keep` or in `restore`, or take the `keep` away if it was not meant",
                )
                .witness(witness),
        );
    }
}
