//! `dwell records watch`: what somebody else does at a job, as it is written.

use crate::commands::kept::{self, Kept, device, moment, number};
use crate::commands::run::Telling;
use crate::exit::Exit;
use crate::screen::{Ink, Screen};
use clap::Args;
use dwell_card::Card;
use dwell_record::{What, read_line};
use dwell_store::{JobNumber, Records, Sqlite};
use std::thread::sleep;
use std::time::Duration;

/// How often it is looked whether there is something new.
const EVERY: Duration = Duration::from_millis(500);

/// Watch a job that somebody has open, until it is over; nothing can be typed.
#[derive(Debug, Args)]
pub(super) struct Watch {
    /// The number of the job
    #[arg(value_name = "JOB", value_parser = number)]
    job: JobNumber,
    #[command(flatten)]
    kept: Kept,
}

impl Watch {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let store = Sqlite::look(&self.kept.path()?).map_err(kept::said)?;
        let card = Card::from_json(&store.card(self.job).map_err(kept::said)?)?;
        let mut telling = Telling::new(&card, false);
        let mut seen = 0;
        let mut nobody = false;
        loop {
            let mut over = false;
            for line in store.lines(self.job, seen).map_err(kept::said)? {
                let event = read_line(&line, usize::try_from(seen).unwrap_or(usize::MAX).saturating_add(1))?;
                seen = event.seq;
                over |= matches!(event.what, What::Finished(_));
                telling.tell(screen, std::slice::from_ref(&event))?;
                nobody = false;
            }
            let job = store.job(self.job, device().as_deref()).map_err(kept::said)?;
            if over {
                let result = job.result.unwrap_or_default().to_uppercase();
                screen.line(&format!("\nResult: {}", screen.style.ink(Ink::Bold, &result)))?;
                return Ok(Exit::Well);
            }
            if job.held.as_ref().is_none_or(|held| held.gone) && !nobody {
                nobody = true;
                let words = format!("  nobody has it open; the last event is of {}", moment(&job.last));
                screen.line(&screen.style.ink(Ink::Faint, &words))?;
            }
            screen.flush()?;
            if screen.is_gone() {
                return Ok(Exit::Well);
            }
            sleep(EVERY);
        }
    }
}
