//! Something is put back, and what shows whether it was put back right is not judged.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "not-checked-after",
    level: Level::Error,
    waivable: true,
    page: include_str!("not_checked_after.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NotCheckedAfter { place, verb, item, spec, declared, witness } = trouble else {
            continue;
        };
        let verb = verb.replace('-', " ");
        findings.push(
            RULE.at(*place, format!("nothing is judged by `{spec}` after this, and the procedure passes"))
                .label(format!("not checked after: {verb} the {item}"))
                .related(*declared, "what it is checked by is declared here")
                .why("What is put back wrong looks like what is put back right, until somebody drives.")
                .help(format!(
                    "{verb} it in a step already, measure after it and write `expect … meets {spec}`; `restore` then skips it"
                ))
                .witness(witness),
        );
    }
}
