//! `dwell check`: what a good colleague would say about the text.

mod mending;

use crate::base::base;
use crate::drawing::{Drawing, shown_place, visible};
use crate::exit::Exit;
use crate::screen::{Ink, Screen, wrapped};
use crate::since::since;
use crate::work::{Work, work_with};
use clap::{Args, ValueEnum};
use dwell_check::check::Checked;
use dwell_check::finding::Level;
use dwell_check::mend::Done;
use dwell_report::{Report, Unreadable};
use std::path::PathBuf;

/// The most findings that are drawn unless all are asked for.
const MOST: usize = 100;

/// Check procedures: every way through them, for every variant of the vehicle.
///
/// Folders are searched for files whose name ends in `.dwell`; hidden files and what ignore files list are passed over. A
/// file given by its name is always checked.
///
/// Where one repair is the right one, a finding has it, and `--fix` makes it: those that do not touch each other at once,
/// then again, until none is left. All changed files are written, or none. Only what was asked for and `dwell.toml` is
/// changed, and no repair is made after which more would be wrong.
///
/// Exit status: 0 nothing, or nothing as grave as an error; 1 an error, or a finding of a denied level; 2 a file that
/// could not be read or written, or nothing to check. With `--fix` it is that of what is left; with `--dry-run` 1 where
/// something would change.
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// Files and folders
    #[arg(default_value = ".", value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// How to write what was found
    #[arg(long, value_enum, default_value_t, value_name = "FORMAT")]
    format: Format,
    /// Let findings of this level, and graver ones, count as errors
    #[arg(long, value_enum, value_name = "LEVEL")]
    deny: Option<Denied>,
    /// The day that counts for what is withdrawn, such as 2031-05-01; today without it
    #[arg(long, value_name = "DATE", value_parser = day)]
    on: Option<String>,
    /// Only what the text has not had at that revision of the git repository, such as `main` or `HEAD~1`
    #[arg(long, value_name = "REVISION")]
    since: Option<String>,
    /// The file of settings; without it the file `dwell.toml` beside the paths or in a folder above them, as far up as
    /// the repository reaches
    #[arg(long, value_name = "FILE")]
    settings: Option<PathBuf>,
    /// Make the repairs, then say what is left
    #[arg(long, conflicts_with = "since")]
    fix: bool,
    /// Change nothing; show what would change
    #[arg(long, requires = "fix")]
    dry_run: bool,
    /// List what is waived, with the reasons
    #[arg(long)]
    waived: bool,
    /// Draw all findings, not only the first hundred
    #[arg(long)]
    all: bool,
}

/// Reads a day of the calendar, year-month-day.
fn day(text: &str) -> Result<String, String> {
    let format = time::macros::format_description!("[year]-[month]-[day]");
    match time::Date::parse(text, format) {
        Ok(_) => Ok(text.to_owned()),
        Err(_) => Err("write a day of the calendar as year-month-day: 2031-05-01".to_owned()),
    }
}

/// How findings are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    #[default]
    Text,
    /// For other programs, described in grammar/JSON.md
    Json,
    /// SARIF 2.1.0, for forges and editors that show findings beside the text
    Sarif,
    /// JUnit XML, for build servers: a suite for each file, a case for each procedure
    Junit,
    /// `path:line:column: level: message [rule]`, one a line
    Lines,
}

/// A level that can be denied.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Denied {
    /// Very likely wrong
    Warning,
    /// Worth knowing
    Information,
    /// A small hint
    Hint,
}

