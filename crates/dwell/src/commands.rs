//! The command line: one command, one file, whose comment is its help.

mod bay;
mod build;
mod card;
mod check;
mod compare;
mod explain;
mod format;
pub(crate) mod kept;
mod lsp;
mod page;
mod paths;
mod records;
mod resume;
mod rules;
mod run;
mod test;

use crate::exit::Exit;
use crate::screen::{Screen, When};
use clap::{Parser, Subcommand};

/// Write workshop procedures, have them checked, and carry them out.
///
/// A procedure stands in a `.dwell` file. `dwell check` reads it as a good colleague would, `dwell test` carries out its examples, `dwell build` makes the card
/// that is carried out, and `dwell run` carries it out step by step. `dwell records` shows what was recorded of it.
#[derive(Debug, Parser)]
#[command(name = "dwell", version, max_term_width = 80, arg_required_else_help = true)]
pub(crate) struct Dwell {
    #[command(subcommand)]
    command: Command,
    /// When to write in colour
    #[arg(long, global = true, value_enum, default_value_t, value_name = "WHEN")]
    color: When,
    /// Draw lines with ASCII characters only
    #[arg(long, global = true)]
    ascii: bool,
}

#[derive(Debug, Subcommand)]
enum Command {
    Check(check::Check),
    Test(test::Test),
    Compare(compare::Compare),
    Paths(paths::Paths),
    Page(page::Page),
    Format(format::Format),
    Explain(explain::Explain),
    Rules(rules::Rules),
    Build(build::Build),
    Run(run::Run),
    Bay(bay::Bay),
    Resume(resume::Resume),
    Records(records::Of),
    Lsp(lsp::Lsp),
}

/// Gives the terminal back, where a run has taken it: whatever is said then can be read.
pub(crate) fn give_back() {
    run::terminal::give_back();
}

impl Dwell {
    /// Does what was asked.
    pub(crate) fn run(self) -> anyhow::Result<Exit> {
        let mut screen = Screen::new(self.color, self.ascii);
        let exit = match self.command {
            Command::Check(command) => command.run(&mut screen),
            Command::Test(command) => command.run(&mut screen),
            Command::Compare(command) => command.run(&mut screen),
            Command::Paths(command) => command.run(&mut screen),
            Command::Page(command) => command.run(&mut screen),
            Command::Format(command) => command.run(&mut screen),
            Command::Explain(command) => command.run(&mut screen),
            Command::Rules(command) => command.run(&mut screen),
            Command::Build(command) => command.run(&mut screen),
            Command::Run(command) => command.run(&mut screen),
            Command::Bay(command) => command.run(&mut screen),
            Command::Resume(command) => command.run(&mut screen),
            Command::Records(command) => command.run(&mut screen),
            Command::Lsp(command) => command.run(),
        }?;
        screen.flush()?;
        Ok(exit)
    }
}
