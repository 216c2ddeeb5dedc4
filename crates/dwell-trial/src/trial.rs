//! One case carried out on the card of its procedure, and what is wrong where it does not end as it says.

use crate::said::Said;
use crate::told::{Told, sentence, told};
use dwell_card::Card;
use dwell_check::check::Compiled;
use dwell_check::finding::{Finding, Place};
use dwell_check::rules::case_fails::{CaseFailure, finding};
use dwell_record::Outcome;
use dwell_run::{Halt, Prompt, Rows, Session, drive};
use dwell_syntax::tree::Case;

/// The most places that a finding points to beside its own.
const MOST_RELATED: usize = 3;

/// A case that was carried out.
pub(crate) struct Trial {
    /// The session as far as it came; none where it could not begin.
    pub(crate) session: Option<Session>,
    /// What is wrong; none where the case ends as it says.
    pub(crate) failure: Option<Finding>,
}

/// Carries a case out. `at` is the time that counts for it, as RFC 3339 writes it.
pub(crate) fn tried(case: &Case, compiled: &Compiled, card: &Card, at: &str) -> Trial {
    let said = Said::of(case, compiled.file, card);
    let title = Place { file: compiled.file, span: case.title.span };
    let failed = |place: Place, way: &[Told], failure: CaseFailure| {
        let grave = way.iter().filter(|told| told.grave);
        let related: Vec<(Place, String)> = grave.map(|told| (told.place, told.words.clone())).collect();
        let from = related.len().saturating_sub(MOST_RELATED);
        let related = related.into_iter().skip(from).collect();
        finding(place, &case.title.text, &failure, &sentence(way), related)
    };
    let mut session = match Session::start_watched(card.clone(), &said.variants, at) {
        Ok(session) => session,
        Err(refusal) => {
            let place = said.variant_places.first().copied().unwrap_or(title);
            let failure = CaseFailure::CannotBegin(refusal.to_string());
            return Trial { session: None, failure: Some(failed(place, &[], failure)) };
        }
    };
    let mut rows = Rows::new(said.rows.clone()).signing();
    let driven = drive(&mut session, &mut rows, &mut || at.to_owned(), &mut |_| ());
    let way = told(session.events(), compiled);
    let place_of = |row: usize| said.places.get(row).copied().unwrap_or(title);
    let failure = match driven {
        Err(Halt::Missing { prompt }) => {
            let (name, says, example) = wanted(&prompt);
            let place = said.last_of(&name).unwrap_or(title);
            let asked = node_of(&prompt).and_then(|node| compiled.places.get(node)).copied();
            let is_more = said.last_of(&name).is_some();
            Some((place, CaseFailure::Missing { name, says, example, asked, is_more }))
        }
        Err(Halt::Refused { row, refusal, prompt }) => {
            let asked = node_of(&prompt).and_then(|node| compiled.places.get(node)).copied();
            let place = row.map_or(title, place_of);
            Some((place, CaseFailure::Refused { why: refusal.to_string(), asked }))
        }
        Ok(outcome) => {
            let unasked: Vec<Place> = rows.left_over().into_iter().map(place_of).collect();
            let came = ends(outcome);
            match &case.ends {
                Some(promised) if promised.text != came => {
                    let place = Place { file: compiled.file, span: promised.span };
                    let promised = promised.text.clone();
                    Some((place, CaseFailure::Ends { promised, came: came.to_owned(), unasked }))
                }
                _ => unasked.first().copied().map(|first| {
                    let more = unasked.iter().copied().skip(1).collect();
                    (first, CaseFailure::Unasked { came: came.to_owned(), more })
                }),
            }
        }
    };
    let failure = failure.map(|(place, failure)| failed(place, &way, failure));
    Trial { session: Some(session), failure }
}

/// The word with which a case says an outcome: what was adjusted and passed has passed.
pub(crate) fn ends(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Passed | Outcome::AdjustedAndPassed => "passed",
        other => other.words(),
    }
}

/// The name that is asked for, the instruction, and how an entry of a case answers it.
fn wanted(prompt: &Prompt) -> (String, String, String) {
    match prompt {
        Prompt::Reading(reading) => {
            let example = format!("{} … {}", reading.name, reading.unit.symbol());
            (reading.name.clone(), reading.says.clone(), example.trim_end().to_owned())
        }
        Prompt::Question(question) => {
            let answer = question.values.first().map_or("…", String::as_str);
            (question.name.clone(), question.text.clone(), format!("{} {answer}", question.name))
        }
        other => (String::new(), other.wants(), String::new()),
    }
}

/// The node at which a prompt stands.
pub(crate) fn node_of(prompt: &Prompt) -> Option<usize> {
    match prompt {
        Prompt::Confirm(confirm) => Some(confirm.node),
        Prompt::Need { node, .. } => Some(*node),
        Prompt::Reading(reading) => Some(reading.node),
        Prompt::Question(question) => Some(question.node),
        Prompt::Sign(sign) => Some(sign.node),
        Prompt::Done { .. } => None,
    }
}