impl Check {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        if self.fix {
            return self.mend(screen);
        }
        let mut work = work_with(&self.paths, self.on.as_deref(), self.settings.as_deref());
        if let Some(revision) = &self.since {
            since(&mut work, revision)?;
        }
        let exit = self.exit(&work);
        match self.format {
            Format::Text => self.told(screen, &work)?,
            _ => self.written(screen, &work, None)?,
        }
        Ok(exit)
    }

    /// Writes what was found for other programs, with the repairs that were made before, if any were asked for.
    fn written(&self, screen: &mut Screen, work: &Work, done: Option<&[Done]>) -> anyhow::Result<()> {
        let base = base(&self.paths);
        let report = Report {
            checked: &work.checked,
            unreadable: &work.unreadable,
            failing: self.failing(),
            version: env!("CARGO_PKG_VERSION"),
            base: &base,
        };
        match self.format {
            Format::Sarif => screen.line(&dwell_report::sarif(&report).to_string())?,
            Format::Junit => screen.write(&dwell_report::junit(&report)?)?,
            Format::Lines => screen.write(&dwell_report::lines(&report))?,
            Format::Json | Format::Text => {
                let value = match done {
                    Some(done) => dwell_report::json::mended(&report, done),
                    None => dwell_report::json(&report),
                };
                screen.line(&serde_json::to_string_pretty(&value)?)?;
            }
        }
        Ok(())
    }

    /// Draws what was found and sums it up.
    fn told(&self, screen: &mut Screen, work: &Work) -> anyhow::Result<()> {
        let most = if self.all { usize::MAX } else { MOST };
        findings(screen, &work.checked, most)?;
        if self.waived {
            waived(screen, &work.checked)?;
        }
        unreadable(screen, &work.unreadable)?;
        Ok(screen.line(&self.summary(work))?)
    }

    /// The summary, and where only what is new was asked for, since when.
    fn summary(&self, work: &Work) -> String {
        match &self.since {
            Some(revision) => format!("since {revision}: {}", summary(work)),
            None => summary(work),
        }
    }

    /// The mildest level that lets the check fail.
    fn failing(&self) -> Level {
        match self.deny {
            None => Level::Error,
            Some(Denied::Warning) => Level::Warning,
            Some(Denied::Information) => Level::Information,
            Some(Denied::Hint) => Level::Hint,
        }
    }

    fn exit(&self, work: &Work) -> Exit {
        let gravest = self.failing();
        if !work.unreadable.is_empty() || work.files == 0 {
            Exit::Trouble
        } else if work.checked.findings.iter().any(|finding| finding.level <= gravest) {
            Exit::Found
        } else {
            Exit::Well
        }
    }
}

/// Draws findings, the first `most` of them, a blank line after each.
pub(super) fn findings(screen: &mut Screen, checked: &Checked, most: usize) -> anyhow::Result<()> {
    let mut drawing = Drawing::new(&checked.program, screen.style);
    for finding in checked.findings.iter().take(most) {
        let drawn = drawing.of(finding);
        screen.line(&drawn)?;
        if screen.is_gone() {
            return Ok(());
        }
    }
    let more = checked.findings.len().saturating_sub(most);
    if more > 0 {
        screen.line(&format!("… and {more} more: mend these first, or see them with `--all`\n"))?;
    }
    Ok(())
}

fn waived(screen: &mut Screen, checked: &Checked) -> anyhow::Result<()> {
    for waived in &checked.waived {
        let words = format!(
            "{} at {}: because \"{}\"",
            waived.finding.rule,
            shown_place(&checked.program, waived.finding.place),
            visible(&waived.because)
        );
        for line in wrapped("waived: ", 8, &words) {
            screen.line(&screen.style.ink(Ink::Faint, &line))?;
        }
    }
    if !checked.waived.is_empty() {
        screen.line("")?;
    }
    Ok(())
}

/// Says which files could not be read.
pub(super) fn unreadable(screen: &mut Screen, files: &[Unreadable]) -> anyhow::Result<()> {
    for file in files {
        let mut lines =
            wrapped("cannot read ", 2, &format!("{}: {}", visible(&file.path), visible(&file.why)));
        if let Some(first) = lines.first_mut() {
            *first = first.replacen("cannot read", &screen.style.ink(Ink::Red, "cannot read"), 1);
        }
        screen.line(&lines.join("\n"))?;
        screen.line("")?;
    }
    Ok(())
}

/// "3 errors and 1 warning in 2 of 5 files."
fn summary(work: &Work) -> String {
    let findings = &work.checked.findings;
    let read = counted(work.files, "file", "files");
    let procedures = counted(work.checked.procedures.len(), "procedure", "procedures");
    let unread = match work.unreadable.len() {
        0 => String::new(),
        count => format!("; {} could not be read", counted(count, "path", "paths")),
    };
    let waived = match work.checked.waived.len() {
        0 => String::new(),
        count => format!("; {count} waived"),
    };
    if work.files == 0 {
        return format!("no file to check: a procedure stands in a file whose name ends in `.dwell`{unread}");
    }
    if findings.is_empty() {
        return format!("{read}, {procedures}: nothing found{waived}{unread}");
    }
    let of = |level: Level| findings.iter().filter(|finding| finding.level == level).count();
    let parts: Vec<String> = [
        (of(Level::Error), "error", "errors"),
        (of(Level::Warning), "warning", "warnings"),
        (of(Level::Information), "remark for information", "remarks for information"),
        (of(Level::Hint), "hint", "hints"),
    ]
    .into_iter()
    .filter(|(count, ..)| *count > 0)
    .map(|(count, one, many)| counted(count, one, many))
    .collect();
    let mut concerned: Vec<usize> = findings.iter().map(|finding| finding.place.file).collect();
    concerned.dedup();
    format!("{} in {} of {read}{waived}{unread}", parts.join(", "), concerned.len())
}

/// "1 file", "2 files".
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
