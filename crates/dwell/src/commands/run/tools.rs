//! Which tools of the workshop are used: taken from the register, refused where they are not good enough or overdue.

use super::Job;
use super::asking::typed;
use crate::drawing::visible;
use crate::screen::{Screen, wrapped};
use anyhow::{anyhow, bail};
use clap::Args;
use dwell_bay::{counts, noted};
use dwell_card::limit;
use dwell_record::event::{Allowed, ToolTaken};
use dwell_tools::{Against, Register, Standing};
use std::path::{Path, PathBuf};
use time::{Date, OffsetDateTime};

/// Which tools are used.
#[derive(Debug, Args)]
pub(crate) struct Tools {
    /// The register of the workshop's tools; without it, `tools.toml` beside the file that is run or in a folder above it
    #[arg(long, value_name = "FILE.toml")]
    tools: Option<PathBuf>,
    /// The tool that is used, by the number on its label: torque-wrench=TW-07
    #[arg(long = "tool", value_name = "NAME=NUMBER", value_parser = super::variant)]
    chosen: Vec<(String, String)>,
    /// Who allows a tool whose calibration is over, for the record
    #[arg(long, value_name = "NAME", requires = "because")]
    allowed_by: Option<String>,
    /// Why it is allowed
    #[arg(long, value_name = "REASON", requires = "allowed_by")]
    because: Option<String>,
}

/// The register that counts for a file or a folder: the one that is named, else the nearest one above; none where there is none.
pub(crate) fn register(named: Option<&Path>, run: &Path) -> anyhow::Result<Option<Register>> {
    let beside = || {
        let run = std::path::absolute(run).ok()?;
        let from = usize::from(!run.is_dir());
        run.ancestors().skip(from).map(|folder| folder.join(dwell_tools::NAME)).find(|path| path.exists())
    };
    let Some(path) = named.map(Path::to_owned).or_else(beside) else { return Ok(None) };
    let shown = path.display();
    let text = dwell_workspace::read(&path).map_err(|why| anyhow!("cannot read {shown}: {why}"))?;
    match dwell_tools::read(&text) {
        Ok(register) => Ok(Some(register)),
        Err(faults) => {
            let all: Vec<String> = faults.iter().map(|fault| format!("{shown}, {fault}")).collect();
            bail!("{}", all.join("\n"))
        }
    }
}

impl Tools {
    /// The register that counts for a file.
    pub(crate) fn register(&self, run: &Path) -> anyhow::Result<Option<Register>> {
        register(self.tools.as_deref(), run)
    }

    /// Takes the tools that were named, and asks for the others where somebody is there to answer.
    pub(crate) fn take(
        &self,
        job: &mut Job,
        screen: &mut Screen,
        run: &Path,
        asks: bool,
    ) -> anyhow::Result<()> {
        let register = register(self.tools.as_deref(), run)?;
        let asked: Vec<limit::Tool> =
            job.session.card().tools.iter().filter(|tool| counts(tool)).cloned().collect();
        if let Some((name, _)) =
            self.chosen.iter().find(|(name, _)| !asked.iter().any(|tool| tool.name == *name))
        {
            let known: Vec<&str> = asked.iter().map(|tool| tool.name.as_str()).collect();
            bail!(
                "`{name}` is no tool that this procedure measures or sets with: it has {}",
                known.join(", ")
            );
        }
        let Some(register) = register else {
            if self.chosen.is_empty() {
                return Ok(());
            }
            bail!(
                "no register of tools is here\n  help: write `{}` beside the file that is run, or name one with `--tools FILE`",
                dwell_tools::NAME
            );
        };
        // The day that counts: on a sheet of paper it is the one on the sheet.
        let day = dwell_tools::day(&job.now()?).unwrap_or(OffsetDateTime::now_utc().date());
        let mut told = false;
        for tool in &asked {
            let taken = match self.chosen.iter().find(|(name, _)| *name == tool.name) {
                Some((_, number)) => Some(self.named(&register, tool, number, day)?),
                None if asks && register.serving(&tool.name).next().is_some() => {
                    if !std::mem::replace(&mut told, true) {
                        screen.line("")?;
                        screen.line("Which tools are used? Scan or type the number on the label.")?;
                    }
                    asked_for(screen, &register, tool, day)?
                }
                None => None,
            };
            if let Some(taken) = taken {
                let events = job.does(|session, at| session.take_tool(taken, at))??;
                job.happened(screen, &events)?;
            }
        }
        Ok(())
    }

