//! A run by itself: readings and answers come from rows, everything else is confirmed.

use crate::answer::{Answer, GivenSample};
use crate::prompt::{Prompt, ReadingPrompt};
use crate::refusal::Refusal;
use crate::session::{Keeping, Session};
use dwell_quantity::Decimal;
use dwell_record::{Event, Outcome};

/// The name of a row that stops the run: its value is the reason. Names of readings have no capitals, so it is none of them.
pub const STOP: &str = "STOP";

/// The name of a row that signs: its value is the name of the person. It is the name of no reading, for the same reason.
pub const SIGNATURE: &str = "SIGNATURE";

/// The value of a row that says that what it names, while it is held, is lost.
pub const LOST: &str = "lost";

/// One row: a reading, an answer, whether a need holds, or a STOP.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// The name of the reading, of the question, or of the item that a need is about.
    pub name: String,
    /// The place, for one of a row.
    pub place: Option<String>,
    /// The value: a number, `no reading`, an answer, `yes` or `no`.
    pub value: String,
    /// The unit of a number.
    pub unit: Option<String>,
    /// For a need: the state that it is about, where the thing is needed in several; a row without one answers all of them.
    pub state: Option<String>,
    /// For a sample: seconds since the measurement began.
    pub time: Option<String>,
    /// For one of a list that was written as one measurement: the number of the list.
    pub list: Option<usize>,
    /// Whether the value is kept although it looks like a slip.
    pub kept: bool,
}

/// Rows, each given once, in their order among those of the same name and place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rows {
    rows: Vec<(Row, bool)>,
    sign: bool,
}

impl Rows {
    /// These rows.
    pub fn new(rows: Vec<Row>) -> Rows {
        Rows { rows: rows.into_iter().map(|row| (row, false)).collect(), sign: false }
    }

    /// The same rows for a trial, in which nobody is there to sign: whatever has to be signed is signed by "first person"
    /// and "second person".
    pub fn signing(self) -> Rows {
        Rows { sign: true, ..self }
    }

    /// The places of the rows that were not asked for.
    pub fn left_over(&self) -> Vec<usize> {
        let unused = self.rows.iter().enumerate().filter(|(_, (_, used))| !used);
        unused.map(|(place, _)| place).collect()
    }

    /// The place of the next row of this name before the next STOP. A row without a place serves every place.
    fn place_of(&self, name: &str, at: Option<&str>) -> Option<usize> {
        self.first(name, at, |_| true)
    }

    /// The same, of the rows that fit.
    fn first(&self, name: &str, at: Option<&str>, fits: impl Fn(&Row) -> bool) -> Option<usize> {
        let fits =
            |row: &Row| row.name == name && (row.place.is_none() || row.place.as_deref() == at) && fits(row);
        let open = |(row, used): &&(Row, bool)| *used || row.name != STOP;
        let rows = self.rows.iter().take_while(open);
        rows.enumerate()
            .find(|(_, (row, used))| !*used && row.name != STOP && fits(row))
            .map(|(place, _)| place)
    }

    /// The next row of this name, which is then used.
    fn next(&mut self, name: &str, at: Option<&str>) -> Option<(usize, Row)> {
        let place = self.place_of(name, at)?;
        Some((place, self.used(place)?))
    }

    fn used(&mut self, place: usize) -> Option<Row> {
        let (row, used) = self.rows.get_mut(place)?;
        *used = true;
        Some(row.clone())
    }

    /// The next row about a thing that is needed; one that says that the thing is lost later is none.
    fn of_a_need(&mut self, item: &str, at: Option<&str>, states: &[String]) -> Option<(usize, Row)> {
        let about = |row: &Row| row.state.as_ref().is_none_or(|state| states.contains(state));
        let place = self.first(item, at, about)?;
        let is_lost = self.rows.get(place).is_some_and(|(row, _)| row.value.trim() == LOST);
        if is_lost { None } else { Some((place, self.used(place)?)) }
    }

