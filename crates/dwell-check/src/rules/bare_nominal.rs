//! A single number where a limit belongs.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "bare-nominal",
    level: Level::Error,
    waivable: false,
    page: include_str!("bare_nominal.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::BareNominal { place, shown, counted } = trouble else { continue };
        let finding = RULE
            .at(*place, format!("a single number is no limit: {shown} is at least, at most, or how near?"));
        findings.push(if *counted {
            finding
                .label("no band")
                .why("One reader takes it as the most, the next as the least.")
                .help(format!("write `exactly {shown}`, `at least {shown}` or `at most {shown}`"))
        } else {
            finding
                .label("no band")
                .why(
                    "Nothing that is measured is ever exactly that, so each technician makes up a tolerance.",
                )
                .help(format!(
                    "write how far it may be off, `{shown} ± …`, or `at least {shown}` or `at most {shown}`"
                ))
        });
    }
}
