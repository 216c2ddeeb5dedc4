//! Going on where a record ends: its answers are given again, and must lead to the same events.

use super::{Session, Start, Written};
use crate::answer::{Answer, GivenSample};
use crate::refusal::Refusal;
use dwell_card::Card;
use dwell_record::event::{Corrected, FromPaper, PhotoTaken, Sample, TakenUp, ToolTaken, WentBack};
use dwell_record::{Event, What};
use std::sync::Arc;

/// What a recorded event answered.
pub(super) enum Given {
    Answer(Answer, Option<String>),
    Stop(String),
    TakenUp(TakenUp),
    WentBack(WentBack),
    Corrected(Corrected),
    ToolTaken(ToolTaken),
    FromPaper(FromPaper),
    PhotoTaken(PhotoTaken),
}

pub(super) fn resume(card: Card, events: &[Event]) -> Result<Session, Refusal> {
    let Some((Event { what: What::Begun(begun), at, .. }, _)) = events.split_first() else {
        return Err(Refusal::AnotherCourse { seq: events.first().map_or(1, |event| event.seq) });
    };
    let at_hand = card.sha256().map_err(|error| Refusal::BrokenCard(error.to_string()))?;
    if begun.card != at_hand {
        return Err(Refusal::AnotherCard { recorded: begun.card.clone(), at_hand });
    }
    let variants: Vec<(String, String)> =
        begun.variants.iter().map(|(axis, value)| (axis.clone(), value.clone())).collect();
    let start = Start { vehicle: begun.vehicle.clone(), by: begun.by.clone() };
    let written = Written { program: begun.program.clone(), format: begun.format };
    let mut session = Session::begin(Arc::new(card), &variants, start, written, at, None)?;
    same(&session, events, 0)?;
    while let Some(event) = events.get(session.events.len()) {
        let known = session.events.len();
        let elsewhere = Refusal::AnotherCourse { seq: event.seq };
        if matches!(event.what, What::PutRight(_)) && session.result().is_some() {
            // It stands behind the end, and nothing is asked any more.
            session.events.push(event.clone());
            continue;
        }
        let answer = given(event).ok_or_else(|| elsewhere.clone())?;
        give(&mut session, answer, &event.at).map_err(|_| elsewhere)?;
        same(&session, events, known)?;
    }
    Ok(session)
}

/// Gives an answer of a record again.
pub(super) fn give(session: &mut Session, answer: Given, at: &str) -> Result<(), Refusal> {
    match answer {
        Given::Answer(answer, source) => session.answer_again(answer, source, at).map(drop),
        Given::Stop(why) => session.stop(&why, at).map(drop),
        Given::PhotoTaken(photo) => session.note_photo(photo, at).map(drop),
        Given::TakenUp(taken) => session.take_up(taken.by, taken.how, at).map(drop),
        Given::WentBack(back) => session.go_back(back.to, back.by, &back.why, at).map(drop),
        Given::ToolTaken(taken) => session.take_tool(taken, at).map(drop),
        Given::FromPaper(paper) => session.from_paper(paper, at).map(drop),
        Given::Corrected(wrong) => session.correct(wrong.to, wrong.by, &wrong.why, at).map(drop),
    }
}

/// Whether the events from `known` on are those of the record, as far as it goes.
fn same(session: &Session, events: &[Event], known: usize) -> Result<(), Refusal> {
    let pairs = session.events.iter().zip(events).skip(known);
    match pairs.into_iter().find(|(ours, theirs)| ours != theirs) {
        Some((_, theirs)) => Err(Refusal::AnotherCourse { seq: theirs.seq }),
        None => Ok(()),
    }
}

/// Samples as they were given.
fn listed(samples: &[Sample], times: &[String]) -> Vec<GivenSample> {
    let all = samples.iter().enumerate();
    all.map(|(place, sample)| {
        let (text, unit, kept) = match sample {
            Sample::Typed { text, unit, kept } => (text.clone(), Some(unit.clone()), *kept),
            Sample::NoReading => ("no reading".to_owned(), None, false),
        };
        GivenSample { time: times.get(place).cloned(), text, unit, kept }
    })
    .collect()
}

/// What an event of a record answered; none where it answered nothing.
pub(super) fn given(event: &Event) -> Option<Given> {
    let sample = |sample: &Sample| match sample {
        Sample::Typed { text, unit, kept } => {
            let value = Answer::Value { text: text.clone(), unit: Some(unit.clone()) };
            if *kept { Answer::Kept(Box::new(value)) } else { value }
        }
        Sample::NoReading => Answer::NoReading,
    };
    let answer = match &event.what {
        What::NeedAnswered(told) if told.asked => {
            if told.holds {
                Answer::Yes
            } else {
                Answer::No
            }
        }
        What::Done(_) => Answer::Done,
        What::Sampled(sampled) => sample(&sampled.sample),
        What::SeriesTaken(series) => Answer::Samples(listed(&series.samples, &series.times)),
        What::Measured(measured) => match measured.samples.as_slice() {
            [one] if measured.times.is_empty() => sample(one),
            all => Answer::Samples(listed(all, &measured.times)),
        },
        What::Lost(lost) if lost.told => Answer::Lost,
        What::Signed(signed) => Answer::Signature(signed.by.clone()),
        What::Answered(answered) => Answer::Choice(answered.answer.clone()),
        What::Cannot(cannot) => Answer::Cannot(cannot.why.clone()),
        What::Stopped(why) => return Some(Given::Stop(why.text.clone())),
        What::TakenUp(taken) => return Some(Given::TakenUp(TakenUp::clone(taken))),
        What::WentBack(back) => return Some(Given::WentBack(back.clone())),
        What::ToolTaken(taken) => return Some(Given::ToolTaken(ToolTaken::clone(taken))),
        What::FromPaper(paper) => return Some(Given::FromPaper(paper.clone())),
        What::PhotoTaken(photo) => return Some(Given::PhotoTaken(photo.clone())),
        What::Corrected(wrong) => return Some(Given::Corrected(Corrected::clone(wrong))),
        _ => return None,
    };
    let source = match &event.what {
        What::Sampled(sampled) => &sampled.source,
        What::SeriesTaken(series) => &series.source,
        What::Measured(measured) => &measured.source,
        _ => &None,
    };
    Some(Given::Answer(answer, source.clone()))
}
