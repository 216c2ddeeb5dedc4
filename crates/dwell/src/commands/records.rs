//! `dwell records`: what is kept of the jobs: listed, shown, watched, verified, given to others.

mod correct;
mod enter;
mod export;
mod list;
mod report;
mod show;
mod statistics;
mod table;
mod trace;
mod verify;
mod watch;

use crate::exit::Exit;
use crate::screen::Screen;
use clap::{Args, Subcommand};

/// See the records of jobs, verify them, give them to others.
#[derive(Debug, Args)]
pub(crate) struct Of {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    List(list::List),
    Show(show::Show),
    Report(report::Report),
    Watch(watch::Watch),
    Statistics(statistics::Statistics),
    Enter(enter::Enter),
    Correct(correct::Correct),
    Trace(trace::Trace),
    Verify(verify::Verify),
    Export(export::Export),
}

impl Of {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        match self.what {
            What::List(command) => command.run(screen),
            What::Show(command) => command.run(screen),
            What::Report(command) => command.run(screen),
            What::Watch(command) => command.run(screen),
            What::Statistics(command) => command.run(screen),
            What::Enter(command) => command.run(screen),
            What::Correct(command) => command.run(screen),
            What::Trace(command) => command.run(screen),
            What::Verify(command) => command.run(screen),
            What::Export(command) => command.run(screen),
        }
    }
}

/// Reads `2031-05-01`: a day that there is.
fn day(text: &str) -> Result<String, String> {
    let read = dwell_tools::day(text.trim()).filter(|_| text.trim().len() == 10);
    read.map(|day| day.to_string()).ok_or_else(|| "write it as year-month-day: 2031-05-01".to_owned())
}
