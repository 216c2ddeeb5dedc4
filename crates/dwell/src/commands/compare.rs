//! `dwell compare`: what a change means, for those who review it.

use super::check::counted;
use crate::drawing::visible;
use crate::exit::Exit;
use crate::screen::{Ink, Screen, wrapped};
use crate::work::on;
use anyhow::{anyhow, bail};
use clap::{Args, ValueEnum};
use dwell_check::check::{Checked, check_with};
use dwell_check::options::Options;
use dwell_check::program::Sources;
use dwell_compare::{Change, Comparison, Grade, Side, Where, compare, json, markdown};
use dwell_workspace::{Folder, Past, SettingsFile};
use std::env;
use std::path::{Path, PathBuf};

/// Say what a change means: two states compared by their meaning, not by their text.
///
/// OLD and NEW are a file, a folder, a revision of the git repository (`main`, `HEAD~1`), or a file or folder at a revision
/// (`main:procedures/charging`, from the top of the repository). Without NEW the files on the disk are taken.
///
/// The loudest comes first: a caution that is gone, a limit that is looser, something no longer put back.
///
/// Exit status: 0 nothing of meaning changed; 1 it did; 2 something could not be read or compared.
#[derive(Debug, Args)]
pub(crate) struct Compare {
    /// As it was
    old: String,
    /// As it is
    new: Option<String>,
    /// How to write it
    #[arg(long, value_enum, default_value_t, value_name = "FORMAT")]
    format: Format,
}

/// How a comparison is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    #[default]
    Text,
    /// For a comment on a review
    Markdown,
    /// For other programs, described in grammar/JSON.md
    Json,
}

/// How many folders above this one are looked through for the settings of an earlier state.
const MOST_FOLDERS: usize = 32;

/// One state that was checked.
struct State {
    checked: Checked,
    options: Options,
    root: String,
}

impl Compare {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let (old, new) = self.states()?;
        let comparison = compare(side(&old), side(&new)).with_settings(&old.options, &new.options);
        match self.format {
            Format::Json => screen.line(&serde_json::to_string_pretty(&json(&comparison))?)?,
            Format::Markdown => screen.write(&markdown(&comparison))?,
            Format::Text => text(screen, &comparison)?,
        }
        Ok(if !comparison.not_compared.is_empty() {
            Exit::Trouble
        } else if comparison.has_meaning() {
            Exit::Found
        } else {
            Exit::Well
        })
    }

    fn states(&self) -> anyhow::Result<(State, State)> {
        if let Some(new) = &self.new {
            return Ok((state(&self.old)?, state(new)?));
        }
        if Path::new(&self.old).exists() {
            bail!("write what to compare {} with: `dwell compare OLD NEW`, or a revision alone", self.old);
        }
        let (past, path) = revision(&self.old)?;
        let new = on_disk(&path)?;
        Ok((earlier(&past, &self.old, path)?, new))
    }
}

fn side(state: &State) -> Side<'_> {
    Side { checked: &state.checked, root: &state.root }
}

/// What an argument names: what is on the disk, or else something at a revision.
fn state(argument: &str) -> anyhow::Result<State> {
    if Path::new(argument).exists() {
        return on_disk(argument);
    }
    let (past, path) = revision(argument)?;
    earlier(&past, argument, path)
}

/// `REVISION:PATH`, or `REVISION` for all that lies in this folder.
fn revision(argument: &str) -> anyhow::Result<(Past, String)> {
    let here = env::current_dir()?;
    let (name, path) = match argument.split_once(':') {
        Some((name, path)) => (name, Some(path)),
        None => (argument, None),
    };
    let past = Past::at(&here, name)
        .map_err(|why| anyhow!("{argument} is no file or folder here, and no revision either: {why}"))?;
    let path = path.map_or_else(|| ".".to_owned(), |path| past.named(path));
    let path = if path.is_empty() { ".".to_owned() } else { path };
    Ok((past, path))
}

fn on_disk(path: &str) -> anyhow::Result<State> {
    let folder = Folder::of(&[PathBuf::from(path)]);
    if let Some(fault) = folder.faults().first() {
        bail!("{}: {}", fault.path, fault.what);
    }
    let mut root = path.trim_start_matches("./").trim_end_matches('/').to_owned();
    if root == "." {
        root.clear();
    }
    let mut folder = folder;
    let settings = SettingsFile::above(Path::new(path), dwell_settings::NAME);
    if let Some(file) = &settings {
        folder.at_home(file.folder.clone());
    }
    checked(folder.roots(), &folder, root, path, settings.map(|file| file.shown))
}