    /// The row that says that what is held innermost is lost, where its turn has come: nothing above it that is not used
    /// answers what is asked, and for something to be done, nothing above it is left at all.
    fn lost(&mut self, held: Option<&Keeping>, prompt: &Prompt) -> Option<usize> {
        let held = held?;
        let says = |row: &Row| {
            row.name == held.name
                && row.value.trim() == LOST
                && (row.place.is_none() || row.place == held.place)
        };
        let at = self.rows.iter().position(|(row, used)| !used && says(row))?;
        let comes_first = |row: &Row| match prompt {
            Prompt::Reading(reading) => {
                row.name == reading.name && (row.place.is_none() || row.place == reading.place)
            }
            Prompt::Question(question) => row.name == question.name,
            Prompt::Sign(_) => row.name == SIGNATURE,
            Prompt::Confirm(_) | Prompt::Need { .. } | Prompt::Done { .. } => true,
        };
        let above = self.rows.iter().take(at).filter(|(_, used)| !used);
        let waits = above.into_iter().any(|(row, _)| row.name == STOP || comes_first(row));
        let (_, used) = self.rows.get_mut(at).filter(|_| !waits)?;
        *used = true;
        Some(at)
    }

    /// The rows of a sampled measurement: with times as long as these rise, of a list all, otherwise as many as are wanted.
    fn samples(&mut self, name: &str, at: Option<&str>, wanted: usize) -> Option<(Answer, Option<usize>)> {
        let (place, first) = self.next(name, at)?;
        let mut all = vec![first];
        while let Some((next, _)) = self.place_of(name, at).and_then(|place| self.rows.get(place)) {
            let goes_on = match all.last() {
                Some(last) if last.list.is_some() => next.list == last.list,
                Some(last) if last.time.is_some() => later(last, next),
                _ => all.len() < wanted && next.time.is_none() && next.list.is_none(),
            };
            if !goes_on || next.value.trim() == LOST {
                break;
            }
            all.extend(self.next(name, at).map(|(_, row)| row));
        }
        let kept = self.sign || all.iter().any(|row| row.kept);
        let sample = |row: Row| GivenSample { time: row.time, text: row.value, unit: row.unit, kept: false };
        let samples = Answer::Samples(all.into_iter().map(sample).collect());
        Some((if kept { Answer::Kept(Box::new(samples)) } else { samples }, Some(place)))
    }

    /// Why the technician stops here: a STOP row comes before any row that answers what is asked.
    fn stop(&mut self) -> Option<String> {
        let (row, used) = self.rows.iter_mut().find(|(row, used)| !*used && row.name == STOP)?;
        *used = true;
        Some(row.value.clone())
    }

    /// The answer to a prompt, with the place of the row that it came from.
    fn answer(&mut self, prompt: &Prompt) -> Option<(Answer, Option<usize>)> {
        match prompt {
            Prompt::Confirm(_) => Some((Answer::Done, None)),
            Prompt::Need { item, place, states, .. } => {
                Some(match self.of_a_need(item, place.as_deref(), states) {
                    Some((at, row)) => (yes_or_no(&row.value), Some(at)),
                    None => (Answer::Yes, None),
                })
            }
            Prompt::Reading(ReadingPrompt { sampled: Some(sampled), name, place, .. }) => {
                let wanted = sampled.given.unwrap_or(sampled.least);
                self.samples(name, place.as_deref(), usize::try_from(wanted).unwrap_or(usize::MAX))
            }
            Prompt::Reading(reading) => {
                let (at, row) = self.next(&reading.name, reading.place.as_deref())?;
                // In a trial values are thought out, and may lie anywhere.
                let kept = self.sign || row.kept;
                let value = Answer::Value { text: row.value, unit: row.unit };
                Some((if kept { Answer::Kept(Box::new(value)) } else { value }, Some(at)))
            }
            Prompt::Question(question) => {
                let (at, row) = self.next(&question.name, None)?;
                Some((Answer::Choice(row.value), Some(at)))
            }
            Prompt::Sign(sign) if self.sign => {
                let person = if sign.person > 1 { "second person" } else { "first person" };
                Some((Answer::Signature(person.to_owned()), None))
            }
            Prompt::Sign(sign) => {
                let (at, row) = self.next(SIGNATURE, Some(&sign.step))?;
                Some((Answer::Signature(row.value), Some(at)))
            }
            Prompt::Done { .. } => None,
        }
    }
}

