//! `dwell page`: the card of a procedure as a page to read, to show and to print.

use super::card::{For, card};
use super::format::replace;
use super::run::variant;
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::{Context, anyhow};
use clap::Args;
use dwell_page::{Vehicle, document};
use std::path::PathBuf;

/// What is said of this command where its card is not there.
const PAGE: For = For { name: "page", to: "show", done: "written" };

/// Write the card of a procedure as a page: what the technician sees, and the ways through it as a flow chart.
///
/// The page is one HTML file that needs nothing from elsewhere. It has the card with its cautions before what they are about, each limit
/// in both units and as a scale, and the ways through it as a drawing and as a list. Of variants that are not given it
/// says what differs.
///
/// Exit status: 0 written; 2 an error is open in the text, or something could not be read or written.
#[derive(Debug, Args)]
pub(crate) struct Page {
    /// A card, or a file with a procedure
    file: PathBuf,
    /// Which procedure of a file that declares several
    #[arg(long, value_name = "NAME")]
    procedure: Option<String>,
    /// Only for this value of a variant, once for each: engine-family=k9
    #[arg(long = "variant", value_name = "NAME=VALUE", value_parser = variant)]
    variants: Vec<(String, String)>,
    /// Where to write it; without it the page goes to the standard output
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
}

impl Page {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let Some(card) = card(screen, &self.file, self.procedure.as_deref(), &PAGE)? else {
            return Ok(Exit::Trouble);
        };
        let vehicle = Vehicle::of(&card, &self.variants).map_err(|unknown| anyhow!("{unknown}"))?;
        let page = document(&card, &vehicle);
        match &self.output {
            None => screen.write(&page)?,
            Some(path) => {
                replace(path, &page).with_context(|| format!("cannot write {}", path.display()))?;
                screen.line(&format!("{}  {}", card.procedure, path.display()))?;
            }
        }
        Ok(Exit::Well)
    }
}
