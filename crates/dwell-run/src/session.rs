//! A session: one card at one vehicle, from its first prompt to its result.

mod asking;
mod cannot;
mod caution;
mod choosing;
mod decision;
mod doubt;
mod flow;
mod from_paper;
mod going_back;
mod holding;
mod located;
mod measuring;
mod photo;
mod put_right;
mod reply;
mod resume;
mod sampling;
mod sound;
mod spoken;
mod state;
mod taking_up;
mod tool;
mod turn;
mod view;
mod watched;

use crate::answer::Answer;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_card::Card;
use dwell_card::graph::Way;
use dwell_record::event::{Begun, By, Revision};
use dwell_record::{Event, Outcome, Report, Vehicle, What};
use going_back::Past;
pub use going_back::Place;
pub use holding::Keeping;
pub use put_right::{Right, put_right};
use state::State;
use std::sync::Arc;
use turn::{Belief, Turn};
pub use watched::{Came, Moment};

/// The program, as a record names it.
const PROGRAM: &str = concat!("dwell ", env!("CARGO_PKG_VERSION"));

/// What a job begins with, beside the card and the variants.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Start {
    /// The vehicle, where its number is known.
    pub vehicle: Option<Vehicle>,
    /// Who begins it, and on which device.
    pub by: By,
}

/// By which program a record is written, in which format.
struct Written {
    program: String,
    format: u32,
}

impl Default for Written {
    fn default() -> Written {
        Written { program: PROGRAM.to_owned(), format: dwell_record::FORMAT }
    }
}

/// One card at one vehicle. It is a pure function of the card, the variants and the answers with their times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    card: Arc<Card>,
    chosen: Vec<usize>,
    state: Arc<State>,
    /// Before each answer: what was so, to go back to.
    past: Vec<Past>,
    events: Vec<Event>,
    trace: Vec<(usize, Way)>,
    /// What was so after each node, where somebody wants to know.
    moments: Option<Vec<Moment>>,
}

impl Session {
    /// Begins. Every variant of the card must be given, as name and value, unless only one value applies. `at` is the time,
    /// as RFC 3339 writes it. What happened before the first prompt stands in [`Session::events`].
    ///
    /// # Errors
    /// A [`Refusal`] for a variant that is missing, unknown or not applied to, for a time that is none, for a broken card.
    pub fn start(card: Card, variants: &[(String, String)], at: &str) -> Result<Session, Refusal> {
        Session::start_with(card, variants, Start::default(), at)
    }

    /// Begins with what is known of the vehicle and of who works at it; everything else as [`Session::start`].
    ///
    /// # Errors
    /// As [`Session::start`].
    pub fn start_with(
        card: Card,
        variants: &[(String, String)],
        start: Start,
        at: &str,
    ) -> Result<Session, Refusal> {
        Session::begin(Arc::new(card), variants, start, Written::default(), at, None)
    }

    fn begin(
        card: Arc<Card>,
        variants: &[(String, String)],
        start: Start,
        written: Written,
        at: &str,
        moments: Option<Vec<Moment>>,
    ) -> Result<Session, Refusal> {
        sound::sound(&card)?;
        in_force(&card, at)?;
        let chosen = chosen(&card, variants)?;
        let hash = card.sha256().map_err(|error| Refusal::BrokenCard(error.to_string()))?;
        let begun = Begun {
            format: written.format,
            card: hash,
            procedure: card.procedure.clone(),
            title: card.title.clone(),
            revision: card.revision.as_ref().map(|r| Revision { number: r.number, date: r.date.clone() }),
            vehicle: start.vehicle,
            variants: named(&card, &chosen),
            guarded: card.guarded,
            by: start.by,
            program: written.program,
        };
        let state = Arc::new(State::first(&card));
        let (past, events, trace) = (Vec::new(), Vec::new(), Vec::new());
        let mut session = Session { card, chosen, state, past, events, trace, moments };
        session.turn(at, |turn| {
            turn.happened(None, What::Begun(begun));
            let text = turn.card.notice.clone();
            turn.happened(None, What::NoticeShown(dwell_record::event::Words { text }));
            turn.advance()
        })?;
        Ok(session)
    }

    /// What is asked now.
    pub fn ask(&self) -> Prompt {
        self.state.prompt.clone()
    }

    /// Answers what is asked. `at` is the time, as RFC 3339 writes it. What happened comes back; a refusal changes nothing.
    ///
    /// # Errors
    /// A [`Refusal`] with the reason in words for the person who answered.
    pub fn answer(&mut self, answer: Answer, at: &str) -> Result<Vec<Event>, Refusal> {
        let (mut answer, mut source, mut belief) = (answer, None, Belief::Ask);
        let answer = loop {
            answer = match answer {
                Answer::Shown { by, answer } => {
                    source = Some(by);
                    *answer
                }
                Answer::Kept(answer) => {
                    belief = Belief::Keep;
                    *answer
                }
                other => break other,
            };
        };
        self.believe(answer, source, belief, at)
    }

