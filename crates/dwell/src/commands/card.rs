//! The card that a command is for: read from its file, or made from a text that has no error.

use crate::commands::check::{findings, unreadable};
use crate::screen::Screen;
use crate::work::work;
use anyhow::{Context, anyhow, bail};
use dwell_card::Card;
use std::path::Path;

/// The most findings that are drawn when a text is refused.
const MOST: usize = 20;

/// A command that takes a card: its name, and what it does with the card.
pub(super) struct For {
    /// `run`.
    pub(super) name: &'static str,
    /// What there is nothing of: `run`.
    pub(super) to: &'static str,
    /// What was not done: `run`.
    pub(super) done: &'static str,
}

/// The card; none where a text was refused, which is then said.
pub(super) fn card(
    screen: &mut Screen,
    path: &Path,
    procedure: Option<&str>,
    command: &For,
) -> anyhow::Result<Option<Card>> {
    let is_text = path.extension().is_some_and(|end| end == "dwell");
    if is_text {
        compiled(screen, path, procedure, command)
    } else {
        read(path, procedure, command).map(Some)
    }
}

fn read(path: &Path, procedure: Option<&str>, command: &For) -> anyhow::Result<Card> {
    let shown = path.display();
    let text = dwell_workspace::read(path).map_err(|why| anyhow!("cannot read {shown}: {why}"))?;
    let card = Card::from_json(&text).with_context(|| {
        let name = command.name;
        format!("cannot read {shown}\n  help: `{name}` takes a card, or a file whose name ends in `.dwell`")
    })?;
    match procedure {
        Some(name) if name != card.procedure => {
            bail!("{shown} is the card of `{}`, not of `{name}`: leave `--procedure` out", card.procedure)
        }
        _ => Ok(card),
    }
}

fn compiled(
    screen: &mut Screen,
    path: &Path,
    procedure: Option<&str>,
    command: &For,
) -> anyhow::Result<Option<Card>> {
    let work = work(&[path.to_owned()], None);
    unreadable(screen, &work.unreadable)?;
    if !work.unreadable.is_empty() {
        return Ok(None);
    }
    let shown = path.display();
    let all = &work.checked.procedures;
    let names: Vec<String> = all.iter().map(|compiled| format!("`{}`", compiled.name)).collect();
    let found = match (procedure, all.as_slice()) {
        (_, []) if !work.checked.has_errors() => {
            bail!("{shown} declares no procedure, so there is nothing to {}", command.to)
        }
        (_, []) => None,
        (None, [only]) => Some(only),
        (None, _) => bail!(
            "{shown} declares several procedures: say which with `--procedure NAME`\n  help: there are {}",
            names.join(", ")
        ),
        (Some(name), all) => match all.iter().find(|compiled| compiled.name == name) {
            Some(compiled) => Some(compiled),
            None => bail!("{shown} declares no procedure `{name}`\n  help: there are {}", names.join(", ")),
        },
    };
    if let Some(card) = found.and_then(|compiled| compiled.card.clone()) {
        return Ok(Some(card));
    }
    findings(screen, &work.checked, MOST)?;
    screen.line(&format!(
        "nothing was {}: an error is open in {shown} or in a file that it uses",
        command.done
    ))?;
    Ok(None)
}
