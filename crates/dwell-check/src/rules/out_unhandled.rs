//! A reading is out of band and nothing says what to do.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "out-unhandled",
    level: Level::Error,
    waivable: false,
    page: include_str!("out_unhandled.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        match trouble {
            Trouble::OutUnhandled { place, what, witness } => findings.push(
                RULE.at(*place, format!("nothing says what to do when “{what}” does not hold"))
                    .label("and then?")
                    .why("Without a word on it the work goes on with a known fault.")
                    .help("add `otherwise { … }`: adjust, refer to another procedure, or end failed")
                    .witness(witness),
            ),
            Trouble::PassedWhileOut { place, judged, witness } => findings.push(
                RULE.at(*place, "this ends passed although a reading may still be out of band")
                    .label("passed all the same")
                    .related(*judged, "judged here, and not met afterwards")
                    .why("The record would say passed of a vehicle that is not in order.")
                    .help("leave `end passed` out: passed and failed are worked out from what was read")
                    .witness(witness),
            ),
            _ => {}
        }
    }
}
