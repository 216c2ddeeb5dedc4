//! A limit or a target that the quantity can never be at.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "impossible-value",
    level: Level::Error,
    waivable: true,
    page: include_str!("impossible_value.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ImpossibleValue { place, value, quantity, can, declared } = trouble else { continue };
        let finding = RULE
            .at(*place, format!("{value} is no value that {quantity} can have: it is {can}"))
            .label(format!("reaches {value}"))
            .why("No reading is ever there, so this is not the limit that was meant: the vehicle would be judged by a misprint.")
            .help("look at its sign, its unit and its decimal point; a limit on one side is `at most …` or `at least …`");
        findings.push(match declared {
            Some(there) => finding.related(*there, format!("what {quantity} can be is said here")),
            None => finding,
        });
    }
}
