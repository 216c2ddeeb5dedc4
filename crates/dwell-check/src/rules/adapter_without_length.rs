//! A torque wrench is used with an adapter, and how long one of them is is not known.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::{Lacks, Trouble};

pub(super) const RULE: Rule = Rule {
    name: "adapter-without-length",
    level: Level::Error,
    waivable: true,
    page: include_str!("adapter_without_length.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::AdapterWithoutLength { place, adapter, wrench, missing, lacks, declared } = trouble
        else {
            continue;
        };
        let declared_is = match lacks {
            Lacks::Ratio => format!("no setting is worked out for a {missing}"),
            _ => format!("how long the {missing} is is not said"),
        };
        let why = match lacks {
            Lacks::Ratio => {
                "A multiplier turns the fastener with a multiple of what the wrench is set to: with the torque of the fastener on \
                 the wrench it is torn off."
            }
            _ => {
                "An adapter makes the arm longer: with the setting of the bare wrench the bolt gets more than is meant."
            }
        };
        let help = match lacks {
            Lacks::Wrench => format!(
                "add to the {missing} the length from the square drive to the middle of the grip: `reaches 350 mm`"
            ),
            Lacks::Adapter => format!(
                "add to the {missing} how far it takes the fastener from the square drive: `extends 25 mm`, `extends 0 mm` \
                 where it does not"
            ),
            Lacks::Ratio => "write a spec for the wrench, the torque of the fastener divided by the ratio that the maker of the \
                             multiplier states; tighten to that one, and waive this rule with the ratio as the reason"
                .to_owned(),
        };
        findings.push(
            RULE.at(*place, format!("the {adapter} changes what the {wrench} must be set to"))
                .label("changes the setting")
                .related(*declared, declared_is)
                .why(why)
                .help(help),
        );
    }
}
