//! The instrument of the register that gives the reading that is asked for: it is asked while somebody has the job in hand.
//!
//! A single value is shown as it comes, and taken when the technician takes it. A measurement over time is begun by the
//! technician, begins with its first value and ends by itself, or when it is said that it is over.

use super::answering::Act;
use super::desk::Showing;
use super::live::{Live, live};
use super::{Inside, Job};
use crate::bay::{Bay, held};
use crate::clock::now;
use dwell_card::meaning::Value;
use dwell_live::{Live as Instruments, Series};
use dwell_run::shown::is_worth_a_look;
use dwell_run::{Answer, Prompt, ReadingPrompt, Refusal, Session, typed_value};
use dwell_tools::Register;
use std::collections::VecDeque;

/// What comes by itself while a reading is asked for.
pub(super) struct Source {
    instruments: Instruments,
    series: Option<Series>,
    /// Answers of a measurement that are still to be given, one for each reading.
    waiting: VecDeque<Answer>,
}

impl Source {
    /// The instruments of a register.
    pub(super) fn new(tools: Option<&Register>) -> Source {
        // Without a file to follow nothing can fail.
        let instruments = Instruments::new(tools.cloned(), None).unwrap_or_default();
        Source { instruments, series: None, waiting: VecDeque::new() }
    }

    /// Whether an instrument gives the reading that is asked for.
    pub(super) fn gives(&self) -> bool {
        self.instruments.source().is_some() || self.series.is_some()
    }

    /// What was begun is let go.
    pub(super) fn forget(&mut self) {
        if self.series.take().is_some() {
            // Looked at again from the beginning: during a measurement nobody asks beside it.
            self.instruments.let_go();
        }
        self.waiting.clear();
    }

    /// The technician takes the value that is shown, begins a measurement, or says that it is over.
    ///
    /// # Errors
    /// Why there is nothing to take, in words.
    pub(super) fn take(&mut self, session: &Session) -> Result<Option<Answer>, String> {
        match &self.series {
            Some(series) if series.may_end() => self.end(session)?,
            Some(_) => return Err("it ends by itself; Measure anew lets it go".to_owned()),
            None => match self.instruments.series(session) {
                Some(series) => self.series = Some(series),
                None => {
                    let by = self.instruments.source().unwrap_or_default().to_owned();
                    let answer = Box::new(self.instruments.value_shown()?);
                    return Ok(Some(Answer::Shown { by, answer }));
                }
            },
        }
        Ok(None)
    }

    fn end(&mut self, session: &Session) -> Result<(), String> {
        let Some(series) = self.series.take() else { return Ok(()) };
        let shown = |answer| Answer::Shown { by: series.name().to_owned(), answer: Box::new(answer) };
        let answers = series.answers().map(|all| all.into_iter().map(shown).collect());
        drop(series);
        // Also where nothing came: it is looked at again, and can be begun again.
        self.instruments.series_over(session);
        self.waiting = answers?;
        Ok(())
    }

    /// Looks at what has come.
    ///
    /// # Errors
    /// Why a measurement that is over gave nothing, in words.
    fn look(&mut self, session: &Session) -> Result<(), String> {
        match &mut self.series {
            Some(series) => {
                series.look(session);
                if series.is_over() {
                    return self.end(session);
                }
            }
            None => self.instruments.asked(session),
        }
        Ok(())
    }

    /// What the screens show of it; nothing where no instrument gives what is asked for.
    pub(super) fn shown(&mut self, reading: &ReadingPrompt) -> Option<Live> {
        if let Some(series) = &self.series {
            let value =
                series.latest().first().and_then(|(text, unit)| typed_value(text, unit, reading.kind));
            // Before the first value how it stands is the fault already.
            let fault = series.fault().filter(|_| !series.latest().is_empty());
            let fault = fault.map(|fault| format!("; {fault}")).unwrap_or_default();
            return Some(Live {
                name: Some(series.name().to_owned()),
                stands: format!("measuring: {}{fault}", series.stands()),
                measuring: true,
                take: series.may_end().then_some("It is over: take it"),
                ..drawn(value.as_ref(), reading)
            });
        }
        let shown = self.instruments.shown()?;
        let value = shown
            .value
            .as_ref()
            .and_then(|(text, unit)| typed_value(text, unit, reading.kind))
            .filter(|_| shown.fault.is_none());
        let age = if shown.age >= 2 { format!("{} s ago", shown.age) } else { String::new() };
        let take = match &value {
            _ if reading.sampled.is_some() => Some("Begin to measure"),
            Some(Value::Read(_)) => Some("Take what it shows"),
            _ => None,
        };
        Some(Live {
            name: Some(shown.name),
            stands: shown.fault.unwrap_or(age),
            take,
            ..drawn(value.as_ref(), reading)
        })
    }
}

fn drawn(value: Option<&Value>, reading: &ReadingPrompt) -> Live {
    match value {
        Some(value) => live(value, reading),
        None => Live { shown: "nothing yet".to_owned(), ..live(&Value::Missing, reading) },
    }
}

impl Job {
    /// Looks at what an instrument gives for what is asked, shows it, and gives the answers of a measurement that is over.
    pub(crate) fn look_at_instrument(&self, bay: &Bay) {
        let mut guard = held(&self.inside);
        let inside = &mut *guard;
        let Prompt::Reading(reading) = inside.session.ask() else {
            inside.source.forget();
            return inside.source.instruments.let_go();
        };
        if inside.writer.is_none() {
            inside.source.forget();
            return inside.source.instruments.let_go();
        }
        let gave = inside.source.gives();
        if let Err(words) = inside.source.look(&inside.session) {
            inside.desk.message = Some(words);
            inside.desk.turn();
        }
        // While a value is asked back, the others wait.
        if inside.desk.doubted.is_none()
            && let Some(answer) = inside.source.waiting.pop_front()
        {
            self.give(bay, inside, answer);
        } else if let Some(shown) = inside.source.shown(&reading) {
            self.live.send_replace(Some(shown));
        } else if gave {
            self.live.send_replace(None);
        }
        self.tell(inside);
    }

    /// Gives an answer that came by itself.
    fn give(&self, bay: &Bay, inside: &mut Inside, answer: Answer) {
        let at = now();
        let mut next = inside.session.clone();
        match next.answer(answer.clone(), &at) {
            Ok(events) => {
                if let Prompt::Reading(reading) = inside.session.ask() {
                    inside.desk.read = Some(reading);
                }
                let showing = match is_worth_a_look(&events, &next) || next.result().is_some() {
                    true => Showing::Came(events.clone()),
                    false => Showing::Asked,
                };
                if let super::Said::Not(words) = self.keep(bay, inside, next, &events, showing) {
                    inside.source.forget();
                    inside.desk.message = Some(words);
                    inside.desk.turn();
                }
            }
            Err(refusal) => {
                if !matches!(refusal, Refusal::Doubtful { .. }) {
                    inside.source.forget();
                }
                inside.refused(&Act::Answer(answer), &refusal, "");
            }
        }
    }
}
