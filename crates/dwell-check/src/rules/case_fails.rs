//! A case that does not end as it says; found where the cases are carried out.

use super::Rule;
use crate::finding::{Finding, Level, Place};

pub(super) const RULE: Rule =
    Rule { name: "case-fails", level: Level::Error, waivable: false, page: include_str!("case_fails.md") };

/// How a case came out otherwise than it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CaseFailure {
    /// Its variants are refused, with the reason.
    CannotBegin(String),
    /// It ends otherwise.
    Ends {
        /// The word of the case.
        promised: String,
        /// How it ends.
        came: String,
        /// The values that nobody asked for.
        unasked: Vec<Place>,
    },
    /// It ends as it says, and values are left that nobody asked for.
    Unasked {
        /// How it ends.
        came: String,
        /// The values after the first.
        more: Vec<Place>,
    },
    /// Something is asked that the case has no value for, or no further one.
    Missing {
        /// The name of the reading or answer.
        name: String,
        /// What is asked, in words.
        says: String,
        /// How an entry gives a value, with `…` for the number.
        example: String,
        /// Where it is asked.
        asked: Option<Place>,
        /// Whether it has values of that name, and too few.
        is_more: bool,
    },
    /// A value is refused.
    Refused {
        /// The reason.
        why: String,
        /// Where it is asked.
        asked: Option<Place>,
    },
}

/// The finding of a case. `way` is a sentence that says what was decided, `decided` the gravest of it with its places.
pub fn finding(
    place: Place,
    title: &str,
    failure: &CaseFailure,
    way: &str,
    decided: Vec<(Place, String)>,
) -> Finding {
    let asked_at = |finding: Finding, asked: &Option<Place>| match asked {
        Some(asked) => finding.related(*asked, "asked here"),
        None => finding,
    };
    let made = match failure {
        CaseFailure::CannotBegin(why) => RULE
            .at(place, format!("the case “{title}” cannot begin: {why}"))
            .label("for this vehicle it does not begin")
            .why("An example that is not carried out tries nothing: a slip would be found at the vehicle only.")
            .help("give each variant that the procedure asks for, with a value that it applies to"),
        CaseFailure::Ends { promised, came, unasked } => {
            let finding = RULE
                .at(place, format!("the case “{title}” ends {came}, not {promised}"))
                .label(format!("it ends {came}"))
                .why(format!(
                    "With these readings a technician would come to another end than the writer has in mind. {way}"
                ))
                .help(format!(
                    "follow that way: where the procedure is right, write `ends {came}`, otherwise mend the procedure"
                ));
            unasked
                .iter()
                .fold(finding, |finding, place| finding.related(*place, "nobody asks for this value"))
        }
        CaseFailure::Unasked { came, more } => {
            let finding = RULE
                .at(place, format!("the case “{title}” gives a value that nobody asks for"))
                .label("nobody asks for this value")
                .why(format!("It ends {came} before; what the example shows does not happen. {way}"))
                .help("take the value out, or look why it does not come to that reading");
            more.iter().fold(finding, |finding, place| finding.related(*place, "nor for this one"))
        }
        CaseFailure::Missing { name, says, example, asked, is_more } => {
            let further = if *is_more { "further " } else { "" };
            let finding = RULE
                .at(place, format!("the case “{title}” gives no {further}value for `{name}`"))
                .label(if *is_more {
                    "asked once more after this one"
                } else {
                    "this case has no value for it"
                })
                .why(format!("It goes another way than the example shows, or further: “{says}”. {way}"))
                .help(format!("add the value, in the order in which it is asked: `{example}`"));
            asked_at(finding, asked)
        }
        CaseFailure::Refused { why, asked } => {
            let finding = RULE
                .at(place, format!("the case “{title}” gives a value that is refused: {why}"))
                .label("refused")
                .why(format!("At the vehicle nobody could type this. {way}"))
                .help("write a value that can be read there");
            asked_at(finding, asked)
        }
    };
    decided.into_iter().fold(made, |finding, (place, words)| finding.related(place, words))
}