    /// The same for an answer of a record: it was believed then.
    fn answer_again(
        &mut self,
        answer: Answer,
        source: Option<String>,
        at: &str,
    ) -> Result<Vec<Event>, Refusal> {
        self.believe(answer, source, Belief::Recorded, at)
    }

    fn believe(
        &mut self,
        answer: Answer,
        source: Option<String>,
        belief: Belief,
        at: &str,
    ) -> Result<Vec<Event>, Refusal> {
        let asked = self.past_here();
        let ends = matches!(answer, Answer::Cannot(_));
        let (events, hands) = self.turn_with(at, |turn| {
            (turn.belief, turn.source) = (belief, source);
            turn.reply(answer)
        })?;
        self.past.extend(asked.map(|asked| Past { hands, ..asked }));
        if ends {
            // As after a stop: what is put back goes on from here.
            self.past.clear();
        }
        Ok(events)
    }

    /// STOP: the outcome is unfinished, and what is owed is put back, the same as on every other way out.
    ///
    /// # Errors
    /// [`Refusal::Over`] where nothing is left to stop, [`Refusal::Time`], [`Refusal::BrokenCard`].
    pub fn stop(&mut self, why: &str, at: &str) -> Result<Vec<Event>, Refusal> {
        let events = self.turn(at, |turn| turn.stop(why))?;
        // What is put back after a stop goes on from there: nobody goes back before it.
        self.past.clear();
        Ok(events)
    }

    /// Goes on where a record ends, with the same card. What the card does after the last event of the record without being
    /// asked again is in [`Session::events`] behind them: a record cut off there is complete again when they are added.
    ///
    /// # Errors
    /// A [`Refusal`] where the record was begun with another card, or is not what the card does with its answers.
    pub fn resume(card: Card, events: &[Event]) -> Result<Session, Refusal> {
        resume::resume(card, events)
    }

    /// All that happened so far.
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// The nodes that were executed, each with the way taken from it.
    pub fn trace(&self) -> &[(usize, Way)] {
        &self.trace
    }

    /// For each variant of the card the place of its value.
    pub fn chosen(&self) -> &[usize] {
        &self.chosen
    }

    /// How it came out; none while it goes on.
    pub fn result(&self) -> Option<Outcome> {
        match &self.state.prompt {
            Prompt::Done { result } => Some(*result),
            _ => None,
        }
    }

    /// The card.
    pub fn card(&self) -> &Card {
        &self.card
    }

    /// Why the card is not in force any more at a time: it, what it performs, or a limit was withdrawn. A job that has begun may
    /// be gone on with all the same, so that a vehicle is not left open; who does so has to know.
    pub fn out_of_force(&self, at: &str) -> Option<Refusal> {
        in_force(&self.card, at).err()
    }

    /// What the events come to so far.
    pub fn report(&self) -> Report {
        Report::of(&self.events)
    }

    /// What this job changed and has not put back, "The belt guard is removed": to be shown whenever work is interrupted.
    pub fn open(&self) -> Vec<String> {
        self.state.left_open(&self.card)
    }

    /// What has to be seen whenever work is interrupted, in the order in which it is put back: what this job changed, and what
    /// it knows to be in a state with a hazard: running, hot, under pressure, live.
    pub fn at_hand(&self) -> Vec<String> {
        self.state.at_hand(&self.card)
    }

    /// For a wait that counts from something done before: when that was done, as RFC 3339 writes it.
    pub fn counts_from(&self) -> Option<&str> {
        let Prompt::Confirm(confirm) = &self.state.prompt else { return None };
        let since = confirm.since.as_ref()?.to_lowercase();
        let done = self.events.iter().rev().find(|event| match &event.what {
            What::Done(done) => is_done_by(&since, &done.says.to_lowercase()),
            _ => false,
        });
        done.map(|event| event.at.as_str())
    }

    /// What is held just now, innermost last. While it is not empty, every prompt may be answered with
    /// [`Answer::Lost`]: the last one is lost.
    pub fn keeping(&self) -> Vec<Keeping> {
        let view = view::View { card: &self.card, chosen: &self.chosen, state: &self.state };
        let holds = self.state.holds.iter().filter_map(|at| match &self.card.nodes.get(*at)?.act {
            dwell_card::graph::Act::Hold(hold) => Some(hold),
            _ => None,
        });
        holds
            .map(|hold| Keeping {
                name: hold.name.clone(),
                place: hold.at.clone(),
                says: hold.says.clone(),
                text: view.spoken_if(hold.text.as_ref()),
            })
            .collect()
    }

