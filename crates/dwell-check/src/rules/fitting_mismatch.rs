//! Two things that are joined although their threads or connectors are not the same.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "fitting-mismatch",
    level: Level::Error,
    waivable: true,
    page: include_str!("fitting_mismatch.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::FittingMismatch { place, one, other, along, measured } = trouble else { continue };
        let verb = if *measured { "is not made for" } else { "does not fit" };
        let mut finding = RULE
            .at(*place, format!("the {} {verb} the {}", one.0, other.0))
            .label(format!("{} on {}", one.1.join(", "), other.1.join(", ")))
            .related(one.2, format!("fits {}", one.1.join(", ")))
            .related(other.2, format!("fits {}", other.1.join(", ")));
        finding = match along.as_slice() {
            [] if *measured => finding.help("name a tool that is made for this place"),
            [] => finding.help("take an adapter that fits both along: `with …`"),
            _ => finding.help(format!(
                "the {} does not fit both; name one adapter after `with` that does",
                along.join(", the ")
            )),
        };
        findings.push(finding.why(if *measured {
            "A tool that is not made for the place shows nonsense there, or bursts in the hand that holds it."
        } else {
            "The technician would stand there with a thread that does not go in, or cuts its way in and leaks."
        }));
    }
}
