//! The course of a run in a few words, each with its place in the text: what was decided, and where it ended.

use dwell_check::check::Compiled;
use dwell_check::finding::Place;
use dwell_record::event::Tested;
use dwell_record::{Event, Side, What};

/// How many of the last things are told.
const MOST: usize = 6;

/// One thing that decided where the run went.
pub(crate) struct Told {
    /// The place in the text.
    pub(crate) place: Place,
    /// In words, "charge is 12.1 V, low by 1.7 V".
    pub(crate) words: String,
    /// Whether it was out of band, or ended the procedure.
    pub(crate) grave: bool,
}

/// What decided where the run went, in order.
pub(crate) fn told(events: &[Event], compiled: &Compiled) -> Vec<Told> {
    let mut all = Vec::new();
    for event in events {
        let Some(place) = event.node.and_then(|node| compiled.places.get(node)).copied() else { continue };
        match &event.what {
            What::Answered(answered) => all.push(Told {
                place,
                words: format!("{} is {}", answered.question, answered.answer),
                grave: false,
            }),
            What::Judged(judged) => {
                for tested in &judged.tests {
                    all.push(Told { place, words: of_test(tested), grave: tested.side != Side::In });
                }
            }
            What::Lost(lost) => all.push(Told {
                place,
                words: format!("“{}” is lost", lost.says.trim_end_matches('.')),
                grave: true,
            }),
            What::Ended(ended) => {
                let text = ended
                    .text
                    .as_ref()
                    .map(|text| format!(": “{}”", text.trim_end_matches('.')))
                    .unwrap_or_default();
                let words = format!("it ends {}{text}", ended.outcome.words());
                all.push(Told { place, words, grave: true });
            }
            _ => {}
        }
    }
    // The same value held against the same limit at the next place says nothing new.
    all.dedup_by(|this, before| this.words == before.words);
    all
}

/// One test in words.
fn of_test(tested: &Tested) -> String {
    let value = tested.value.clone().unwrap_or_default();
    let off = tested.off.as_ref().map(|off| format!(" by {off}")).unwrap_or_default();
    let band = tested.band.as_ref().map(|band| format!(" of {band}")).unwrap_or_default();
    match tested.side {
        Side::In if value.is_empty() => format!("{} is so", tested.name),
        Side::In if tested.band.is_none() => format!("{} is so, {value}", tested.name),
        Side::In => format!("{} is {value}, in band", tested.name),
        Side::Low => format!("{} is {value}, low{off}{band}", tested.name),
        Side::High => format!("{} is {value}, high{off}{band}", tested.name),
        Side::NoReading => format!("there is no reading of {} that decides", tested.name),
        Side::Other if value.is_empty() => format!("{} is not so", tested.name),
        Side::Other => format!("{} is not so, {value}", tested.name),
    }
}

/// The last things as one sentence, with the point.
pub(crate) fn sentence(told: &[Told]) -> String {
    let from = told.len().saturating_sub(MOST);
    let last: Vec<&str> = told.iter().skip(from).map(|told| told.words.as_str()).collect();
    let before = if from > 0 { "… " } else { "" };
    match last.as_slice() {
        [] => "On its way nothing is decided.".to_owned(),
        all => format!("Its way: {before}{}.", all.join("; ")),
    }
}
