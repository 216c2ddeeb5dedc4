//! `dwell build`: from a checked text to the cards that are carried out.

use super::check::{counted, findings, unreadable};
use super::format::replace;
use crate::exit::Exit;
use crate::screen::{Ink, Screen};
use crate::work::work;
use anyhow::{Context, bail};
use clap::Args;
use std::fs;
use std::path::PathBuf;

/// Build the cards of the procedures in a file.
///
/// Each becomes `PROCEDURE.card.json`, and its SHA-256 is printed, by which a record names the card that was carried
/// out. While an error is open, nothing is written.
///
/// Exit status: 0 built; 1 an error is open; 2 a file that could not be read or written.
#[derive(Debug, Args)]
pub(crate) struct Build {
    /// The file
    file: PathBuf,
    /// The folder for the cards; it is made if it is not there
    #[arg(short, long, value_name = "DIR")]
    output: PathBuf,
}

impl Build {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let work = work(std::slice::from_ref(&self.file), None);
        unreadable(screen, &work.unreadable)?;
        if !work.unreadable.is_empty() || work.files == 0 {
            return Ok(Exit::Trouble);
        }
        findings(screen, &work.checked, usize::MAX)?;
        let mut cards = Vec::new();
        let mut open = Vec::new();
        for compiled in &work.checked.procedures {
            match &compiled.card {
                Some(card) => cards.push((&compiled.name, card.to_json()?, card.sha256()?)),
                None => open.push(compiled.name.as_str()),
            }
        }
        if work.checked.has_errors() || !open.is_empty() {
            screen.line(&format!(
                "nothing was built: an error is open that concerns {}",
                if open.is_empty() { self.file.display().to_string() } else { open.join(", ") }
            ))?;
            return Ok(Exit::Found);
        }
        if cards.is_empty() {
            bail!("{} declares no procedure, so there is no card to build", self.file.display());
        }
        fs::create_dir_all(&self.output)
            .with_context(|| format!("cannot make the folder {}", self.output.display()))?;
        for (name, json, sha256) in &cards {
            let path = self.output.join(format!("{name}.card.json"));
            replace(&path, json).with_context(|| format!("cannot write {}", path.display()))?;
            screen.line(&format!("{}  {}", screen.style.ink(Ink::Bold, name), path.display()))?;
            screen.line(&format!("  SHA-256 {sha256}"))?;
        }
        screen.line(&format!("{} built", counted(cards.len(), "card", "cards")))?;
        Ok(Exit::Well)
    }
}