fn earlier(past: &Past, argument: &str, path: String) -> anyhow::Result<State> {
    let roots = past.below(&path);
    let root = if path == "." { String::new() } else { path };
    // The nearest file of settings on the way up, as for files on the disk.
    let names = |up: usize| format!("{}{}", "../".repeat(up), dwell_settings::NAME);
    let parts: Vec<&str> = root.split('/').filter(|part| !part.is_empty()).collect();
    let below = (0..=parts.len()).rev().map(|deep| {
        let folder = parts.get(..deep).unwrap_or_default().join("/");
        if folder.is_empty() {
            dwell_settings::NAME.to_owned()
        } else {
            format!("{folder}/{}", dwell_settings::NAME)
        }
    });
    let settings = below.chain((1..=MOST_FOLDERS).map(names)).find(|path| past.read(path).is_ok());
    checked(&roots, past, root, argument, settings)
}

/// Checks a state; a file that cannot be read is a trouble, for what it says would count as gone.
fn checked(
    roots: &[String],
    sources: &dyn Sources,
    root: String,
    shown: &str,
    settings: Option<String>,
) -> anyhow::Result<State> {
    if roots.is_empty() {
        bail!("{shown} has no file whose name ends in `.dwell`, so there is nothing to compare");
    }
    for path in roots {
        sources.read(path).map_err(|why| anyhow!("{path}: {why}"))?;
    }
    let day = on(None);
    let text = settings.and_then(|path| Some((sources.read(&path).ok()?, path)));
    let options = match text {
        Some((text, path)) => dwell_settings::read(&text).options(&path, &text, Some(&day)),
        None => Options { day: Some(day), ..Options::default() },
    };
    Ok(State { checked: check_with(roots, sources, &options), options, root })
}

fn text(screen: &mut Screen, comparison: &Comparison) -> anyhow::Result<()> {
    for grade in [Grade::Loud, Grade::Middle, Grade::Quiet] {
        let of_grade: Vec<&Change> =
            comparison.changes.iter().filter(|change| change.grade == grade).collect();
        if of_grade.is_empty() {
            continue;
        }
        let ink = match grade {
            Grade::Loud => Ink::Red,
            Grade::Middle => Ink::Yellow,
            Grade::Quiet => Ink::Blue,
        };
        screen.line(&screen.style.ink(ink, grade.heading()))?;
        for change in of_grade {
            let words = format!("{}: {}", visible(&change.of), visible(&change.says));
            screen.line(&wrapped("  ", 4, &words).join("\n"))?;
            let places = places(&change.old, &change.new, screen.style.ascii);
            if !places.is_empty() {
                screen.line(&screen.style.ink(Ink::Faint, &format!("    {places}")))?;
            }
        }
        screen.line("")?;
    }
    for name in &comparison.not_compared {
        let words = format!(
            "{}: a text has a mistake that hides its meaning; `dwell check` says which",
            visible(name)
        );
        screen.line(&wrapped("not compared: ", 2, &words).join("\n"))?;
    }
    let counts = [(Grade::Loud, "loud"), (Grade::Middle, "in the work"), (Grade::Quiet, "in words only")]
        .into_iter()
        .map(|(grade, name)| (comparison.count(grade), name))
        .filter(|(count, _)| *count > 0);
    let counts: Vec<String> =
        counts.map(|(count, name)| format!("{} {name}", counted(count, "change", "changes"))).collect();
    if !counts.is_empty() {
        screen.line(&counts.join(", "))?;
    } else if comparison.not_compared.is_empty() {
        screen.line("nothing changed")?;
    }
    Ok(())
}

/// Both places, path and line.
fn places(old: &Option<Where>, new: &Option<Where>, ascii: bool) -> String {
    let at = |place: &Where| format!("{}:{}", visible(&place.path), place.line);
    match (old, new) {
        (Some(old), Some(new)) => format!("{} {} {}", at(old), if ascii { "->" } else { "→" }, at(new)),
        (Some(old), None) => format!("was at {}", at(old)),
        (None, Some(new)) => at(new),
        (None, None) => String::new(),
    }
}
