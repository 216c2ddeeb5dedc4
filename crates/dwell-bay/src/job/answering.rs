//! A wish of a device: done at most once, recorded before anybody is told, or refused with the reason.

use super::desk::{Doubted, Showing};
use super::writer::Holder;
use super::{Inside, Job};
use crate::bay::{Bay, held};
use crate::clock::now;
use crate::device::Device;
use crate::form::{Wish, plain};
use dwell_record::Event;
use dwell_record::event::Taking;
use dwell_run::shown::{Waiting, is_worth_a_look};
use dwell_run::{Answer, Prompt, ReadingPrompt, Refusal, Session, by_hand};
use dwell_store::{Records, StoreError, Trouble as Stored};

/// What became of a wish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Said {
    /// It was done, and is on the disk where it had to be.
    Done,
    /// It was not done; the words are for the one who sent it.
    Not(String),
}

/// What a wish comes to.
pub(super) enum Act {
    Answer(Answer),
    Stop(String),
    Back(u64, String),
    Correct(u64, String),
    /// Nothing of the session; the screen is otherwise.
    Shown,
}

impl Job {
    /// Does what a device wishes. It blocks until that is on the disk.
    pub(crate) fn wish(&self, bay: &Bay, device: &Device, wish: &Wish) -> Said {
        let mut inside = held(&self.inside);
        let sent = format!("{} {wish:?}", device.key);
        if inside.desk.is_done(&sent) {
            return Said::Done;
        }
        match inside.holder(device) {
            Holder::You => {}
            Holder::Other(who) => {
                return Said::Not(format!("not taken: {who} writes this job now. You see what is done"));
            }
            Holder::Nobody => return Said::Not("not taken: take the job in hand first".to_owned()),
        }
        if wish.moment != inside.desk.moment(&inside.session) {
            return Said::Not(
                "not taken: it was meant for a question that is not asked any more. Look at what is asked now"
                    .to_owned(),
            );
        }
        let said = self.done(bay, &mut inside, wish);
        if said == Said::Done {
            inside.desk.was_done(sent);
        }
        self.tell(&inside);
        said
    }

    fn done(&self, bay: &Bay, inside: &mut Inside, wish: &Wish) -> Said {
        let at = now();
        let act = match self.act(bay, inside, wish, &at) {
            Ok(act) => act,
            Err(words) => {
                inside.desk.message = Some(words);
                inside.desk.typed = wish.text.clone();
                inside.desk.turn();
                return Said::Done;
            }
        };
        if matches!(act, Act::Answer(_)) && inside.session.paused(&at).is_some() {
            return self.taken_up_first(bay, inside, &wish.text, &at);
        }
        let stops = matches!(act, Act::Stop(_) | Act::Answer(Answer::Cannot(_)));
        let by = inside.session.by();
        let mut next = inside.session.clone();
        let came = match act {
            Act::Shown => {
                inside.desk.turn();
                return Said::Done;
            }
            Act::Answer(ref answer) => next.answer(answer.clone(), &at),
            Act::Stop(ref why) => next.stop(why, &at),
            Act::Back(to, ref why) => next.go_back(to, by, why, &at),
            Act::Correct(to, ref why) => next.correct(to, by, why, &at),
        };
        match came {
            Ok(events) => {
                // A value that was asked back belongs to what is being measured; after anything else that counts no more.
                if wish.act != "keep" {
                    inside.source.forget();
                }
                if let Prompt::Reading(reading) = inside.session.ask() {
                    inside.desk.read = Some(reading);
                }
                let showing = match is_worth_a_look(&events, &next) || next.result().is_some() {
                    _ if stops => Showing::MakeSafe(next.at_hand()),
                    true => Showing::Came(events.clone()),
                    false => Showing::Asked,
                };
                self.keep(bay, inside, next, &events, showing)
            }
            Err(refusal) => {
                inside.refused(&act, &refusal, &wish.text);
                Said::Done
            }
        }
    }

    /// Has events on the disk, and only then goes on from them.
    pub(super) fn keep(
        &self,
        bay: &Bay,
        inside: &mut Inside,
        next: Session,
        events: &[Event],
        showing: Showing,
    ) -> Said {
        let Some(writer) = &mut inside.writer else { return Said::Not("nobody has this job in hand".into()) };
        if let Err(error) = bay.store().append(&mut writer.writing, events) {
            if matches!(error.trouble, Stored::TakenOver { .. }) {
                inside.writer = None;
            }
            return Said::Not(not_stored(&error));
        }
        let asked = inside.session.ask();
        inside.session = next;
        inside.desk.happened(showing);
        inside.samples.was_taken(&asked, &inside.session.ask());
        self.live.send_replace(None);
        if inside.session.result().is_some()
            && let Some(writer) = inside.writer.take()
        {
            // Nothing more is written here: whoever puts a value right later need not ask.
            let _ = bay.store().let_go(writer.writing);
        }
        Said::Done
    }

    /// After so long an interruption it is seen first what is open and what has run out; what was typed stays.
    fn taken_up_first(&self, bay: &Bay, inside: &mut Inside, typed: &str, at: &str) -> Said {
        let mut next = inside.session.clone();
        match next.take_up(inside.session.by(), Taking::GoneOn, at) {
            Ok(events) => {
                let said = self.keep(bay, inside, next, &events, Showing::Came(events.clone()));
                inside.desk.typed = typed.to_owned();
                inside.desk.message = Some(
                    "nothing was answered for a long time: look at this first, then answer again".to_owned(),
                );
                said
            }
            Err(refusal) => Said::Not(refusal.to_string()),
        }
    }

