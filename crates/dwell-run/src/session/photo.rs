//! Photos: noted at the place where the job stands; nothing is decided by them.

use super::Session;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_record::event::PhotoTaken;
use dwell_record::{Event, What};

impl Session {
    /// Notes a photo, at the place that asks now. What is asked stays as it was.
    ///
    /// # Errors
    /// [`Refusal::Over`], [`Refusal::Time`].
    pub fn note_photo(&mut self, photo: PhotoTaken, at: &str) -> Result<Vec<Event>, Refusal> {
        if matches!(self.state.prompt, Prompt::Done { .. }) {
            return Err(Refusal::Over);
        }
        self.turn(at, |turn| {
            turn.happened(Some(turn.state.at), What::PhotoTaken(photo));
            Ok(())
        })
    }
}
