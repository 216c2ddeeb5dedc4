//! `dwell bay`: the page at the vehicle, served by this machine to tablets and phones.

mod shelf;

use super::kept::{self, Kept, Person};
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::{Context, bail};
use clap::Args;
use dwell_bay::{Device, Setting};
use dwell_store::Sqlite;
use shelf::Shelf;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;

/// Carry procedures out on tablets and phones: this machine serves the page.
///
/// The page offers the cards of a folder, and goes on with jobs that are open. Each answer is on this machine's disk before the
/// tablet is told that it was taken. Nothing comes from the internet and nothing goes there. The server listens to this
/// machine alone.
///
/// Exit status: 0 when it was ended with Ctrl-C; 2 when it could not begin.
#[derive(Debug, Args)]
pub(crate) struct Bay {
    /// Folders, cards, or files with procedures
    #[arg(value_name = "FOLDER-or-FILE", required = true)]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    kept: Kept,
    /// The port at which it listens; 0 takes one that is free
    #[arg(long, value_name = "PORT", default_value_t = 8090)]
    port: u16,
    #[command(flatten)]
    person: Person,
}

impl Bay {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
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
        let store = Sqlite::open(&self.kept.path()?).map_err(kept::said)?;
        let by = self.person.by();
        let own = Device { key: "this machine".to_owned(), name: by.device, person: by.person };
        let bay = dwell_bay::Bay::new(Setting { cards: Box::new(move || shelf.cards()), store });
        let at = SocketAddr::from((Ipv4Addr::LOCALHOST, self.port));
        let ready = |at: SocketAddr| {
            let _ = screen.line(&format!("the page is at http://{at}/"));
            let _ = screen.line("Ctrl-C ends it; what was acknowledged is in the record");
            let _ = screen.flush();
        };
        dwell_bay::serve(bay, at, own, ready).with_context(|| {
            format!("cannot listen at {at}\n  help: `--port` takes another port, `--port 0` one that is free")
        })?;
        Ok(Exit::Well)
    }
}
