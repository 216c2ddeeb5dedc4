//! A fastener that was loosened is not tight again on some way out, or is tightened to a torque without a tool for it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "fastener-left-loose",
    level: Level::Error,
    waivable: true,
    page: include_str!("fastener_left_loose.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let finding = match trouble {
            Trouble::FastenerLeftLoose { place, item, name, state, end, outcome, witness } => RULE
                .at(*place, format!("the {item} may still be {state} at the end"))
                .label(format!("{state} from here on"))
                .related(*end, format!("one way out: {outcome}"))
                .why("What is not tight works loose on the road, and what it holds comes off.")
                .help(format!(
                    "tighten it in `restore` (`tighten {name} to … with …`), so that every way out does it"
                ))
                .witness(witness),
            Trouble::NoTorqueTool { place, item, torque, declared } => {
                let finding = RULE
                    .at(*place, format!("the {item} is to be tightened to {torque}, and no tool is named that sets a torque"))
                    .label("tightened by feel")
                    .why("By feel nobody hits a torque: too little works loose, too much stretches or breaks the bolt.")
                    .help("name the wrench: `with torque-wrench`");
                match declared {
                    Some(declared) => finding.related(declared.to_owned(), "the torque is declared here"),
                    None => finding,
                }
            }
            _ => continue,
        };
        findings.push(finding);
    }
}