    fn act(&self, bay: &Bay, inside: &mut Inside, wish: &Wish, at: &str) -> Result<Act, String> {
        let prompt = inside.session.ask();
        let text = wish.text.trim();
        let event = || wish.to.trim().parse::<u64>().map_err(|_| "choose one of the answers".to_owned());
        Ok(match (wish.act.as_str(), &prompt) {
            ("go-on", _) => {
                inside.desk.showing = Showing::Asked;
                inside.desk.message = None;
                Act::Shown
            }
            ("unit", _) => {
                inside.desk.message = None;
                inside.desk.typed = wish.text.clone();
                inside.desk.other_unit(&prompt);
                Act::Shown
            }
            ("tool", _) => {
                self.tool(bay, inside, wish, at)?;
                Act::Shown
            }
            ("no-tool", _) => {
                inside.desk.tools.retain(|tool| tool.name != wish.name);
                inside.desk.message = None;
                Act::Shown
            }
            ("hand-over", _) => {
                let name = plain(&wish.name);
                if name.is_empty() {
                    return Err("give the name of who goes on".to_owned());
                }
                self.hand_over(bay, inside, &name).map_err(|error| error.to_string())?;
                Act::Shown
            }
            ("stop", _) if text.is_empty() => Act::Stop("stopped at the vehicle".to_owned()),
            ("stop", _) => Act::Stop(text.to_owned()),
            ("cannot", _) => Act::Answer(Answer::Cannot(text.to_owned())),
            ("back", _) => Act::Back(event()?, wish.why.clone()),
            ("correct", _) => Act::Correct(event()?, wish.why.clone()),
            ("lost", _) => Act::Answer(Answer::Lost),
            ("done", Prompt::Confirm(_)) => {
                let waits = Waiting::of(&inside.session).is_some_and(|waiting| waiting.left(at) > 0);
                if waits && !inside.desk.hurried {
                    inside.desk.hurried = true;
                    return Err("the time is not over: tap once more to go on before it is".to_owned());
                }
                Act::Answer(Answer::Done)
            }
            ("yes", Prompt::Need { .. }) => Act::Answer(Answer::Yes),
            ("no", Prompt::Need { .. }) => Act::Answer(Answer::No),
            ("choice", Prompt::Question(_)) => Act::Answer(Answer::Choice(text.to_owned())),
            ("sign", Prompt::Sign(_)) => Act::Answer(Answer::Signature(plain(&wish.name))),
            ("no-reading", Prompt::Reading(_)) => Act::Answer(Answer::NoReading),
            ("live", Prompt::Reading(reading)) if inside.source.gives() => {
                inside.desk.message = None;
                let taken = inside.source.take(&inside.session)?;
                self.live.send_replace(inside.source.shown(reading));
                taken.map_or(Act::Shown, Act::Answer)
            }
            ("live", Prompt::Reading(reading)) => {
                let answer = Box::new(inside.samples.answer(reading)?);
                Act::Answer(Answer::Shown { by: "an instrument in the bay".to_owned(), answer })
            }
            ("anew", Prompt::Reading(_)) => {
                inside.samples.clear();
                inside.source.forget();
                inside.desk.message = None;
                self.live.send_replace(None);
                Act::Shown
            }
            ("keep", Prompt::Reading(_)) => match inside.desk.doubted.take() {
                Some(doubted) => Act::Answer(Answer::Kept(Box::new(doubted.answer))),
                None => return Err("nothing was asked back".to_owned()),
            },
            ("value", Prompt::Reading(reading)) => inside.value(reading, &wish.text)?,
            _ => return Err(format!("that does not answer what is asked: give {}", prompt.wants())),
        })
    }
}

impl Inside {
    /// What is typed, as an answer in the unit that is shown.
    pub(super) fn typed(&self, reading: &ReadingPrompt, text: &str) -> Result<Answer, Refusal> {
        let unit = self.desk.unit(reading).symbol();
        let text = by_hand(text.trim(), reading.decimals)?;
        Ok(Answer::Value { text, unit: (!unit.is_empty()).then(|| unit.to_owned()) })
    }

    fn value(&mut self, reading: &ReadingPrompt, text: &str) -> Result<Act, String> {
        if text.trim().is_empty() {
            return Err(format!("nothing is typed: give {}", Prompt::Reading(reading.clone()).wants()));
        }
        let answer = self.typed(reading, text).map_err(|refusal| refusal.to_string())?;
        // The same once more, after it was asked back: it is meant.
        let again = self.desk.doubted.as_ref().is_some_and(|doubted| doubted.answer == answer);
        Ok(Act::Answer(if again { Answer::Kept(Box::new(answer)) } else { answer }))
    }

    pub(super) fn refused(&mut self, act: &Act, refusal: &Refusal, typed: &str) {
        self.desk.turn();
        self.desk.message = Some(refusal.to_string());
        self.desk.typed = typed.to_owned();
        self.desk.doubted = match (refusal, act) {
            (Refusal::Doubtful { value, .. }, Act::Answer(answer)) => {
                self.desk.typed.clear();
                Some(Doubted { answer: answer.clone(), words: value.clone() })
            }
            _ => None,
        };
    }
}

/// What has to be done by a person whose last answer is on no disk.
fn not_stored(error: &StoreError) -> String {
    match &error.trouble {
        Stored::TakenOver { .. } => {
            format!("the last answer was not stored: {error}. Tell whoever goes on what you did last")
        }
        _ => format!(
            "the last answer was not stored: {error}. Note it by hand; when the disk of the workshop's machine is well again, \
             give it once more"
        ),
    }
}
