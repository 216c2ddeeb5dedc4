//! Findings as text: a headline, the source with the marked places under it, why, the way that leads there, and help.

mod marks;
mod visible;
mod window;

#[cfg(test)]
mod tests;

pub(crate) use visible::visible;

use crate::screen::{Ink, Style, WIDTH, wrapped};
use dwell_check::finding::{Finding, Level, Place};
use dwell_check::program::Program;
use marks::Marks;

/// Draws findings over the files of one program; each file is prepared once.
pub(crate) struct Drawing<'a> {
    style: Style,
    marks: Marks<'a>,
}

impl<'a> Drawing<'a> {
    /// For the findings of that program.
    pub(crate) fn new(program: &'a Program, style: Style) -> Drawing<'a> {
        Drawing { style, marks: Marks::new(program, style) }
    }

    /// One finding, several lines, with a line end after each.
    pub(crate) fn of(&mut self, finding: &Finding) -> String {
        let mut lines = vec![self.headline(finding), self.marks.under(finding)];
        let says = finding.witness.as_ref().map_or("", |witness| &witness.says);
        for words in [&finding.why, says].into_iter().filter(|words| !words.is_empty()) {
            lines.extend(wrapped("  ", 2, &visible(words)));
        }
        if let Some(help) = &finding.help {
            let mut help = wrapped("  help: ", 8, &visible(help));
            if let Some(first) = help.first_mut() {
                *first = first.replacen("help:", &self.style.ink(Ink::Blue, "help:"), 1);
            }
            lines.extend(help);
        }
        lines.join("\n") + "\n"
    }

    /// "error: what is wrong", and the rule's name at the right.
    fn headline(&self, finding: &Finding) -> String {
        let word = finding.level.word();
        let mut lines = wrapped(&format!("{word}: "), 2, &visible(&finding.message));
        let used = lines.last().map_or(0, |line| line.chars().count());
        let free = WIDTH.saturating_sub(used + finding.rule.len());
        let rule = self.style.ink(Ink::Faint, finding.rule);
        match lines.last_mut() {
            Some(line) if free >= 2 => {
                line.push_str(&" ".repeat(free));
                line.push_str(&rule);
            }
            _ => lines.push(format!("{}{rule}", " ".repeat(WIDTH.saturating_sub(finding.rule.len())))),
        }
        let text = lines.join("\n");
        match text.strip_prefix(word) {
            Some(rest) => format!("{}{rest}", self.style.ink(ink(finding.level), word)),
            None => text,
        }
    }
}

/// The ink of a level.
pub(crate) fn ink(level: Level) -> Ink {
    match level {
        Level::Error => Ink::Red,
        Level::Warning => Ink::Yellow,
        Level::Information | Level::Hint => Ink::Blue,
    }
}

/// Path, line and column of a place, as people and editors write it.
pub(crate) fn shown_place(program: &Program, place: Place) -> String {
    match program.files.get(place.file) {
        Some(file) => {
            let (line, column) = file.lines.place(&file.text, place.span.start);
            format!("{}:{line}:{column}", visible(&file.path))
        }
        None => "an unknown file".to_owned(),
    }
}