/// Whether a row is a later sample than another; what is no number of seconds is handed on, to be refused.
fn later(before: &Row, row: &Row) -> bool {
    let seconds = |row: &Row| row.time.as_deref().and_then(|time| Decimal::parse(time).ok());
    match (seconds(before), seconds(row)) {
        (Some(before), Some(now)) => now.value > before.value,
        _ => row.time.is_some(),
    }
}

/// Anything but yes and no is handed on, to be refused with what is wanted.
fn yes_or_no(value: &str) -> Answer {
    match value.trim() {
        "yes" => Answer::Yes,
        "no" => Answer::No,
        other => Answer::Choice(other.to_owned()),
    }
}

/// Why a run stopped before its end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Halt {
    /// Something was asked that no row answers.
    Missing {
        /// What was asked.
        prompt: Box<Prompt>,
    },
    /// A row was refused.
    Refused {
        /// What was asked.
        prompt: Box<Prompt>,
        /// The place of the row, from 0; none where the refusal is not about a row.
        row: Option<usize>,
        /// Why.
        refusal: Refusal,
    },
}

impl std::fmt::Display for Halt {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Halt::Missing { prompt } => match prompt.as_ref() {
                Prompt::Reading(reading) => {
                    let at = reading.place.as_ref().map(|place| format!(" at {place}")).unwrap_or_default();
                    write!(
                        out,
                        "there is no row left for the reading `{}`{at}: {}",
                        reading.name, reading.says
                    )
                }
                Prompt::Question(question) => {
                    write!(
                        out,
                        "there is no row left for the question `{}`: {}",
                        question.name, question.text
                    )
                }
                Prompt::Sign(sign) => write!(
                    out,
                    "there is no row left for the signature{} of `{}`: add `{SIGNATURE},NAME,` with the name of the person \
                     who signs",
                    if sign.person > 1 { " of a second person" } else { "" },
                    sign.step
                ),
                _ => write!(out, "there is no row left for what is asked"),
            },
            Halt::Refused { refusal, .. } => refusal.fmt(out),
        }
    }
}

impl std::error::Error for Halt {}

/// One prompt of a run with the answer given and what happened then.
#[derive(Clone, Copy, Debug)]
pub struct Driven<'a> {
    /// What was asked.
    pub prompt: &'a Prompt,
    /// What was answered; none where the technician stopped.
    pub answer: Option<&'a Answer>,
    /// What happened.
    pub events: &'a [Event],
}

/// Runs a session to its end: work, waits and notes are confirmed, needs hold unless a row says no, readings and questions
/// come from the rows, signatures too. Where the rows before a row named [`STOP`] do not answer what is asked, the technician stops. `now` gives the time of each answer, `seen` is told of each.
///
/// # Errors
/// [`Halt`] where a row is missing or refused; the session then stands at the prompt that was not answered.
pub fn drive(
    session: &mut Session,
    rows: &mut Rows,
    now: &mut dyn FnMut() -> String,
    seen: &mut dyn FnMut(Driven<'_>),
) -> Result<Outcome, Halt> {
    loop {
        let prompt = session.ask();
        if let Prompt::Done { result } = prompt {
            return Ok(result);
        }
        let lost = rows.lost(session.keeping().last(), &prompt).map(|at| (Answer::Lost, Some(at)));
        let Some((answer, row)) = lost.or_else(|| rows.answer(&prompt)) else {
            let Some(why) = rows.stop() else { return Err(Halt::Missing { prompt: Box::new(prompt) }) };
            match session.stop(&why, &now()) {
                Ok(events) => seen(Driven { prompt: &prompt, answer: None, events: &events }),
                Err(refusal) => return Err(Halt::Refused { prompt: Box::new(prompt), row: None, refusal }),
            }
            continue;
        };
        match session.answer(answer.clone(), &now()) {
            Ok(events) => seen(Driven { prompt: &prompt, answer: Some(&answer), events: &events }),
            Err(refusal) => return Err(Halt::Refused { prompt: Box::new(prompt), row, refusal }),
        }
    }
}
