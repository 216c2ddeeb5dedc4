//! `dwell test`: the cases of the procedures carried out, and what they do not come to.

mod json;
mod junit;
mod telling;

use super::check::{counted, unreadable};
use crate::drawing::Drawing;
use crate::exit::Exit;
use crate::screen::Screen;
use crate::work::{Work, work};
use clap::{Args, ValueEnum};
use dwell_check::finding::Level;
use dwell_check::rules::branch_without_case;
use dwell_trial::Tested;
use std::path::PathBuf;
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// The most findings about the text that are drawn; `dwell check` draws all.
const MOST: usize = 20;

/// Carry out the cases of procedures, and say what no case comes to.
///
/// Each `case` is carried out on the card of its procedure, as `dwell run` does it: work is taken as done, needs as met unless it says not,
/// signatures as given. It must end as it says, with every value asked for and none left over. A procedure with an error in
/// its text is not tried. Folders are searched as `dwell check` searches them.
///
/// Exit status: 0 every case ends as it says; 1 a case does not, or an error is open in the text; 2 a file that could not be
/// read, or no case to carry out.
#[derive(Debug, Args)]
pub(crate) struct Test {
    /// Files and folders
    #[arg(default_value = ".", value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Only the cases whose title, or whose procedure's name, has this in it
    #[arg(long, value_name = "TEXT")]
    only: Option<String>,
    /// Show for every step, branch, variant and limit how many cases come to it
    #[arg(long)]
    coverage: bool,
    /// How to write what came out
    #[arg(long, value_enum, default_value_t, value_name = "FORMAT")]
    format: Format,
}

/// How the outcome is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    #[default]
    Text,
    /// For other programs
    Json,
    /// JUnit XML, for build servers
    Junit,
}

impl Test {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let work = work(&self.paths, None);
        let now = OffsetDateTime::now_utc().replace_nanosecond(0)?.format(&Rfc3339)?;
        let tested = dwell_trial::test(&work.checked, self.only.as_deref(), &now);
        match self.format {
            Format::Json => {
                let value = json::tested(&work, &tested);
                screen.line(&serde_json::to_string_pretty(&value)?)?;
            }
            Format::Junit => screen.write(&junit::report(&work.checked, &tested)?)?,
            Format::Text => self.text(screen, &work, &tested)?,
        }
        Ok(exit(&work, &tested))
    }

    fn text(&self, screen: &mut Screen, work: &Work, tested: &Tested) -> anyhow::Result<()> {
        let checked = &work.checked;
        let mut drawing = Drawing::new(&checked.program, screen.style);
        let of_text = checked.findings.iter().filter(|finding| finding.level == Level::Error);
        let of_cases = tested.findings.iter().filter(|finding| finding.level <= Level::Warning);
        for finding in of_text.take(MOST).chain(of_cases) {
            let drawn = drawing.of(finding);
            screen.line(&drawn)?;
        }
        for procedure in &tested.procedures {
            if screen.is_gone() {
                return Ok(());
            }
            telling::procedure(screen, checked, &tested.findings, procedure, self.coverage)?;
        }
        unreadable(screen, &work.unreadable)?;
        screen.line(&self.summary(work, tested))?;
        Ok(())
    }

    /// "31 procedures, 99 cases: all end as they say".
    fn summary(&self, work: &Work, tested: &Tested) -> String {
        if work.files == 0 {
            return "no file to test: a procedure stands in a file whose name ends in `.dwell`".to_owned();
        }
        let cases = tested.cases().count();
        if let (0, Some(only)) = (cases, &self.only) {
            return format!("no case to carry out: no title and no procedure's name has “{only}” in it");
        }
        let untried = tested.procedures.iter().filter(|procedure| !procedure.has_card).count();
        let (procedures, failed) = (tested.procedures.len(), tested.failed());
        let mut said = format!(
            "{}, {}: ",
            counted(procedures, "procedure", "procedures"),
            counted(cases, "case", "cases")
        );
        let tried = tested.cases().filter(|case| case.failure.is_some() || case.ends.is_some()).count();
        said.push_str(&match (tried, failed) {
            (0, _) => "none was carried out".to_owned(),
            (_, 0) if tried == cases => "all end as they say".to_owned(),
            (_, 0) => format!("the {tried} that were carried out end as they say"),
            (_, failed) => format!(
                "{failed} {} not end as {}",
                plural(failed, "does", "do"),
                plural(failed, "it says", "they say")
            ),
        });
        if untried > 0 {
            said.push_str(&format!(
                "; {} not tried: an error is open in the text (`dwell check`)",
                counted(untried, "procedure was", "procedures were")
            ));
        }
        let open = tested.findings.iter().filter(|finding| branch_without_case::is_one(finding)).count();
        if open > 0 {
            said.push_str(&format!("; {} without a case", counted(open, "branch", "branches")));
        }
        said
    }
}

fn plural<'a>(count: usize, one: &'a str, many: &'a str) -> &'a str {
    if count == 1 { one } else { many }
}

fn exit(work: &Work, tested: &Tested) -> Exit {
    if !work.unreadable.is_empty() || work.files == 0 {
        return Exit::Trouble;
    }
    let untried = tested.procedures.iter().any(|procedure| !procedure.has_card);
    let error = tested.findings.iter().any(|finding| finding.level == Level::Error);
    if work.checked.has_errors() || untried || error {
        Exit::Found
    } else if tested.cases().next().is_none() {
        Exit::Trouble
    } else {
        Exit::Well
    }
}
