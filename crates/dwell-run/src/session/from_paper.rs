//! What was noted on a sheet of paper and is typed in later: the time of what is done is the one on the sheet.

use super::Session;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_record::event::FromPaper;
use dwell_record::{Event, What};

impl Session {
    /// What follows is typed in from paper. `at` is the time of what follows, as the sheet says it; who typed it, and when, stands in
    /// the event. What is asked stays as it was.
    ///
    /// # Errors
    /// [`Refusal::Over`], [`Refusal::Time`] also for a moment of typing that is none.
    pub fn from_paper(&mut self, paper: FromPaper, at: &str) -> Result<Vec<Event>, Refusal> {
        if matches!(self.state.prompt, Prompt::Done { .. }) {
            return Err(Refusal::Over);
        }
        if !dwell_record::is_moment(&paper.at) {
            return Err(Refusal::Time(paper.at));
        }
        self.turn(at, |turn| {
            turn.happened(None, What::FromPaper(paper));
            Ok(())
        })
    }
}
