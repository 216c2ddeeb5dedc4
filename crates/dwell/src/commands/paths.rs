//! `dwell paths`: the ways through procedures, from the beginning to the end, each with what leads there.

use super::check::{counted, unreadable};
use crate::drawing::{Drawing, shown_place, visible};
use crate::exit::Exit;
use crate::screen::{Ink, Screen, wrapped};
use crate::work::{Work, work};
use anyhow::bail;
use clap::{Args, ValueEnum};
use dwell_check::finding::{Level, Reply};
use dwell_report::json;
use dwell_trial::{Confirmed, Wanted, WayThrough, WaysThrough, as_case, ways};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// The most ways of one procedure for one combination of variants.
const MOST_WAYS: usize = 500;

/// The most findings about the text that are drawn.
const MOST: usize = 20;

/// List the ways through procedures: how each ends, and the readings and answers that lead there.
///
/// The ways are found by the analysis that `dwell check` uses, and each is then gone by the runner, with the answers that are
/// shown: it must come node by node to the same end. Listed is, for each procedure and each combination of variants that makes
/// a difference, a small number of ways on which every branch is at least once; with `--all` every way, at most 500 for a
/// combination. Nobody stops on these ways. A way that hangs on formulas or tables may be possible for the analysis although no
/// readings lead along it; it is marked as not confirmed, and why is said.
///
/// Exit status: 0 listed; 1 an error is open in the text; 2 a file that could not be read, nothing to list, or a way that
/// checker and runner do not agree on, which is a mistake of Dwell.
#[derive(Debug, Args)]
pub(crate) struct Paths {
    /// A file or folder, or the name of a procedure below this folder
    #[arg(default_value = ".", value_name = "FILE|PROCEDURE")]
    of: String,
    /// Only for this value of a variant, once for each: engine-family=k9
    #[arg(long = "variant", value_name = "NAME=VALUE", value_parser = super::run::variant)]
    variants: Vec<(String, String)>,
    /// List every way, not only enough for every branch
    #[arg(long)]
    all: bool,
    /// Write each way as a case, ready to be pasted into the procedure
    #[arg(long)]
    as_cases: bool,
    /// How to write the ways
    #[arg(long, value_enum, default_value_t, value_name = "FORMAT", conflicts_with = "as_cases")]
    format: Format,
}

/// How ways are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    #[default]
    Text,
    /// For other programs
    Json,
}

impl Paths {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let (path, procedure) = match Path::new(&self.of).exists() {
            true => (PathBuf::from(&self.of), None),
            false => (PathBuf::from("."), Some(self.of.as_str())),
        };
        let work = work(&[path], None);
        let checked = &work.checked;
        if let Some(name) = procedure
            && !checked.procedures.iter().any(|known| known.name == name)
        {
            bail!("there is no file `{name}`, and no procedure of that name below this folder");
        }
        self.known(&work)?;
        let now = OffsetDateTime::now_utc().replace_nanosecond(0)?.format(&Rfc3339)?;
        let wanted = if self.all { Wanted::All(MOST_WAYS) } else { Wanted::EveryBranch };
        let found = ways(checked, procedure, &self.variants, wanted, &now);
        match self.format {
            Format::Json => screen.line(&serde_json::to_string_pretty(&as_json(&work, &found))?)?,
            Format::Text if self.as_cases => cases(screen, &work, &found)?,
            Format::Text => self.text(screen, &work, &found)?,
        }
        let contradicted = found.iter().flat_map(|of| &of.ways).find_map(|way| match &way.confirmed {
            Confirmed::Contradicted(why) => Some(why),
            _ => None,
        });
        if let Some(why) = contradicted {
            crate::say(&format!(
                "dwell: checker and runner do not agree on a way: {why}\n  help: this is a mistake in dwell and not in \
                 your text: please report it with the file in question"
            ));
        }
        let open = checked
            .procedures
            .iter()
            .any(|known| known.card.is_none() && procedure.is_none_or(|name| name == known.name));
        Ok(if contradicted.is_some() || !work.unreadable.is_empty() || checked.procedures.is_empty() {
            Exit::Trouble
        } else if open {
            Exit::Found
        } else {
            Exit::Well
        })
    }

    /// Every variant that is given must be one of some procedure.
    fn known(&self, work: &Work) -> anyhow::Result<()> {
        for (name, value) in &self.variants {
            let cards = work.checked.procedures.iter().filter_map(|known| known.card.as_ref());
            let axes: Vec<_> = cards.flat_map(|card| &card.axes).filter(|axis| axis.name == *name).collect();
            if axes.is_empty() {
                bail!("no procedure here asks for `{name}`: leave `--variant {name}={value}` out");
            }
            if !axes.iter().any(|axis| axis.values.contains(value)) {
                let values = axes.first().map(|axis| axis.values.join(", ")).unwrap_or_default();
                bail!("`{name}` has no value `{value}` here: it has {values}");
            }
        }
        Ok(())
    }

    fn text(&self, screen: &mut Screen, work: &Work, found: &[WaysThrough]) -> anyhow::Result<()> {
        errors(screen, work)?;
        for of in found {
            if screen.is_gone() {
                return Ok(());
            }
            let variants: Vec<String> =
                of.variants.iter().map(|(axis, value)| format!(", {axis} {value}")).collect();
            let name = screen.style.ink(Ink::Bold, &of.procedure);
            let more = if of.complete { "" } else { ", and there are more" };
            screen.line(&format!(
                "{name}{}: {}{more}",
                variants.concat(),
                counted(of.ways.len(), "way", "ways")
            ))?;
            let place = shown_place(&work.checked.program, of.place);
            screen.line(&screen.style.ink(Ink::Faint, &format!("  {place}")))?;
            for (number, way) in (1..).zip(&of.ways) {
                one(screen, number, way)?;
            }
            screen.line("")?;
        }
        screen.line(&self.summary(work, found))?;
        Ok(())
    }

    fn summary(&self, work: &Work, found: &[WaysThrough]) -> String {
        if work.checked.procedures.is_empty() {
            return "no procedure to list the ways of".to_owned();
        }
        let all: Vec<&WayThrough> = found.iter().flat_map(|of| &of.ways).collect();
        let confirmed = all.iter().filter(|way| way.confirmed == Confirmed::Yes).count();
        let what = if self.all { "listed" } else { "enough for every branch" };
        let ways = counted(all.len(), "way", "ways");
        if confirmed == all.len() {
            format!("{ways}, {what}; the runner went each of them")
        } else {
            format!(
                "{ways}, {what}; the runner went {confirmed} of them, for {} no readings were found",
                all.len() - confirmed
            )
        }
    }
}

