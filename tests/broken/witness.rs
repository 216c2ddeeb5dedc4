//! A finding's way through the procedure is a true one: the runner, given its answers, goes node by node where it says.

use dwell_card::Card;
use dwell_check::finding::Witness;

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
    if witness.nodes.is_empty() {
        return Err("it has no nodes".into());
    }
    dwell_trial::goes(graph, witness, AT)
}
