//! A fastener that was loosened is not tight again on some way out, or is tightened to a torque without a tool for it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::model::{Model, Thing};
use crate::repair::{self, handled, only};
use crate::trouble::Trouble;
use dwell_quantity::Kind;
use dwell_syntax::tree::{Procedure, Span, StatementKind};

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
                .witness(witness)
                .mended("tighten it in `restore`", tightened(facts, *place)),
            Trouble::NoTorqueTool { place, item, torque, declared } => {
                let finding = RULE
                    .at(*place, format!("the {item} is to be tightened to {torque}, and no tool is named that sets a torque"))
                    .label("tightened by feel")
                    .why("By feel nobody hits a torque: too little works loose, too much stretches or breaks the bolt.")
                    .help("name the wrench: `with torque-wrench`")
                    .mended("name the wrench", with_wrench(facts, *place));
                match declared {
                    Some(declared) => finding.related(declared.to_owned(), "the torque is given here"),
                    None => finding,
                }
            }
            _ => continue,
        };
        findings.push(finding);
    }
}

/// The fastener tightened in `restore`: as it is tightened elsewhere in the procedure, else to its torque with the only
/// tool that sets one.
fn tightened(facts: &Facts, place: Place) -> Option<Vec<Edit>> {
    let held = repair::statement_at(facts, place)?;
    let StatementKind::Handle(loosened) = &held.statement.kind else { return None };
    let item = &loosened.item.text;
    if repair::restores(held.procedure, "tighten", item) {
        return None;
    }
    let elsewhere = handled(held.procedure, "tighten", item);
    let line = if elsewhere.is_empty() {
        let scope = &facts.model.scopes.get(place.file)?.names;
        let Thing::Item(known) = scope.get(item)? else { return None };
        let torque = facts.model.items.get(*known)?.torque.and_then(|spec| facts.model.specs.get(spec));
        let at = match (&loosened.at_each, &loosened.at) {
            (Some(positions), _) => format!(" at each {}", positions.text),
            (None, Some(place)) => format!(" at {}", place.text),
            (None, None) => String::new(),
        };
        match torque {
            None => format!("tighten {item}{at}"),
            Some(torque) => {
                scope.get(&torque.name)?;
                let wrench = wrench(facts.model, place.file, held.procedure)?;
                format!("tighten {item} to {}{at} with {wrench}", torque.name)
            }
        }
    } else {
        let words = |(statement, handle): (&dwell_syntax::tree::Statement, &dwell_syntax::tree::Handle)| {
            let end = handle.text.as_ref().map_or(statement.span.end, |text| text.span.start);
            let span = Span::new(statement.span.start, end);
            facts.text(Place { file: place.file, span }).trim_end()
        };
        only(elsewhere.into_iter().map(words))?.to_owned()
    };
    Some(vec![repair::into_restore(facts, place, &line)?])
}

/// `with` and the only tool that sets a torque.
fn with_wrench(facts: &Facts, place: Place) -> Option<Vec<Edit>> {
    let held = repair::statement_at(facts, place)?;
    let StatementKind::Handle(handle) = &held.statement.kind else { return None };
    let wrench = wrench(facts.model, place.file, held.procedure)?;
    let (at, replacement) = match (handle.with.last(), &handle.text) {
        (Some(last), _) => (last.span.end, format!(", {wrench}")),
        (None, Some(text)) => (text.span.start, format!("with {wrench} ")),
        (None, None) => (held.statement.span.end, format!(" with {wrench}")),
    };
    Some(vec![Edit { place: Place { file: place.file, span: Span::new(at, at) }, replacement }])
}

/// The tool that sets a torque: the only one that this procedure takes, else the only one that its file knows.
fn wrench<'m>(model: &'m Model, file: usize, procedure: &Procedure) -> Option<&'m str> {
    let torque = Kind::named("torque")?;
    let sets = |name: &str| match model.scopes.get(file)?.names.get(name)? {
        Thing::Tool(tool) => {
            let tool = model.items.get(*tool)?;
            let sets = &tool.tool.as_ref()?.sets;
            sets.iter().any(|ability| ability.kind == torque).then_some(tool.name.as_str())
        }
        _ => None,
    };
    let mut taken = Vec::new();
    crate::check::statements(procedure, procedure.body, &mut |statement, _| {
        if let StatementKind::Handle(handle) = &statement.kind {
            taken.extend(handle.with.iter().filter_map(|tool| sets(&tool.text)));
        }
    });
    if taken.is_empty() {
        only(model.scopes.get(file)?.names.keys().filter_map(|name| sets(name)))
    } else {
        only(taken)
    }
}
