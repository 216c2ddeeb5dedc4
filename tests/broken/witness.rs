//! A finding's way through the procedure is a true one: the runner, given its answers, goes node by node where it says.

use dwell_card::Card;
use dwell_card::graph::Way;
use dwell_check::finding::{Reply, Witness};
use dwell_run::{Answer, Prompt, Session};

use super::table::breaks;
use crate::merle::{Merle, told};

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-04-12T09:05:00+02:00";

/// The rules whose findings are about a way: each of them must show one.
const WALKED: [&str; 13] = [
    "out-unhandled",
    "need-not-met",
    "need-lost",
    "stored-energy",
    "wrong-state",
    "kept-broken",
    "not-restored",
    "no-recheck",
    "stale-reading",
    "as-found-lost",
    "tool-not-connected",
    "caution-missing",
    "caution-late",
];

#[test]
fn the_runner_goes_the_way_that_each_witness_shows() {
    let library = Merle::read();
    let mut walked = 0;
    let mut wrong = Vec::new();
    for case in breaks() {
        let Ok(broken) = case.made_in(&library) else { continue };
        let checked = broken.checked_at(&case.procedure);
        for finding in &checked.findings {
            let Some(witness) = &finding.witness else {
                if WALKED.contains(&finding.rule) && finding.rule == case.rule {
                    wrong.push(format!("{}: no way is shown: {}", case.title(), told(&checked, finding)));
                }
                continue;
            };
            let graph = checked.procedures.iter().find(|compiled| compiled.name == witness.procedure);
            let Some(graph) = graph.and_then(|compiled| compiled.graph.clone()) else {
                wrong.push(format!("{}: a way through nothing: {}", case.title(), told(&checked, finding)));
                continue;
            };
            match walk(graph, witness) {
                Ok(()) => walked += 1,
                Err(why) => {
                    wrong.push(format!(
                        "{}: {}\n    {}\n    {why}",
                        case.title(),
                        told(&checked, finding),
                        witness.says
                    ));
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {} ways are not true:\n{}",
        wrong.len(),
        walked + wrong.len(),
        wrong.join("\n")
    );
    assert!(walked >= WALKED.len() * 3, "only {walked} ways were walked");
}

/// Lets the runner go the way; an error says where it left it.
fn walk(graph: Card, witness: &Witness) -> Result<(), String> {
    if !witness.says.starts_with("This happens") {
        return Err(format!("it is not told in words: {:?}", witness.says));
    }
    let Some(((last, _), before)) = witness.nodes.split_last() else { return Err("it has no nodes".into()) };
    let mut session =
        Session::start(graph, &witness.variants, AT).map_err(|refusal| format!("refused: {refusal}"))?;
    let mut replies = witness.answers.iter();
    while session.trace().len() <= before.len() {
        let prompt = session.ask();
        let answer = match &prompt {
            Prompt::Done { .. } => break,
            _ if witness.nodes[session.trace().len()].1 == Way::Lost => match replies.next() {
                Some(Reply::Lost(_)) => Answer::Lost,
                other => return Err(format!("something is lost here, the way has {other:?}")),
            },
            Prompt::Confirm(_) => Answer::Done,
            _ => match replies.next() {
                Some(reply) => answer(&prompt, reply)?,
                None => break,
            },
        };
        session.answer(answer, AT).map_err(|refusal| format!("refused: {refusal}"))?;
    }
    let gone: Vec<usize> = session.trace().iter().map(|(node, _)| *node).collect();
    for (at, (node, way)) in before.iter().enumerate() {
        match session.trace().get(at) {
            Some(step) if step == &(*node, *way) => {}
            step => {
                return Err(format!(
                    "after {at} nodes it goes {step:?}, not {:?}; gone: {gone:?}",
                    (node, way)
                ));
            }
        }
    }
    let now = gone.get(before.len()).copied().or_else(|| node_of(&session.ask()));
    let over = session.result().is_some() && session.trace().len() == before.len();
    if now == Some(*last) || over {
        Ok(())
    } else {
        Err(format!("it ends at {now:?}, not at {last}; gone: {gone:?}"))
    }
}

/// The node at which a prompt stands.
fn node_of(prompt: &Prompt) -> Option<usize> {
    match prompt {
        Prompt::Confirm(confirm) => Some(confirm.node),
        Prompt::Need { node, .. } => Some(*node),
        Prompt::Reading(reading) => Some(reading.node),
        Prompt::Question(question) => Some(question.node),
        Prompt::Sign(sign) => Some(sign.node),
        Prompt::Done { .. } => None,
    }
}

/// The reply as an answer, where it is one to this prompt.
fn answer(prompt: &Prompt, reply: &Reply) -> Result<Answer, String> {
    match (prompt, reply) {
        (Prompt::Need { .. }, Reply::Need(true)) => Ok(Answer::Yes),
        (Prompt::Need { .. }, Reply::Need(false)) => Ok(Answer::No),
        (Prompt::Reading(asked), Reply::Value { name, number, unit }) if asked.name == *name => {
            Ok(Answer::Value { text: number.clone(), unit: Some(unit.clone()) })
        }
        (Prompt::Reading(asked), Reply::NoReading(name)) if asked.name == *name => Ok(Answer::NoReading),
        (Prompt::Sign(_), Reply::Signature(by)) => Ok(Answer::Signature(by.clone())),
        (Prompt::Question(asked), Reply::Choice(name, choice)) if asked.name == *name => {
            Ok(Answer::Choice(choice.clone()))
        }
        (prompt, reply) => Err(format!("asked for {}, the way has {reply:?}", prompt.wants())),
    }
}
