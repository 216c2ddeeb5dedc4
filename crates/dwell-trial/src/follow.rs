//! A way followed by the runner: it is given the answers, and must go node by node where the way says.

use crate::trial::node_of;
use dwell_card::Card;
use dwell_card::graph::Way;
use dwell_check::finding::{Reply, Witness};
use dwell_run::{Answer, Prompt, Session};

/// A run that was to follow a way.
pub(crate) struct Followed {
    /// The session, as far as it came.
    pub(crate) session: Session,
    /// How many nodes of the way it went.
    pub(crate) nodes: usize,
    /// For each answer that it took its place on the way.
    pub(crate) at: Vec<usize>,
    /// Why it went no further along the way; none where it went all of it, to its end.
    pub(crate) left: Option<String>,
}

/// Lets a session that has just begun follow these nodes with these answers. The last node of the way is not left.
pub(crate) fn follow(mut session: Session, way: &[(usize, Way)], answers: &[Reply], at: &str) -> Followed {
    let before = way.get(..way.len().saturating_sub(1)).unwrap_or_default();
    let mut taken: Vec<usize> = Vec::new();
    let left = loop {
        let nodes = session.trace().iter().zip(before).take_while(|(gone, wanted)| gone == wanted).count();
        if nodes < session.trace().len() {
            let gone = session.trace().get(nodes);
            let arrived = gone.is_some_and(|(node, _)| way.get(nodes).is_some_and(|(last, _)| last == node));
            if nodes == before.len() && arrived {
                break None;
            }
            break Some(match (gone, before.get(nodes)) {
                (Some((node, way)), Some((wanted, on))) if node == wanted => {
                    format!("at node {node} it goes on as {way:?} and not as {on:?}")
                }
                (Some((node, _)), Some((wanted, _))) => {
                    format!("it comes to node {node} and not to {wanted}")
                }
                _ => "it goes on where the way ends".to_owned(),
            });
        }
        let prompt = session.ask();
        if matches!(prompt, Prompt::Done { .. }) {
            break (nodes < before.len()).then(|| "it ends before the way does".to_owned());
        }
        if nodes == before.len() {
            let is_last = way.last().map(|(node, _)| *node) == node_of(&prompt);
            break (!is_last).then(|| "it asks for more where the way ends".to_owned());
        }
        let is_lost = before.get(nodes).is_some_and(|(_, way)| *way == Way::Lost);
        let answer = match &prompt {
            Prompt::Confirm(_) if !is_lost => Ok(Answer::Done),
            _ => match answers.get(taken.len()) {
                Some(reply) => {
                    taken.push(nodes);
                    answer(&prompt, reply)
                }
                None => Err(format!("no answer is left for {}", prompt.wants())),
            },
        };
        match answer.and_then(|answer| session.answer(answer, at).map_err(|why| format!("refused: {why}"))) {
            Ok(_) => {}
            Err(why) => break Some(why),
        }
    };
    let nodes = session.trace().iter().zip(before).take_while(|(gone, wanted)| gone == wanted).count();
    Followed { session, nodes, at: taken, left }
}

/// Lets the runner go the way of a witness, with its answers, up to its last node.
///
/// # Errors
/// A sentence that says where the runner left it.
pub fn goes(card: Card, witness: &Witness, at: &str) -> Result<(), String> {
    let begun = Session::start(card, &witness.variants, at).map_err(|why| format!("refused: {why}"))?;
    match follow(begun, &witness.nodes, &witness.answers, at).left {
        None => Ok(()),
        Some(why) => Err(why),
    }
}

/// The reply as an answer, where it is one to this prompt.
fn answer(prompt: &Prompt, reply: &Reply) -> Result<Answer, String> {
    match (prompt, reply) {
        (_, Reply::Lost(_)) => Ok(Answer::Lost),
        (Prompt::Need { .. }, Reply::Need { holds: true, .. }) => Ok(Answer::Yes),
        (Prompt::Need { .. }, Reply::Need { holds: false, .. }) => Ok(Answer::No),
        (Prompt::Reading(asked), Reply::Value { name, number, unit }) if asked.name == *name => {
            let value = Answer::Value { text: number.clone(), unit: Some(unit.clone()) };
            // A way is thought out: its values may lie anywhere.
            Ok(Answer::Kept(Box::new(value)))
        }
        (Prompt::Reading(asked), Reply::NoReading(name)) if asked.name == *name => Ok(Answer::NoReading),
        (Prompt::Sign(_), Reply::Signature(by)) => Ok(Answer::Signature(by.clone())),
        (Prompt::Question(asked), Reply::Choice(name, choice)) if asked.name == *name => {
            Ok(Answer::Choice(choice.clone()))
        }
        (prompt, reply) => Err(format!("it asks for {}, and the way has {reply:?}", prompt.wants())),
    }
}
