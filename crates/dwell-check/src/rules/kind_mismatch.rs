//! Two kinds of quantity meet that have nothing to do with each other.

use super::{Rule, sentence};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "kind-mismatch",
    level: Level::Error,
    waivable: false,
    page: include_str!("kind_mismatch.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::KindMismatch { place, other, first, second, why } = trouble else { continue };
        let why = why
            .clone()
            .unwrap_or_else(|| "The two numbers may look alike, but they count different things.".into());
        let mut finding = RULE
            .at(*place, format!("{first} does not go with {second}"))
            .label(first.clone())
            .why(sentence(&why))
            .help("use the quantity that is really read, or state the limit for that one");
        if let Some(other) = other {
            finding = finding.related(*other, second.clone());
        }
        findings.push(finding);
    }
}
