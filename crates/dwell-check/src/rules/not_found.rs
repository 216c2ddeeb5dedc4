//! A name or a file that is not there.

use super::{Rule, alternatives};
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::{Model, Thing};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "not-found", level: Level::Error, waivable: false, page: include_str!("not_found.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        match trouble {
            Trouble::NotFound { place, name, what, near, elsewhere } => {
                findings.push(name_not_found(facts, *place, name, what, near, *elsewhere));
            }
            Trouble::FileNotFound { place, path, why } => findings.push(
                RULE.at(*place, format!("`{path}` cannot be read: {why}"))
                    .label("this file")
                    .why("What stands in it is missing here: what rests on it cannot be checked, and no card is made.")
                    .help(
                        "correct the path (it is taken from the folder of this file), or put the file there",
                    ),
            ),
            _ => {}
        }
    }
}

fn name_not_found(
    facts: &Facts,
    place: Place,
    name: &str,
    what: &str,
    near: &[String],
    elsewhere: Option<Thing>,
) -> Finding {
    let bare = what.strip_prefix("an ").or(what.strip_prefix("a ")).unwrap_or(what);
    let bare = bare.replace(" or an ", " or ").replace(" or a ", " or ");
    let Some(thing) = elsewhere else {
        let finding = RULE
            .at(place, format!("no {bare} is called `{name}`"))
            .label("not known here")
            .why("The technician could not know which part, value or procedure is meant.");
        return match near {
            [] => finding.help(match what {
                "a reading" => "measure or read it before this, in this procedure",
                "a step" | "a step before this one" => "name a step of this procedure",
                _ => "describe it in this file, or `use` the file that does (what that file itself uses is not seen here)",
            }),
            [only] if facts.text(place) == name => {
                finding.help(format!("did you mean `{only}`?")).fix(place, only.clone())
            }
            _ => finding.help(format!("did you mean {}?", alternatives(near))),
        };
    };
    let finding = RULE
        .at(place, format!("`{name}` is {}, but {what} belongs here", thing.what()))
        .label(format!("this is {}", thing.what()))
        .why("One name has one meaning everywhere, or two people read two things on one card.");
    let finding = match declared(facts.model, thing) {
        Some(there) => finding.related(there, format!("`{name}` is named here")),
        None => finding,
    };
    if near.is_empty() {
        finding.help(format!("name {what} here, or give the two things different names"))
    } else {
        finding.help(format!("did you mean {}?", alternatives(near)))
    }
}

/// Where a thing is declared.
fn declared(model: &Model, thing: Thing) -> Option<Place> {
    match thing {
        Thing::Handling(at) => model.handlings.get(at).map(|known| known.place),
        Thing::Item(at) | Thing::Tool(at) => model.items.get(at).map(|known| known.place),
        Thing::Quantity(at) => model.quantities.get(at).map(|known| known.place),
        Thing::Spec(at) | Thing::Table(at) => model.specs.get(at).map(|known| known.place),
        Thing::Series(at) => model.series.get(at).map(|known| known.place),
        Thing::Hazard(at) => model.hazards.get(at).map(|known| known.place),
        Thing::Variant(at) => model.variants.get(at).map(|known| known.place),
        Thing::Positions(at) => model.positions.get(at).map(|known| known.place),
        Thing::Procedure(at) => model.procedures.get(at).map(|known| known.place),
        Thing::Kind(_) => None,
    }
}
