//! A spec, a table or a procedure that is withdrawn is still used.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "withdrawn", level: Level::Error, waivable: false, page: include_str!("withdrawn.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::Withdrawn { place, what, name, on, why, declared, revised } = trouble else { continue };
        let over = facts.options.day.as_ref().is_some_and(|day| day >= on);
        let later = revised.as_deref().filter(|revised| *revised >= on.as_str());
        if !over && later.is_none() {
            continue;
        }
        let since = match later {
            Some(revised) => format!("This procedure was revised on {revised}, and it was withdrawn by then"),
            None => "That day has come".to_owned(),
        };
        findings.push(
            RULE.at(*place, format!("{what} `{name}` is withdrawn from {on} on"))
                .label("still used here")
                .related(*declared, "withdrawn here")
                .why(format!(
                    "{since}: “{}” Who works by it works by what the house has given up.",
                    why.trim()
                ))
                .help(match *what {
                    "the procedure" => "perform or refer to the one that took its place",
                    _ => "use the one that took its place",
                }),
        );
    }
}
