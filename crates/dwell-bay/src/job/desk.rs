//! What the screens of a job show beside its session: what came last, why something was not taken, which units are read in.

use super::tools::ToolAsked;
use dwell_quantity::Unit;
use dwell_record::{Event, What};
use dwell_run::shown::units;
use dwell_run::{Answer, Prompt, ReadingPrompt, Session};
use std::collections::{BTreeMap, VecDeque};

/// How many wishes are remembered, so that one that is sent again is done once.
const REMEMBERED: usize = 32;

/// What is shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) enum Showing {
    /// What is asked.
    #[default]
    Asked,
    /// What came of the last answer, before the next thing is asked.
    Came(Vec<Event>),
    /// What to see to first, after a stop.
    MakeSafe(Vec<String>),
}

/// A value that was asked back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Doubted {
    /// The answer.
    pub(crate) answer: Answer,
    /// The value as it was understood.
    pub(crate) words: String,
}

/// Everything beside the session.
#[derive(Default)]
pub(crate) struct Desk {
    /// What is shown.
    pub(crate) showing: Showing,
    /// Why the last wish was not done.
    pub(crate) message: Option<String>,
    /// What was typed when it was not taken, to be put right.
    pub(crate) typed: String,
    /// The value that was asked back.
    pub(crate) doubted: Option<Doubted>,
    /// The reading that was asked for last, whose band is drawn with what came of it.
    pub(crate) read: Option<ReadingPrompt>,
    /// Whether it was to go on before a wait was over.
    pub(crate) hurried: bool,
    /// The tools that are still to be named.
    pub(crate) tools: Vec<ToolAsked>,
    /// The unit that was chosen for each tool and kind.
    chosen: BTreeMap<(Option<String>, &'static str), Unit>,
    /// How often something changed without an event.
    turn: u64,
    /// What was done last, as it was sent.
    done: VecDeque<String>,
}

impl Desk {
    /// Before the first answer: what has to be known to begin with, or since the job was taken up.
    pub(crate) fn first(session: &Session) -> Desk {
        let events = session.events();
        let taken_up = events.iter().rposition(|event| matches!(event.what, What::TakenUp(_)));
        let first = events.get(taken_up.unwrap_or_default()..).unwrap_or_default().to_vec();
        Desk { showing: Showing::Came(first), ..Desk::default() }
    }

    /// The same in the place of another desk, whose units and open tools stay.
    pub(crate) fn after(self, before: Desk) -> Desk {
        Desk { tools: before.tools, chosen: before.chosen, done: before.done, ..self }
    }

    /// The name of this moment. A form that was made for another one answers nothing.
    pub(crate) fn moment(&self, session: &Session) -> String {
        format!("{}.{}", session.events().len(), self.turn)
    }

    /// Something is shown otherwise than before, without an event.
    pub(crate) fn turn(&mut self) {
        self.turn = self.turn.saturating_add(1);
    }

    /// Something happened: nothing of what was typed or doubted before counts.
    pub(crate) fn happened(&mut self, showing: Showing) {
        self.showing = showing;
        self.message = None;
        self.typed.clear();
        self.doubted = None;
        self.hurried = false;
    }

    /// Notes a wish that was done.
    pub(crate) fn was_done(&mut self, sent: String) {
        self.done.push_back(sent);
        if self.done.len() > REMEMBERED {
            self.done.pop_front();
        }
    }

    /// Whether the same wish was done already.
    pub(crate) fn is_done(&self, sent: &str) -> bool {
        self.done.iter().any(|known| known == sent)
    }

    /// The unit in which a reading is typed and shown.
    pub(crate) fn unit(&self, reading: &ReadingPrompt) -> Unit {
        let chosen = self.chosen.get(&(reading.tool.clone(), reading.kind.name()));
        chosen.copied().filter(|unit| unit.measures(reading.kind)).unwrap_or(reading.unit)
    }

    /// The next unit for what is asked, kept for this tool during the job.
    pub(crate) fn other_unit(&mut self, prompt: &Prompt) {
        let Prompt::Reading(reading) = prompt else { return };
        let all = units(reading);
        let now = all.iter().position(|unit| *unit == self.unit(reading)).unwrap_or_default();
        match all.get((now + 1) % all.len().max(1)).filter(|_| all.len() > 1) {
            Some(next) => {
                self.chosen.insert((reading.tool.clone(), reading.kind.name()), *next);
            }
            None => {
                self.message =
                    Some(format!("there is no other unit that is used for this beside {}", reading.unit));
            }
        }
    }
}