    /// Does one thing on a copy, and keeps it only where nothing was refused.
    fn turn(
        &mut self,
        at: &str,
        go: impl FnOnce(&mut Turn<'_>) -> Result<(), Refusal>,
    ) -> Result<Vec<Event>, Refusal> {
        self.turn_with(at, go).map(|(events, _)| events)
    }

    /// The same; the slots that were changed at the vehicle come back too.
    fn turn_with(
        &mut self,
        at: &str,
        go: impl FnOnce(&mut Turn<'_>) -> Result<(), Refusal>,
    ) -> Result<(Vec<Event>, Vec<usize>), Refusal> {
        if !dwell_record::is_moment(at) {
            return Err(Refusal::Time(at.to_owned()));
        }
        let last = self.trace.last().copied();
        let mut turn = Turn {
            card: &self.card,
            chosen: &self.chosen,
            state: State::clone(&self.state),
            before: &self.events,
            belief: Belief::Ask,
            source: None,
            events: Vec::new(),
            trace: Vec::new(),
            moments: self.moments.is_some().then(Vec::new),
            came: Vec::new(),
            hands: Vec::new(),
            last,
            at: at.to_owned(),
        };
        go(&mut turn)?;
        let Turn { state, events, trace, moments, hands, .. } = turn;
        if let (Some(known), Some(more)) = (&mut self.moments, moments) {
            known.extend(more);
        }
        self.state = Arc::new(state);
        self.trace.extend(trace);
        self.events.extend(events.iter().cloned());
        Ok((events, hands))
    }
}

/// Whether "starting the engine" is done by "start the engine."
fn is_done_by(since: &str, says: &str) -> bool {
    let (Some((gerund, thing)), Some((verb, rest))) = (since.split_once(' '), says.split_once(' ')) else {
        return false;
    };
    // "remove" is "removing": the last letter may fall.
    let stem: String = verb.chars().take(verb.chars().count().saturating_sub(1)).collect();
    gerund.starts_with(&stem) && rest.starts_with(thing)
}

/// Refuses a card that is withdrawn on the day of a time, or needs a limit or a procedure that is. The day is the one at the
/// place where the time was taken.
fn in_force(card: &Card, at: &str) -> Result<(), Refusal> {
    if !dwell_record::is_moment(at) {
        return Err(Refusal::Time(at.to_owned()));
    }
    let day = at.get(..10).unwrap_or_default();
    let own = card.withdrawn.iter().map(|known| (format!("the procedure `{}`", card.procedure), known));
    let performed = card.frames.iter().filter_map(|frame| {
        Some((format!("the procedure `{}`, which it performs,", frame.procedure), frame.withdrawn.as_ref()?))
    });
    let limits = card.limits.iter().filter_map(|limit| {
        Some((format!("the limit `{}`, which it needs,", limit.name), limit.withdrawn.as_ref()?))
    });
    match own.chain(performed).chain(limits).find(|(_, known)| known.by(day)) {
        None => Ok(()),
        Some((what, known)) => Err(Refusal::Withdrawn { what, on: known.on.clone(), why: known.why.clone() }),
    }
}

/// For each variant of the card the place of its value.
fn chosen(card: &Card, variants: &[(String, String)]) -> Result<Vec<usize>, Refusal> {
    if let Some((axis, _)) =
        variants.iter().find(|(axis, _)| !card.axes.iter().any(|known| known.name == *axis))
    {
        let known = card.axes.iter().map(|known| known.name.clone()).collect();
        return Err(Refusal::NoSuchVariant { axis: axis.clone(), known });
    }
    card.axes
        .iter()
        .map(|axis| {
            let mut given = variants.iter().filter(|(name, _)| *name == axis.name).map(|(_, value)| value);
            let missing = || Refusal::VariantMissing { axis: axis.name.clone(), values: axis.values.clone() };
            let Some(value) = given.next() else {
                return if axis.values.len() == 1 { Ok(0) } else { Err(missing()) };
            };
            if given.any(|other| other != value) {
                return Err(Refusal::VariantTwice { axis: axis.name.clone() });
            }
            axis.values.iter().position(|known| known == value).ok_or_else(|| Refusal::DoesNotApply {
                procedure: card.procedure.clone(),
                axis: axis.name.clone(),
                value: value.clone(),
                values: axis.values.clone(),
            })
        })
        .collect()
}

fn named(card: &Card, chosen: &[usize]) -> std::collections::BTreeMap<String, String> {
    let value = |(axis, place): (&dwell_card::Axis, &usize)| {
        Some((axis.name.clone(), axis.values.get(*place)?.clone()))
    };
    card.axes.iter().zip(chosen).filter_map(value).collect()
}
