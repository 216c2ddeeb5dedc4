//! `dwell records list`: each job in a line or two.

use crate::commands::kept::{self, Kept, device, moment};
use crate::drawing::visible;
use crate::exit::Exit;
use crate::screen::{Ink, Screen, wrapped};
use clap::Args;
use dwell_record::{Vehicle, Vin};
use dwell_store::{Job, Sqlite};

/// List the jobs, the latest first.
#[derive(Debug, Args)]
pub(super) struct List {
    #[command(flatten)]
    kept: Kept,
    /// Only those that are not over
    #[arg(long)]
    unfinished: bool,
    /// Only those of this vehicle
    #[arg(long, value_name = "VIN", value_parser = Vin::parse)]
    vehicle: Option<Vin>,
    /// Only those of this procedure
    #[arg(long, value_name = "NAME")]
    procedure: Option<String>,
}

impl List {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let store = Sqlite::look(&self.kept.path()?).map_err(kept::said)?;
        let mut jobs = store.jobs_from(device().as_deref()).map_err(kept::said)?;
        let all = jobs.len();
        let vehicle = self.vehicle.as_ref().map(|vin| Vehicle::from(vin).number);
        jobs.retain(|job| {
            (!self.unfinished || job.result.is_none())
                && vehicle.as_ref().is_none_or(|wanted| job.vehicle.as_ref() == Some(wanted))
                && self.procedure.as_ref().is_none_or(|wanted| job.procedure == *wanted)
        });
        for job in jobs.iter().rev() {
            one(screen, job)?;
        }
        let counted = |count: usize| format!("{count} job{}", if count == 1 { "" } else { "s" });
        screen.line(&match jobs.len() {
            shown if shown == all => counted(all),
            shown => format!("{} of {all}", counted(shown)),
        })?;
        Ok(Exit::Well)
    }
}

/// `  3  2031-04-12 09:05 UTC  adjusted and passed  belt-and-charging`.
fn one(screen: &mut Screen, job: &Job) -> anyhow::Result<()> {
    let result = job.result.as_deref().unwrap_or("UNFINISHED");
    let ink = match result {
        "passed" | "adjusted and passed" => Ink::Green,
        "failed" => Ink::Red,
        _ => Ink::Yellow,
    };
    let result = screen.style.ink(ink, &format!("{result:<19}"));
    screen.line(&format!(
        "{:>4}  {:<23}  {result}  {}",
        job.number.0,
        moment(&job.begun),
        visible(&job.procedure)
    ))?;
    let vehicle = job.vehicle.as_ref().map(|vehicle| format!("vehicle {vehicle}"));
    let held = job.held.as_ref().filter(|_| job.result.is_none()).map(|held| {
        let how = if held.gone { "was interrupted at" } else { "has it open since" };
        let when = if held.gone { &job.last } else { &held.since };
        format!("{} {how} {}", held.by, moment(when))
    });
    let last = (job.result.is_none() && held.is_none()).then(|| format!("let go at {}", moment(&job.last)));
    let more: Vec<String> = [vehicle, held, last].into_iter().flatten().collect();
    if !more.is_empty() {
        for line in wrapped("      ", 6, &visible(&more.join(", "))) {
            screen.line(&screen.style.ink(Ink::Faint, &line))?;
        }
    }
    Ok(())
}
