//! `dwell page`: the card of a procedure as a page to read, to show and to print.

use super::card::{For, card};
use super::format::replace;
use super::run::variant;
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::{Context, anyhow};
use clap::{Args, ValueEnum};
use dwell_page::{Paper, Vehicle, document, sheet};
use std::path::PathBuf;
use time::OffsetDateTime;

/// What is said of this command where its card is not there.
const PAGE: For = For { name: "page", to: "show", done: "written" };

/// Write the card of a procedure as a page: what the technician sees, and the ways through it as a flow chart.
///
/// The page is one HTML file that needs nothing from elsewhere. It has the card with its cautions before what they are about, each limit
/// in both units and as a scale, and the ways through it as a drawing and as a list. Of variants that are not given it
/// says what differs.
///
/// With `--paper` it is a blank sheet to print and to fill in by hand: `dwell records enter` types it back in. On a printer's
/// dialogue leave the size and the margins as they are; Chromium prints "page 2 of 5" on each sheet.
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
    /// As a sheet to fill in by hand, on paper of this size: numbered lines and large boxes, in black and white
    #[arg(long, value_enum, value_name = "SIZE")]
    paper: Option<Size>,
    /// Where to write it; without it the page goes to the standard output
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// The size of a sheet of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum Size {
    /// 210 × 297 mm
    #[default]
    A4,
    /// 8.5 × 11 inches
    Letter,
}

impl From<Size> for Paper {
    fn from(size: Size) -> Paper {
        match size {
            Size::A4 => Paper::A4,
            Size::Letter => Paper::Letter,
        }
    }
}

impl Page {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let Some(card) = card(screen, &self.file, self.procedure.as_deref(), &PAGE)? else {
            return Ok(Exit::Trouble);
        };
        let vehicle = Vehicle::of(&card, &self.variants).map_err(|unknown| anyhow!("{unknown}"))?;
        let page = match self.paper {
            None => document(&card, &vehicle),
            Some(size) => {
                let day = OffsetDateTime::now_utc().date().to_string();
                sheet(&card, &vehicle, &card.sha256()?, Some(&day), size.into())
            }
        };
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