/// The errors of the text, because of which procedures have no card.
fn errors(screen: &mut Screen, work: &Work) -> anyhow::Result<()> {
    let mut drawing = Drawing::new(&work.checked.program, screen.style);
    for finding in work.checked.findings.iter().filter(|finding| finding.level == Level::Error).take(MOST) {
        let drawn = drawing.of(finding);
        screen.line(&drawn)?;
    }
    unreadable(screen, &work.unreadable)
}

/// One way: its end, what decides, the steps.
fn one(screen: &mut Screen, number: usize, way: &WayThrough) -> anyhow::Result<()> {
    let ink = match way.ends {
        "passed" => Ink::Green,
        "failed" => Ink::Red,
        _ => Ink::Yellow,
    };
    let doubt = match &way.confirmed {
        Confirmed::Yes => "",
        Confirmed::NotFound(_) => "  not confirmed",
        Confirmed::Contradicted(_) => "  NOT CONFIRMED: the runner goes another way",
    };
    screen.line(&format!("  {number:>3}  {}{doubt}", screen.style.ink(ink, way.ends)))?;
    for told in way.told.iter().filter(|told| **told != format!("it ends {}", way.ends)) {
        for line in wrapped("       ", 9, &visible(told)) {
            screen.line(&line)?;
        }
    }
    if let Confirmed::NotFound(why) = &way.confirmed {
        for line in wrapped("       ", 9, &visible(why)) {
            screen.line(&screen.style.ink(Ink::Yellow, &line))?;
        }
    }
    if !way.steps.is_empty() {
        for line in wrapped("       steps: ", 9, &way.steps.join(", ")) {
            screen.line(&screen.style.ink(Ink::Faint, &line))?;
        }
    }
    Ok(())
}

/// The ways as cases; one that no readings were found for stands there as a comment.
fn cases(screen: &mut Screen, work: &Work, found: &[WaysThrough]) -> anyhow::Result<()> {
    errors(screen, work)?;
    for of in found {
        let compiled = work.checked.procedures.iter().find(|known| known.place == of.place);
        let Some(card) = compiled.and_then(|known| known.card.as_ref()) else { continue };
        screen.line(&format!("    # Ways through `{}`", of.procedure))?;
        for (number, way) in (1..).zip(&of.ways) {
            match &way.confirmed {
                Confirmed::Yes => {}
                Confirmed::NotFound(why) | Confirmed::Contradicted(why) => {
                    screen.line(&format!("    # way {number}: {}", visible(why)))?;
                    continue;
                }
            }
            screen.write(&as_case(way, card, &of.variants, number))?;
        }
    }
    Ok(())
}

fn as_json(work: &Work, found: &[WaysThrough]) -> Value {
    let program = &work.checked.program;
    let all: Vec<Value> = found
        .iter()
        .map(|of| {
            let variants: serde_json::Map<String, Value> =
                of.variants.iter().map(|(axis, value)| (axis.clone(), json!(value))).collect();
            let ways: Vec<Value> = of.ways.iter().map(way_as_json).collect();
            json!({
                "procedure": of.procedure,
                "at": json::place(program, of.place),
                "variants": variants,
                "complete": of.complete,
                "ways": ways,
            })
        })
        .collect();
    json!({
        "version": json::VERSION,
        "program": concat!("dwell ", env!("CARGO_PKG_VERSION")),
        "procedures": all,
    })
}

fn way_as_json(way: &WayThrough) -> Value {
    let answers: Vec<Value> = way.answers.iter().map(|reply: &Reply| json::reply(reply)).collect();
    json!({
        "ends": way.ends,
        "told": way.told,
        "steps": way.steps,
        "answers": answers,
        "confirmed": way.confirmed == Confirmed::Yes,
        "why": match &way.confirmed {
            Confirmed::Yes => None,
            Confirmed::NotFound(why) | Confirmed::Contradicted(why) => Some(why),
        },
    })
}
