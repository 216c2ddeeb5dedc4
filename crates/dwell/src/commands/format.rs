//! `dwell format`: one way of setting a text, so that nobody has to think about it.

use super::check::unreadable;
use crate::drawing::{Drawing, visible};
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::Context;
use clap::{Args, ValueEnum};
use dwell_check::finding::{Finding, Fix, Level, Place};
use dwell_check::program::{Program, SourceFile, Sources};
use dwell_check::second::{Wish, second_units};
use dwell_quantity::System;
use dwell_report::Unreadable;
use dwell_syntax::slip::Slip;
use dwell_workspace::{Folder, decoded};
use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// Set procedures in the one way: the same words, comments and numbers, each in its place.
///
/// Without a path, or with `-`, standard input is read and the result is written to standard output. A text with a
/// mistake in it is left alone: what could not be read cannot be put in order.
///
/// Exit status: 0 done, or with `--check` nothing to do; 1 with `--check`, something would change; 2 a text with
/// mistakes, or a file that could not be read or written.
#[derive(Debug, Args)]
pub(crate) struct Format {
    /// Files and folders
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Change nothing; name the files that would change
    #[arg(long)]
    check: bool,
    /// Print every amount in these units too, in parentheses, limits rounded inwards; without UNITS in those of `dwell.toml`
    #[arg(long, value_name = "UNITS", num_args = 0..=1, default_missing_value = "house", require_equals = false)]
    second_unit: Option<SecondUnit>,
    /// Write second units anew that are there already, or with `none` take them away
    #[arg(long, requires = "second_unit")]
    rewrite: bool,
}

/// The units that are printed beside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum SecondUnit {
    /// Units of the United States: lbf·ft, psi, in, °F
    Us,
    /// Metric units: N·m, kPa, mm, °C
    Metric,
    /// No second unit
    None,
    /// What `units` in `dwell.toml` says
    House,
}

/// The units that the house has agreed to print beside, from the settings above these paths.
fn of_the_house(paths: &[PathBuf]) -> anyhow::Result<System> {
    let settings = crate::work::settings(paths, None)
        .map_err(|fault| anyhow::anyhow!("{}: {}", fault.path, fault.why))?;
    let settings = settings.ok_or_else(|| {
        anyhow::anyhow!(
            "there is no `dwell.toml` above these files: write `--second-unit us` or `--second-unit metric`"
        )
    })?;
    let text =
        fs::read_to_string(&settings.path).with_context(|| format!("cannot read {}", settings.shown))?;
    let read = dwell_settings::read(&text);
    if let Some(slip) = read.slips.first() {
        return Err(anyhow::anyhow!("{}: {}; `dwell check` shows where", settings.shown, slip.message));
    }
    match read.settings.units {
        Some(dwell_settings::System::Us) => Ok(System::Us),
        Some(dwell_settings::System::Metric) => Ok(System::Metric),
        None => Err(anyhow::anyhow!(
            "{} says no `units`: add `units = \"us\"` or `units = \"metric\"` there, or write which after `--second-unit`",
            settings.shown
        )),
    }
}

