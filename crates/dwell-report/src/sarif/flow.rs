//! The way that leads to a finding as a SARIF code flow: what is done, asked, read and decided, one place after another.

use super::place::physical;
use crate::Base;
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use dwell_card::words::as_written;
use dwell_check::check::Checked;
use dwell_check::finding::Finding;
use serde_json::{Value, json};

/// The most places of one flow; a loop that goes round very often is cut off here.
const MOST: usize = 500;

/// The flow of the finding's witness; none where it has none or nothing on it can be shown.
pub(super) fn of(checked: &Checked, base: &Base, finding: &Finding) -> Option<Value> {
    let witness = finding.witness.as_ref()?;
    let named = || checked.procedures.iter().filter(|known| known.name == witness.procedure);
    let compiled = named().find(|known| known.file == finding.place.file).or_else(|| named().next())?;
    let card = compiled.graph.as_ref()?;
    let mut locations = Vec::new();
    for (node, way) in witness.nodes.iter().take(MOST) {
        let Some(words) = card.nodes.get(*node).and_then(|known| words(card, &known.act, *way)) else {
            continue;
        };
        let Some(at) = compiled.places.get(*node).and_then(|at| physical(base, &checked.program, *at)) else {
            continue;
        };
        locations.push(json!({ "location": { "physicalLocation": at, "message": { "text": words } } }));
    }
    if locations.is_empty() {
        return None;
    }
    let mut flow = json!({ "threadFlows": [{ "locations": locations }] });
    if let (false, Some(members)) = (witness.says.is_empty(), flow.as_object_mut()) {
        members.insert("message".to_owned(), json!({ "text": witness.says }));
    }
    Some(flow)
}

/// What happens at a node and how it goes on from it; none for what only holds the card together.
fn words(card: &Card, act: &Act, way: Way) -> Option<String> {
    let words = match act {
        Act::Step { step } => format!("Step: {}", card.steps.get(*step)?.title),
        Act::Caution { level, text, .. } => format!("{}: {text}", level.word()),
        Act::Note { text } => format!("Note: {text}"),
        Act::Need { says, .. } => format!("{says}? {}", way_on(way)),
        Act::Hold(hold) => hold.says.clone(),
        Act::Work(work) if way == Way::NoReading => format!("{} {}", work.says, way_on(way)),
        Act::Work(work) => work.says.clone(),
        Act::Measure(measure) => measure.says.clone(),
        Act::Judge(judge) => format!("{}: {}", judge.condition.says, way_on(way)),
        Act::Choose(choose) => format!("Choose a size of {}: {}", choose.series, way_on(way)),
        Act::Ask { question } => card.questions.get(*question)?.text.clone(),
        Act::Branch { condition } => format!("{}: {}", condition.says, way_on(way)),
        Act::Sign { .. } => "Sign.".to_owned(),
        Act::Wait { says, .. } => says.clone(),
        Act::Count { .. } if way == Way::Spent => {
            "Not once more: it has been tried as often as it may.".to_owned()
        }
        Act::Count { .. } => "Once more.".to_owned(),
        Act::Cause { item, .. } => format!("Probable cause: {item}"),
        Act::End(end) => match &end.text {
            Some(text) => format!("Ends: {text}"),
            None => "Ends here.".to_owned(),
        },
        Act::Restore => "What must be put back".to_owned(),
        Act::Finish => "The procedure is done.".to_owned(),
        Act::Open
        | Act::Uncover { .. }
        | Act::Keep { .. }
        | Act::Release { .. }
        | Act::Begin { .. }
        | Act::Unhandled
        | Act::Close => return None,
    };
    let words = as_written(&words, card);
    Some(if words.trim().is_empty() { "goes on".to_owned() } else { words })
}

/// The way on, in words.
fn way_on(way: Way) -> &'static str {
    match way {
        Way::Then => "goes on",
        Way::Yes => "yes",
        Way::No => "no",
        Way::NoReading => "no reading",
        Way::In => "in",
        Way::Out => "out",
        Way::Again => "once more",
        Way::Spent => "not once more",
        Way::Passed => "passed",
        Way::Failed => "failed",
        Way::Unfinished => "unfinished",
        Way::Referred => "referred",
        Way::Lost => "lost",
    }
}