    /// Looks at the tools of a job that is gone on with: those that were named now are taken, and for each whose calibration has
    /// ended since another one is asked for, or who answers for it.
    pub(crate) fn look_again(&self, job: &mut Job, screen: &mut Screen, run: &Path) -> anyhow::Result<()> {
        if !self.chosen.is_empty() {
            self.take(job, screen, run, false)?;
        }
        let register = self.register(run)?;
        let day = dwell_tools::day(&job.now()?).unwrap_or(OffsetDateTime::now_utc().date());
        let taken: Vec<ToolTaken> = job.session.tools_taken().into_iter().cloned().collect();
        for known in taken {
            let due = known.due.as_deref().and_then(dwell_tools::day);
            let Some(since) = due.filter(|due| *due < day && known.allowed.is_none()) else { continue };
            screen.line("")?;
            let over = Standing::Overdue { since };
            tell(screen, "  ! ", &format!("{} is {}: {over}.", known.label, known.number))?;
            let asked = job.session.card().tools.iter().find(|tool| tool.name == known.tool).cloned();
            let another = match (&register, asked) {
                (Some(register), Some(asked)) => asked_for(screen, register, &asked, day)?,
                _ => allowed(screen, over)?
                    .map(|allowed| ToolTaken { allowed: Some(allowed), ..known.clone() }),
            };
            match another {
                Some(taken) => {
                    let events = job.does(|session, at| session.take_tool(taken, at))??;
                    job.happened(screen, &events)?;
                }
                None => tell(screen, "  ! ", "nobody answers for it: do not use it")?,
            }
        }
        Ok(())
    }

    /// The tool with a number, where it serves, or where somebody answers for it.
    fn named(
        &self,
        register: &Register,
        asked: &limit::Tool,
        number: &str,
        day: Date,
    ) -> anyhow::Result<ToolTaken> {
        let Some(tool) = register.numbered(number) else {
            let known: Vec<&str> = register.serving(&asked.name).map(|tool| tool.number.as_str()).collect();
            let help = match known.is_empty() {
                true => format!("it has no {} at all", asked.label),
                false => format!("as {} it has {}", asked.name, known.join(", ")),
            };
            bail!("the register has no tool `{number}`\n  help: {help}");
        };
        match (tool.serves(asked, day), &self.allowed_by, &self.because) {
            (Ok(standing), _, _) => Ok(noted(tool, asked, standing, None)),
            (Err(Against::Calibration(standing)), Some(by), Some(why)) => {
                let allowed = Allowed { by: by.clone(), why: why.clone(), although: standing.to_string() };
                Ok(noted(tool, asked, standing, Some(allowed)))
            }
            (Err(against @ Against::Calibration(_)), _, _) => bail!(
                "{} cannot be used: {against}\n  help: take another one; or `--allowed-by NAME --because REASON`, which the record keeps",
                tool.number
            ),
            (Err(against), _, _) => {
                bail!(
                    "{} cannot be used as {}: {against}\n  help: take another one",
                    tool.number,
                    asked.label
                )
            }
        }
    }
}

/// Asks which one is used until one serves; none where nobody wants to say.
fn asked_for(
    screen: &mut Screen,
    register: &Register,
    asked: &limit::Tool,
    day: Date,
) -> anyhow::Result<Option<ToolTaken>> {
    screen.line("")?;
    tell(screen, "  ", &asked.label)?;
    let mut good = Vec::new();
    for tool in register.serving(&asked.name) {
        let stands = tool.serves(asked, day);
        let words = match &stands {
            Ok(standing) => standing.to_string(),
            Err(against) => format!("not to be used: {against}"),
        };
        tell(screen, "    ", &format!("{}, {words}", tool.number))?;
        good.extend(stands.ok().map(|_| tool));
    }
    let first = match good.as_slice() {
        [only] => Some(only.number.clone()),
        _ => None,
    };
    let question = match &first {
        Some(number) => format!("  number (Enter: {number}; none: not noted)"),
        None => "  number (none: not noted)".to_owned(),
    };
    loop {
        let Some(line) = typed(screen, &question)? else { return Ok(None) };
        let line = line.trim();
        let number = match (line, &first) {
            ("none", _) => return Ok(None),
            ("", Some(number)) => number.as_str(),
            ("", None) => continue,
            (number, _) => number,
        };
        let Some(tool) = register.numbered(number) else {
            tell(screen, "  ! ", &format!("the register has no tool `{number}`: read its label again"))?;
            continue;
        };
        match tool.serves(asked, day) {
            Ok(standing) => return Ok(Some(noted(tool, asked, standing, None))),
            Err(Against::Calibration(standing)) => {
                tell(
                    screen,
                    "  ! ",
                    &format!("{}: {standing}. It is used only where somebody answers for it.", tool.number),
                )?;
                if let Some(allowed) = allowed(screen, standing)? {
                    return Ok(Some(noted(tool, asked, standing, Some(allowed))));
                }
            }
            Err(against) => tell(screen, "  ! ", &format!("{} cannot be used here: {against}", tool.number))?,
        }
    }
}

/// Who allows it and why; none where nobody does.
fn allowed(screen: &mut Screen, standing: Standing) -> anyhow::Result<Option<Allowed>> {
    let by = typed(screen, "  who allows it (Enter: another tool)")?.unwrap_or_default();
    let by = crate::commands::kept::plain(&by);
    if by.is_empty() {
        return Ok(None);
    }
    let why = typed(screen, "  why")?.unwrap_or_default();
    let why = crate::commands::kept::plain(&why);
    if why.is_empty() {
        tell(screen, "  ! ", "without a reason it is not allowed: the record keeps both")?;
        return Ok(None);
    }
    Ok(Some(Allowed { by, why, although: standing.to_string() }))
}

fn tell(screen: &mut Screen, before: &str, words: &str) -> anyhow::Result<()> {
    for line in wrapped(before, before.len() + 2, &visible(words)) {
        screen.line(&line)?;
    }
    Ok(())
}
