//! The report as plain text, 80 columns, for a tired technician and for the customer's folder.

use super::{Decided, Found, ReadingLine, Report};
use crate::event::{Cannot, PhotoTaken, Signed, ToolTaken};
use crate::word::Outcome;
use std::fmt;

const WIDTH: usize = 80;

impl fmt::Display for Report {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.heading(out)?;
        if !self.readings.is_empty() {
            writeln!(out, "\nREADINGS")?;
            for line in &self.readings {
                reading(out, line)?;
            }
        }
        list(out, "DECIDED BESIDES", self.decided.iter().map(Decided::words))?;
        let causes = self.causes.iter().map(|cause| match &cause.text {
            Some(text) => format!("{}: {text}", cause.item),
            None => cause.item.clone(),
        });
        list(out, "PROBABLE CAUSES", causes)?;
        list(out, "WHAT WAS SAID AT THE END", self.told.iter().cloned())?;
        list(out, "GO ON WITH", self.refer.iter().cloned())?;
        list(out, "STOPPED", self.stopped.iter().cloned())?;
        list(out, "STILL OPEN: see to this before the vehicle is used", self.open.iter().cloned())?;
        list(out, "IN DOUBT", self.doubts.iter().cloned())?;
        list(out, "COULD NOT BE DONE", self.cannot.iter().map(Cannot::words))?;
        list(out, "NOT HELD", self.lost.iter().map(|lost| lost.says.clone()))?;
        list(out, "SIGNED", self.signed.iter().map(Signed::words))?;
        let shown = self.cautions.iter().map(|caution| format!("{}: {}", caution.level, caution.text));
        list(out, "CAUTIONS SHOWN", shown)?;
        list(out, "TOOLS", self.tools.iter().map(ToolTaken::words))?;
        list(out, "PHOTOS", self.photos.iter().map(PhotoTaken::words))?;
        list(out, "IN HAND, AND PUT RIGHT", self.history.iter().cloned())?;
        let right = self.put_right.iter().map(|right| right.words());
        list(out, "PUT RIGHT AFTER THE END: what stands above is as it was decided then", right)?;
        let back = self.clock_back.iter().map(|seq| format!("The clock was set back before event {seq}."));
        list(out, "CLOCK", back)?;
        writeln!(out, "\nRESULT: {}", self.result_words())
    }
}

impl Report {
    /// The result as printed: in capitals, because it must be found at a glance.
    pub fn result_words(&self) -> String {
        match self.result {
            Some(Outcome::Referred) => match &self.refer {
                Some(to) => format!("REFERRED to {to}"),
                None => "REFERRED".into(),
            },
            Some(result) => result.words().to_uppercase(),
            None => "NOT FINISHED: the record ends before the procedure does".into(),
        }
    }

    fn heading(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Some(begun) = &self.begun else {
            return writeln!(out, "A record without its beginning");
        };
        writeln!(out, "{}", begun.title)?;
        if !begun.by.is_unknown() {
            writeln!(out, "Begun by   {}", begun.by)?;
        }
        for typed in &self.typed {
            writeln!(out, "Typed in   from paper by {},", typed.by)?;
            writeln!(out, "           {} to {}", typed.from, typed.until)?;
        }
        let revision = begun.revision.as_ref().map(|r| format!(", revision {} of {}", r.number, r.date));
        writeln!(out, "Procedure  {}{}", begun.procedure, revision.unwrap_or_default())?;
        if let Some(vehicle) = &begun.vehicle {
            writeln!(out, "Number     {vehicle}")?;
        }
        if !begun.variants.is_empty() {
            let all: Vec<String> =
                begun.variants.iter().map(|(axis, value)| format!("{axis} {value}")).collect();
            writeln!(out, "Vehicle    {}", all.join(", "))?;
        }
        writeln!(out, "Time       {} to {}", known(&self.from), known(&self.until))?;
        if begun.guarded {
            writeln!(out, "Decided    with the tool's accuracy as guard band")?;
        }
        writeln!(out, "Card       {}", begun.card)?;
        writeln!(out, "Written by {}", begun.program)
    }
}

fn known(time: &Option<String>) -> &str {
    time.as_deref().unwrap_or("unknown")
}

fn reading(out: &mut fmt::Formatter<'_>, line: &ReadingLine) -> fmt::Result {
    writeln!(out, "  {} ({})", line.reading.words(), line.reading.procedure)?;
    if line.measured == 1 || (line.measured == 0 && line.as_found == line.as_left) {
        return found(out, "as found and left", &line.as_found);
    }
    found(out, "as found", &line.as_found)?;
    found(out, "as left", &line.as_left)
}

fn found(out: &mut fmt::Formatter<'_>, when: &str, found: &Found) -> fmt::Result {
    let mut text = format!("    {when:<18} {}", found.value);
    match found.words() {
        Some(words) if words != found.value => text = format!("{text:<38} {words}"),
        Some(_) => {}
        None => text = format!("{text:<38} not judged"),
    }
    if let Some(band) = &found.band {
        let what = if found.adjusting { "set to" } else { "band" };
        let beside = format!("{text:<58} {what} {band}");
        text = match beside.chars().count() {
            ..=WIDTH => beside,
            _ => format!("{text}\n{:23}{what} {band}", ""),
        };
    }
    writeln!(out, "{}", text.trim_end())?;
    if let Some(how) = &found.how {
        for line in wrapped(how, WIDTH - 23) {
            writeln!(out, "{:23}{line}", "")?;
        }
    }
    let Some(uncertain) = &found.uncertain else { return Ok(()) };
    writeln!(
        out,
        "{:23}{} with ± {}; probability in band {}",
        "",
        uncertain.verdict.words(),
        uncertain.uncertainty,
        uncertain.conformance
    )
}

fn list(out: &mut fmt::Formatter<'_>, title: &str, lines: impl Iterator<Item = String>) -> fmt::Result {
    let mut lines = lines.peekable();
    if lines.peek().is_none() {
        return Ok(());
    }
    writeln!(out, "\n{title}")?;
    for line in lines {
        let mut first = true;
        for part in wrapped(&line, WIDTH - 4) {
            writeln!(out, "{}{part}", if first { "  - " } else { "    " })?;
            first = false;
        }
    }
    Ok(())
}

/// A text in lines of at most `width` characters, cut at blanks; a word longer than that stays whole.
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
