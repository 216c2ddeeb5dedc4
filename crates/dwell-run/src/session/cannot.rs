//! "Cannot, because …": what is asked cannot be done or read, and the reason stands in the record.

use super::turn::Turn;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_card::graph::{Act, Outcome, Way};
use dwell_record::What;
use dwell_record::event::Cannot;

impl Turn<'_> {
    /// Ends the work unfinished and goes to what is put back. There, only the thing at hand is passed over: it stays open, and
    /// the rest is still put back.
    pub(super) fn cannot(&mut self, prompt: &Prompt, why: &str) -> Result<(), Refusal> {
        let why = why.split_whitespace().collect::<Vec<_>>().join(" ");
        if !why.chars().any(char::is_alphanumeric) {
            return Err(Refusal::NoReason);
        }
        let node = self.node()?;
        let says = match prompt {
            Prompt::Confirm(confirm) => confirm.says.clone(),
            Prompt::Need { says, .. } => says.clone(),
            Prompt::Reading(reading) => reading.says.clone(),
            Prompt::Question(question) => question.text.clone(),
            Prompt::Sign(sign) => sign.title.clone(),
            Prompt::Done { .. } => return Err(Refusal::Over),
        };
        let restoring = self.state.frames.get(node.frame).is_some_and(|frame| frame.restoring);
        if restoring && matches!(node.act, Act::Ask { .. }) {
            return Err(Refusal::NotAsked { wanted: prompt.wants() });
        }
        self.happened(Some(self.state.at), What::Cannot(Cannot { says, why }));
        if !restoring {
            self.state.stopped = true;
            return self.abandon(node.frame).map(drop);
        }
        if let Some(frame) = self.state.frames.get_mut(node.frame) {
            frame.outcome = Some(Outcome::Unfinished);
        }
        self.state.signed.clear();
        match (&node.act, prompt) {
            (Act::Measure(_), Prompt::Reading(reading)) if reading.sampled.is_none() => {
                self.nothing_read(reading)
            }
            (Act::Measure(_), Prompt::Reading(reading)) => self.sampled(reading, crate::Answer::NoReading),
            (Act::Need { .. }, _) => self.take(Way::No),
            _ => self.take(Way::Then),
        }
    }
}
