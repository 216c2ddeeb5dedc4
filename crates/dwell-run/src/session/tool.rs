//! Which tools of the workshop are in use: what was taken last for a tool of the card counts.

use super::Session;
use super::turn::Turn;
use super::view::unit_named;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_card::limit::Ability;
use dwell_quantity::Unit;
use dwell_record::event::{Scale, ToolTaken};
use dwell_record::{Event, What};

impl Session {
    /// Notes the tool of the workshop that is used as one of the card, now or instead of another one. What is asked stays
    /// as it was, but for the unit of a setting.
    ///
    /// # Errors
    /// [`Refusal::NoSuchTool`], [`Refusal::Over`], [`Refusal::Time`].
    pub fn take_tool(&mut self, taken: ToolTaken, at: &str) -> Result<Vec<Event>, Refusal> {
        if matches!(self.state.prompt, Prompt::Done { .. }) {
            return Err(Refusal::Over);
        }
        if !self.card.tools.iter().any(|tool| tool.name == taken.tool) {
            let known = self.card.tools.iter().map(|tool| tool.name.clone()).collect();
            return Err(Refusal::NoSuchTool { given: taken.tool, known });
        }
        self.turn(at, |turn| {
            turn.happened(None, What::ToolTaken(Box::new(taken)));
            turn.set_anew();
            Ok(())
        })
    }

    /// The tools that are in use, the last one for each tool of the card.
    pub fn tools_taken(&self) -> Vec<&ToolTaken> {
        self.card.tools.iter().filter_map(|tool| last(self.events.iter(), &tool.name)).collect()
    }
}

/// The last that was taken for a tool of the card.
fn last<'e>(events: impl DoubleEndedIterator<Item = &'e Event>, name: &str) -> Option<&'e ToolTaken> {
    events.rev().find_map(|event| match &event.what {
        What::ToolTaken(taken) if taken.tool == name => Some(taken.as_ref()),
        _ => None,
    })
}

impl Turn<'_> {
    /// What is in use as a tool of the card.
    fn taken(&self, tool: usize) -> Option<&ToolTaken> {
        let name = &self.card.tools.get(tool)?.name;
        last(self.before.iter().chain(&self.events), name)
    }

    /// The number of the tool that is in use.
    pub(super) fn tool_number(&self, tool: usize) -> Option<String> {
        self.taken(tool).map(|taken| taken.number.clone())
    }

    /// The unit and the decimals in which a tool is set: those of its own scale, where it is known which one is in use.
    pub(super) fn scale(&self, tool: usize, ability: &Ability) -> Option<(Unit, Option<u32>)> {
        let own = self.taken(tool).and_then(|taken| {
            let scale: &Scale = taken.scales.iter().find(|scale| scale.kind == ability.kind)?;
            Some((unit_named(&scale.unit)?, Some(scale.decimals)))
        });
        own.or_else(|| Some((unit_named(&ability.unit)?, None)))
    }
}
