//! `dwell records correct`: a value of a job that is over was noted wrong.

use crate::commands::kept::{self, Kept, Person, number};
use crate::commands::run::now;
use crate::drawing::visible;
use crate::exit::Exit;
use crate::screen::{Screen, wrapped};
use anyhow::{anyhow, bail};
use clap::Args;
use dwell_card::Card;
use dwell_record::{Event, What};
use dwell_run::{Refusal, Right, put_right};
use dwell_store::{JobNumber, Records, Sqlite};

/// Put a value right that was noted wrong in a job that is over.
///
/// The record stays as it is; behind its end it is noted what the value should have been, who says so and why, and what is decided
/// by it: both verdicts are shown from then on. The job is gone through once more with the right value and all the other answers;
/// where it would have gone on another way, nobody can say how it comes out, and that is said. Each value is put right by itself.
/// The last hash of the record is another one then: the one noted before still stands in its chain.
///
/// Exit status: 0 put right; 2 it was refused, or something could not be read or written.
#[derive(Debug, Args)]
pub(super) struct Correct {
    /// The number of the job
    #[arg(value_name = "JOB", value_parser = number)]
    job: JobNumber,
    /// The number of the event with the value, as `dwell records show JOB --events` has it
    #[arg(long, value_name = "NUMBER")]
    event: Option<u64>,
    /// The right value as it would have been typed; once for each value of a measurement that was read several times
    #[arg(long = "value", value_name = "VALUE", allow_hyphen_values = true)]
    values: Vec<String>,
    /// Why
    #[arg(long, value_name = "REASON")]
    because: Option<String>,
    /// The value is meant, although it was asked back as a slip
    #[arg(long)]
    meant: bool,
    #[command(flatten)]
    kept: Kept,
    #[command(flatten)]
    person: Person,
}

impl Correct {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let path = self.kept.path()?;
        drop(Sqlite::look(&path).map_err(kept::said)?);
        let mut store = Sqlite::open(&path).map_err(kept::said)?;
        let record = store.record(self.job).map_err(kept::said)?;
        let values = measured(&record.events);
        let Some(event) = self.event.filter(|_| !self.values.is_empty()) else {
            bail!(
                "say which value, and the right one: `--event NUMBER --value VALUE`\n  help: job {} has\n{}",
                self.job,
                values.join("\n")
            );
        };
        let by = self.person.by();
        let right = Right {
            event,
            values: self.values.clone(),
            kept: self.meant,
            by: by.clone(),
            why: self.because.clone().unwrap_or_default(),
        };
        let card = Card::from_json(&store.card(self.job).map_err(kept::said)?)?;
        let at = now()?;
        let event =
            put_right(card, &record.events, right, &at).map_err(|refusal| refused(&refusal, &values))?;
        let (mut writing, _) = store.take(self.job, &by, &at, false).map_err(kept::said)?;
        let stored = store.append(&mut writing, std::slice::from_ref(&event));
        let last = writing.chain().last().clone();
        store.let_go(writing).map_err(kept::said)?;
        stored.map_err(kept::said)?;
        for line in wrapped("", 2, &visible(&event.words())) {
            screen.line(&line)?;
        }
        screen.line(&format!("\nrecord: job {}, event {}\n  hash {last}", self.job, event.seq))?;
        Ok(Exit::Well)
    }
}

/// The values of a job, a line each.
fn measured(events: &[Event]) -> Vec<String> {
    let one = |event: &Event| match &event.what {
        What::Measured(measured) => {
            Some(format!("    event {}: {}, {}", event.seq, measured.reading.words(), measured.shown))
        }
        _ => None,
    };
    events.iter().filter_map(one).collect()
}

fn refused(refusal: &Refusal, values: &[String]) -> anyhow::Error {
    match refusal {
        Refusal::NoReason => anyhow!("{refusal}\n  help: say it with `--because REASON`"),
        Refusal::NoPerson => anyhow!("{refusal}\n  help: give it with `--person NAME`"),
        Refusal::Doubtful { .. } => anyhow!("{refusal}\n  help: with `--meant` it is taken as it stands"),
        Refusal::NoReadingThere { .. } => anyhow!("{refusal}\n  help: the values are\n{}", values.join("\n")),
        other => anyhow!("{other}"),
    }
}
