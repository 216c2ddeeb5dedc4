//! `dwell check --fix`: the repairs made, or shown as the lines that would change.

use super::{Check, Format, counted};
use crate::commands::format::beside;
use crate::drawing::visible;
use crate::exit::Exit;
use crate::screen::{Ink, Screen};
use crate::work::mended;
use anyhow::Context;
use dwell_check::mend::Mended;
use similar::TextDiff;
use std::path::Path;

impl Check {
    /// Makes the repairs, or shows them.
    pub(super) fn mend(&self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let (work, mended) = mended(&self.paths, self.on.as_deref(), self.settings.as_deref());
        if !self.dry_run {
            write(&mended)?;
        }
        let left = self.exit(&work);
        match self.format {
            Format::Text if self.dry_run => {
                show(screen, &mended)?;
                super::unreadable(screen, &work.unreadable)?;
                screen.line(&said("would be made", &mended))?;
            }
            Format::Text => {
                for done in &mended.done {
                    let line =
                        format!("mended: {}: {} ({})", visible(&done.path), visible(&done.title), done.rule);
                    screen.line(&screen.style.ink(Ink::Faint, &line))?;
                }
                if !mended.done.is_empty() {
                    screen.line("")?;
                }
                self.told(screen, &work)?;
                screen.line(&said("made", &mended))?;
            }
            _ => self.written(screen, &work, Some(&mended.done))?,
        }
        Ok(match (self.dry_run, left, mended.texts.is_empty()) {
            (_, Exit::Trouble, _) => Exit::Trouble,
            (true, _, true) => Exit::Well,
            (true, _, false) => Exit::Found,
            (false, left, _) => left,
        })
    }
}

/// Writes every changed file, or none: each is written beside the old one before the first takes its place.
fn write(mended: &Mended) -> anyhow::Result<()> {
    let mut written = Vec::new();
    for (path, (_, now)) in &mended.texts {
        written.push(beside(Path::new(path), now).with_context(|| format!("cannot write {path}"))?);
    }
    for (file, real) in written {
        let shown = real.display().to_string();
        file.persist(&real).map_err(|error| error.error).with_context(|| format!("cannot write {shown}"))?;
    }
    Ok(())
}

/// The lines that would change, as a unified diff.
fn show(screen: &mut Screen, mended: &Mended) -> anyhow::Result<()> {
    for (path, (was, now)) in &mended.texts {
        let diff = TextDiff::from_lines(was.as_str(), now.as_str());
        let shown = diff.unified_diff().context_radius(3).header(path, path).to_string();
        for line in shown.lines() {
            let ink = match line.chars().next() {
                Some('+') => Ink::Blue,
                Some('-') => Ink::Red,
                _ => Ink::Faint,
            };
            screen.line(&screen.style.ink(ink, &visible(line)))?;
        }
    }
    Ok(())
}

/// "2 repairs made in 1 file".
fn said(how: &str, mended: &Mended) -> String {
    if mended.done.is_empty() {
        return "nothing to repair: no finding has one right repair".to_owned();
    }
    let repairs = counted(mended.done.len(), "repair", "repairs");
    format!("{repairs} {how} in {}", counted(mended.texts.len(), "file", "files"))
}
