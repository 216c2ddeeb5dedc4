//! Something that was disturbed is still so on some way out.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "not-restored", level: Level::Error, waivable: true, page: include_str!("not_restored.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NotRestored { place, item, state, should, end, outcome, verb, witness } = trouble else {
            continue;
        };
        let mut finding = RULE
            .at(*place, format!("the {item} may still be {state} at the end"))
            .label(format!("{state} from here on"))
            .related(*end, format!("one way out: {outcome}"))
            .why(format!("The vehicle leaves the bay with the {item} {state} instead of {should}."))
            .witness(witness);
        finding = match verb {
            Some(verb) => {
                finding.help(format!("write it into `restore` (`{verb}`), so that every way out does it"))
            }
            None => finding
                .help(format!("bring it back to {should} in `restore`, or say under `leaves` that it stays")),
        };
        findings.push(finding);
    }
}
