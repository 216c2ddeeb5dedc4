//! `dwell bay`: the page at the vehicle, served by this machine to tablets and phones.

mod door;
mod shelf;

use super::kept::{self, Kept, Person};
use super::run::tools::register;
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::{Context, bail};
use clap::Args;
use dwell_bay::access::{Door, Opening};
use dwell_bay::{Device, Setting};
use dwell_store::Sqlite;
use shelf::Shelf;
use std::io::{self, IsTerminal};
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;

/// Carry procedures out on tablets and phones: this machine serves the page.
///
/// The page offers the cards of a folder, and goes on with jobs that are open. Each answer is on this machine's disk before the
/// tablet is told that it was taken. Nothing comes from the internet and nothing goes there.
///
/// Without more, only a browser of this machine comes in, by the address that is printed. With `--lan` tablets and phones of the
/// network do, over TLS, each let in with a code that is shown here; `dwell bay devices` says which, and shuts them out.
///
/// Exit status: 0 when it was ended with Ctrl-C; 2 when it could not begin.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(crate) struct Bay {
    #[command(subcommand)]
    door: Option<door::Door>,
    /// Folders, cards, or files with procedures
    #[arg(value_name = "FOLDER-or-FILE", required = true)]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    kept: Kept,
    /// Let tablets and phones of the network in; with an address, only by that one of this machine's
    #[arg(long, value_name = "ADDRESS", num_args = 0..=1, require_equals = true, default_missing_value = "0.0.0.0")]
    lan: Option<IpAddr>,
    /// The port at which it listens; 0 takes one that is free
    #[arg(long, value_name = "PORT", default_value_t = 8090)]
    port: u16,
    /// The register of the workshop's tools; without it, `tools.toml` in the first folder or in one above it
    #[arg(long, value_name = "FILE.toml")]
    tools: Option<PathBuf>,
    #[command(flatten)]
    person: Person,
}

impl Bay {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        if let Some(door) = self.door {
            return door.run(screen);
        }
        let shelf = Shelf::new(self.paths.clone());
        let (cards, unread) = shelf.cards();
        for words in &unread {
            crate::say(words);
        }
        if cards.is_empty() {
            bail!(
                "there is no card to carry out\n  help: give a folder with cards, as `dwell build` makes them, or with procedures that have no error"
            );
        }
        let first = self.paths.first().map(PathBuf::as_path).unwrap_or(Path::new("."));
        let tools = register(self.tools.as_deref(), first)?;
        let records = self.kept.path()?;
        let store = Sqlite::open(&records).map_err(kept::said)?;
        let by = self.person.by();
        let door = Door::open(Opening {
            records,
            at: SocketAddr::new(self.lan.unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST)), self.port),
            lan: self.lan.is_some(),
            own: Device { key: "this machine".to_owned(), name: by.device, person: by.person },
            measures: dwell_bay::measures(),
            tell: Arc::new(crate::say),
        })?;
        let bay = dwell_bay::Bay::new(Setting { cards: Box::new(move || shelf.cards()), store, tools });
        open_to(&door, &self.kept.typed(), screen)?;
        dwell_bay::serve(bay, door).context("the page cannot be served")?;
        Ok(Exit::Well)
    }
}

/// Shows how one comes in.
fn open_to(door: &Door, typed: &str, screen: &mut Screen) -> anyhow::Result<()> {
    for words in door.words() {
        crate::say(words);
    }
    if let Some(address) = door.own_address() {
        screen.line("the page is at")?;
        screen.line(&format!("  {address}"))?;
        screen.line("for browsers of this machine alone; whoever has the whole address comes in")?;
    }
    if let Some(inviter) = door.inviter() {
        if let Some(invitation) = inviter.invite()? {
            door::invite(&invitation, screen)?;
        }
        if io::stdin().is_terminal() {
            screen.line("Enter shows a new code, for the next device")?;
            let mut screen = screen.beside();
            // It waits at the keyboard for as long as the program runs.
            thread::spawn(move || {
                for _ in io::stdin().lines().map_while(Result::ok) {
                    let shown = inviter.invite().map_err(anyhow::Error::from).and_then(|invitation| {
                        invitation.map_or(Ok(()), |invitation| door::invite(&invitation, &mut screen))
                    });
                    if let Err(error) = shown {
                        crate::say(&format!("no code can be shown: {error:#}"));
                    }
                }
            });
        } else {
            screen.line(&format!("`dwell bay pair{typed}` shows a new code, for the next device"))?;
        }
    }
    screen.line("Ctrl-C ends it; what was acknowledged is in the record")?;
    screen.flush()?;
    Ok(())
}
