//! A job as it is at one moment, for a page: taken at once, so that what is shown belongs together.

use super::desk::{Doubted, Showing};
use super::tools::ToolAsked;
use super::writer::Holder;
use super::{Job, live};
use crate::bay::held;
use crate::clock::now;
use crate::device::Device;
use crate::form::plain;
use dwell_quantity::Unit;
use dwell_run::shown::understood;
use dwell_run::{Prompt, ReadingPrompt, Session};
use dwell_store::JobNumber;

/// A job at one moment, as one device sees it.
pub(crate) struct Look {
    /// Its number.
    pub(crate) number: JobNumber,
    /// The session.
    pub(crate) session: Session,
    /// What is asked.
    pub(crate) prompt: Prompt,
    /// The name of the moment.
    pub(crate) moment: String,
    /// What is shown.
    pub(crate) showing: Showing,
    /// Why the last wish was not done.
    pub(crate) message: Option<String>,
    /// What was typed then.
    pub(crate) typed: String,
    /// The value that was asked back.
    pub(crate) doubted: Option<Doubted>,
    /// The reading that was asked for last.
    pub(crate) read: Option<ReadingPrompt>,
    /// Whether it was to go on before a wait was over.
    pub(crate) hurried: bool,
    /// The tool that is to be named first.
    pub(crate) tool: Option<ToolAsked>,
    /// The unit in which the reading is typed, where one is asked for.
    pub(crate) unit: Option<Unit>,
    /// Who writes.
    pub(crate) holder: Holder,
    /// What an instrument sends.
    pub(crate) live: Option<live::Live>,
    /// When this was.
    pub(crate) at: String,
}

impl Job {
    /// The job as it is now.
    pub(crate) fn look(&self, device: &Device) -> Look {
        let inside = held(&self.inside);
        let desk = &inside.desk;
        let prompt = inside.session.ask();
        let unit = match &prompt {
            Prompt::Reading(reading) => Some(desk.unit(reading)),
            _ => None,
        };
        Look {
            number: self.number,
            moment: desk.moment(&inside.session),
            showing: desk.showing.clone(),
            message: desk.message.clone(),
            typed: desk.typed.clone(),
            doubted: desk.doubted.clone(),
            read: desk.read.clone(),
            hurried: desk.hurried,
            tool: desk.tools.first().cloned(),
            holder: inside.holder(device),
            live: self.live.borrow().clone(),
            at: now(),
            session: inside.session.clone(),
            prompt,
            unit,
        }
    }

    /// What a text would be taken as, where it is not letter by letter what is typed; or why it would not be taken.
    pub(crate) fn understood(&self, text: &str) -> String {
        let inside = held(&self.inside);
        let Prompt::Reading(reading) = inside.session.ask() else { return String::new() };
        if plain(text).is_empty() {
            return String::new();
        }
        match inside.typed(&reading, text) {
            Ok(answer) => understood(text, &answer, &reading).unwrap_or_default(),
            Err(refusal) => refusal.to_string(),
        }
    }
}