impl Format {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        if self.second_unit.is_some()
            && (self.paths.is_empty() || self.paths.iter().any(|path| path.as_os_str() == "-"))
        {
            return Err(anyhow::anyhow!(
                "`--second-unit` needs files: what a limit is a limit of may stand in another one"
            ));
        }
        let standard = self.paths.is_empty() || self.paths.iter().any(|path| path.as_os_str() == "-");
        if standard {
            return if self.paths.len() > 1 {
                Err(anyhow::anyhow!(
                    "`-` is standard input and stands alone: leave it or the other paths out"
                ))
            } else {
                self.standard_input(screen)
            };
        }
        let folder = Folder::of(&self.paths);
        let mut faults: Vec<Unreadable> = folder
            .faults()
            .iter()
            .map(|fault| Unreadable { path: fault.path.clone(), why: fault.what.clone() })
            .collect();
        let mut exit = Exit::Well;
        let paired = self.second_units(&folder)?;
        for path in folder.roots() {
            match folder.read(path) {
                Ok(text) => {
                    let paired = paired.get(path).unwrap_or(&text);
                    exit = exit.max(self.file(screen, path, &text, paired)?);
                }
                Err(why) => faults.push(Unreadable { path: path.clone(), why }),
            }
        }
        unreadable(screen, &faults)?;
        Ok(if faults.is_empty() { exit } else { Exit::Trouble })
    }

    /// The texts that get other second units, by their path.
    fn second_units(&self, folder: &Folder) -> anyhow::Result<BTreeMap<String, String>> {
        let system = match self.second_unit {
            None => return Ok(BTreeMap::new()),
            Some(SecondUnit::Us) => Some(System::Us),
            Some(SecondUnit::Metric) => Some(System::Metric),
            Some(SecondUnit::None) => None,
            Some(SecondUnit::House) => Some(of_the_house(&self.paths)?),
        };
        let (program, edits) = second_units(folder.roots(), folder, Wish { system, rewrite: self.rewrite });
        let mut texts = BTreeMap::new();
        for (file, source) in program.files.iter().enumerate() {
            let mut text = source.text.clone();
            for edit in edits.iter().rev().filter(|edit| edit.place.file == file) {
                let span = edit.place.span;
                if text.is_char_boundary(span.start) && text.is_char_boundary(span.end) {
                    text.replace_range(span.start..span.end, &edit.replacement);
                }
            }
            texts.insert(source.path.clone(), text);
        }
        Ok(texts)
    }

    /// Sets one file; `paired` is its text with the second units that were asked for.
    fn file(&self, screen: &mut Screen, path: &str, text: &str, paired: &str) -> anyhow::Result<Exit> {
        match dwell_syntax::format::format(paired) {
            Err(slips) => {
                show(screen, path, paired, slips)?;
                screen.line(&format!("left as it is: {}", visible(path)))?;
                Ok(Exit::Trouble)
            }
            Ok(set) if set == text => Ok(Exit::Well),
            Ok(_) if self.check => {
                screen.line(&format!("would change: {}", visible(path)))?;
                Ok(Exit::Found)
            }
            Ok(set) => {
                replace(Path::new(path), &set).with_context(|| format!("cannot write {path}"))?;
                screen.line(&format!("set: {}", visible(path)))?;
                Ok(Exit::Well)
            }
        }
    }

    fn standard_input(&self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let mut bytes = Vec::new();
        io::stdin().lock().read_to_end(&mut bytes).context("cannot read standard input")?;
        let text = decoded(bytes).map_err(|why| anyhow::anyhow!("cannot read standard input: {why}"))?;
        match dwell_syntax::format::format(&text) {
            Err(slips) => {
                // Standard output is where the text would go; what is wrong with it does not belong there.
                let mut words = Vec::new();
                let program = program("<standard input>", &text);
                let mut drawing = Drawing::new(&program, screen.style);
                for slip in slips {
                    words.push(drawing.of(&finding(slip)));
                }
                crate::say(&words.join("\n"));
                Ok(Exit::Trouble)
            }
            Ok(set) if self.check => Ok(if set == text { Exit::Well } else { Exit::Found }),
            Ok(set) => {
                screen.write(&set)?;
                Ok(Exit::Well)
            }
        }
    }
}

/// Draws what could not be read.
fn show(screen: &mut Screen, path: &str, text: &str, slips: Vec<Slip>) -> anyhow::Result<()> {
    let program = program(path, text);
    let mut drawing = Drawing::new(&program, screen.style);
    for slip in slips {
        let drawn = drawing.of(&finding(slip));
        screen.line(&drawn)?;
    }
    Ok(())
}

/// A program of one file.
fn program(path: &str, text: &str) -> Program {
    Program { files: vec![SourceFile::alone(path, text)] }
}

/// A slip as a finding in file 0.
fn finding(slip: Slip) -> Finding {
    Finding {
        rule: slip.rule,
        level: Level::Error,
        place: Place { file: 0, span: slip.span },
        message: slip.message,
        label: String::new(),
        why: String::new(),
        help: slip.help,
        related: Vec::new(),
        witness: None,
        fix: slip.fix.map(|fix| Fix::one(Place { file: 0, span: fix.span }, fix.replacement)),
    }
}

/// Puts `text` in the place of a file, whole or not at all. A link stays a link, and the rights stay as they are.
pub(super) fn replace(path: &Path, text: &str) -> io::Result<()> {
    let (written, real) = beside(path, text)?;
    written.persist(&real).map_err(|error| error.error)?;
    Ok(())
}

/// A text written beside the file whose place it will take, and that place.
pub(super) fn beside(path: &Path, text: &str) -> io::Result<(NamedTempFile, PathBuf)> {
    let real = if path.exists() { path.canonicalize()? } else { path.to_owned() };
    let beside = match real.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut written = NamedTempFile::new_in(beside)?;
    written.write_all(text.as_bytes())?;
    match fs::metadata(&real) {
        Ok(about) => written.as_file().set_permissions(about.permissions())?,
        Err(_) => readable_by_all(written.as_file())?,
    }
    written.as_file().sync_all()?;
    Ok((written, real))
}

/// The rights of an ordinary new file; a temporary one is its owner's alone.
#[cfg(unix)]
fn readable_by_all(file: &fs::File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_: &fs::File) -> io::Result<()> {
    Ok(())
}
