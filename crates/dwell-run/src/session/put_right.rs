//! A value of a job that is over is put right: the job is gone through once more with the right value, and what is decided is compared.

use super::Session;
use super::resume::{Given, give, given};
use crate::answer::Answer;
use crate::by_hand::by_hand;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_card::Card;
use dwell_record::event::{By, Measured, PutRight, Tested};
use dwell_record::{Event, What};

/// What is put right, by whom and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Right {
    /// The number of the event with the value that was noted wrong.
    pub event: u64,
    /// The right value as typed, one for each that was typed then; with its unit, where that is not the one that was asked for.
    pub values: Vec<String>,
    /// Whether they are meant although they look like a slip.
    pub kept: bool,
    /// Who says so.
    pub by: By,
    /// Why.
    pub why: String,
}

/// The event that puts a value right, to stand behind the last one of a job that is over. The job is decided anew from that value
/// on, with all that was answered then; as soon as it goes on another way than it did, nobody can say how it comes out.
///
/// # Errors
/// [`Refusal::NotOver`], [`Refusal::NoReadingThere`], [`Refusal::CountsNoMore`], [`Refusal::NotOneByOne`], [`Refusal::NoReason`],
/// [`Refusal::NoPerson`], and whatever is refused of a value that is typed.
pub fn put_right(card: Card, events: &[Event], right: Right, at: &str) -> Result<Event, Refusal> {
    let end =
        events.iter().position(|event| matches!(event.what, What::Finished(_))).ok_or(Refusal::NotOver)?;
    let job = events.get(..=end).unwrap_or_default();
    if right.why.trim().is_empty() {
        return Err(Refusal::NoReason);
    }
    if right.by.person.is_none() {
        return Err(Refusal::NoPerson);
    }
    let there = Refusal::NoReadingThere { seq: right.event };
    let place = job.iter().position(|event| event.seq == right.event).ok_or_else(|| there.clone())?;
    let Some(What::Measured(was)) = job.get(place).map(|event| &event.what) else { return Err(there) };
    let later = job.get(place..).unwrap_or_default();
    if later.iter().any(|event| opens(event, right.event)) {
        return Err(Refusal::CountsNoMore { seq: right.event });
    }
    let from = first(job, place, was);
    let one_by_one = place - from + usize::from(from == place) >= was.samples.len() && was.sampled.is_none();
    if !one_by_one || was.samples.len() != right.values.len() {
        return Err(Refusal::NotOneByOne { typed: was.samples.len(), given: right.values.len() });
    }
    let before = job.get(..from).unwrap_or_default();
    let mut old = Session::resume(card, before)?;
    let mut new = old.clone();
    let time = job.get(place).map(|event| event.at.clone()).unwrap_or_default();
    for value in &right.values {
        let Prompt::Reading(asked) = new.ask() else { return Err(there) };
        let unit = asked.unit.symbol();
        let unit = (!unit.is_empty()).then(|| unit.to_owned());
        let answer = Answer::Value { text: by_hand(value, asked.decimals)?, unit };
        let answer = if right.kept { Answer::Kept(Box::new(answer)) } else { answer };
        new.answer(answer, &time)?;
    }
    while old.events.len() <= place {
        step(&mut old, job).map_err(|()| Refusal::AnotherCourse { seq: right.event })?;
    }
    let mut same = old.trace == new.trace;
    while same && old.result().is_none() {
        let Some(event) = job.get(old.events.len()) else { break };
        let Some(answer) = given(event) else { break };
        // What goes back to an event by its number means another one where the numbers have shifted.
        let shifted = old.events.len() != new.events.len();
        if shifted && matches!(answer, Given::WentBack(_) | Given::Corrected(_)) {
            same = false;
            break;
        }
        step(&mut old, job).map_err(|()| Refusal::AnotherCourse { seq: event.seq })?;
        same = give(&mut new, answer, &event.at).is_ok() && old.trace == new.trace;
    }
    let now = new.events.iter().skip(before.len()).find_map(|event| match &event.what {
        What::Measured(now) if now.reading == was.reading => Some(Measured::clone(now)),
        _ => None,
    });
    let (decided, decides) = differing(&tests(&old, place), &tests(&new, from), was);
    let what = PutRight {
        event: right.event,
        reading: was.reading.clone(),
        was: was.shown.clone(),
        now: Box::new(now.ok_or(there)?),
        decided,
        decides,
        result: new.result().filter(|_| same),
        by: right.by,
        why: right.why.trim().to_owned(),
    };
    if !dwell_record::is_moment(at) {
        return Err(Refusal::Time(at.to_owned()));
    }
    let seq = events.last().map_or(0, |last| last.seq).saturating_add(1);
    Ok(Event { seq, at: at.to_owned(), node: None, what: What::PutRight(Box::new(what)) })
}

/// Whether an event opened an earlier one again.
fn opens(event: &Event, seq: u64) -> bool {
    match &event.what {
        What::WentBack(back) => back.to <= seq,
        What::Corrected(wrong) => wrong.to <= seq,
        _ => false,
    }
}

/// The place of the first event with which the value at a place was typed.
fn first(job: &[Event], place: usize, was: &Measured) -> usize {
    let mut from = place;
    let own = |at: usize| matches!(job.get(at).map(|event| &event.what), Some(What::Sampled(one)) if one.reading == was.reading);
    while from > 0 && place - from < was.samples.len() && own(from - 1) {
        from -= 1;
    }
    from
}

/// Gives the next answer of the record.
fn step(session: &mut Session, job: &[Event]) -> Result<(), ()> {
    let event = job.get(session.events.len()).ok_or(())?;
    give(session, given(event).ok_or(())?, &event.at).map_err(drop)
}

/// All tests behind a place.
fn tests(session: &Session, place: usize) -> Vec<Tested> {
    let judged = session.events.iter().skip(place).filter_map(|event| match &event.what {
        What::Judged(judged) => Some(judged.tests.clone()),
        _ => None,
    });
    judged.flatten().collect()
}

/// The tests of the value itself, and all others that come out otherwise; as far as both went the same way they stand in the same order.
fn differing(old: &[Tested], new: &[Tested], was: &Measured) -> (Vec<Tested>, Vec<Tested>) {
    let pairs = old.iter().zip(new).filter(|(old, new)| {
        old.reading == new.reading && (old != new || old.reading.as_ref() == Some(&was.reading))
    });
    pairs.map(|(old, new)| (old.clone(), new.clone())).unzip()
}
