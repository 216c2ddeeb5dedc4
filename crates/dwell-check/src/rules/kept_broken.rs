//! Something that must stay as it is does not, on some way.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "kept-broken", level: Level::Error, waivable: true, page: include_str!("kept_broken.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::KeptBroken { place, kept, what, during, witness } = trouble else { continue };
        let until = if *during { "up to the end of its block" } else { "up to `restore`" };
        let why = format!("The work that follows relies on it, {until}.");
        if place == kept {
            let message = format!("it is not certain that the {what} is so here, where it is to be kept so");
            findings.push(
                RULE.at(*place, message)
                    .label("to be kept from here on")
                    .why(why)
                    .help("bring it into that state before this, or ask for it with `needs`")
                    .witness(witness),
            );
            continue;
        }
        let help = match during {
            true => "do this before the `keep` or after its block",
            false => "do this before the `keep` or in `restore`, or take the `keep` away if it was not meant",
        };
        findings.push(
            RULE.at(*place, format!("this changes the {what}, which is to be kept as it is"))
                .label("this breaks it")
                .related(*kept, "to be kept from here on")
                .why(why)
                .help(help)
                .witness(witness),
        );
    }
}
