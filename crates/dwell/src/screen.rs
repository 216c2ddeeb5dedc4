//! The terminal, or what stands in its place: one writer for all output, and whether it takes colour and line drawing.

use clap::ValueEnum;
use std::env;
use std::io::{self, BufWriter, ErrorKind, IsTerminal, Stdout, Write};

/// How wide text is set, in columns.
pub(crate) const WIDTH: usize = 80;

/// When to write in colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(crate) enum When {
    /// Where it is seen: on a terminal, unless NO_COLOR is set or TERM is `dumb`; and where CLICOLOR_FORCE is set
    #[default]
    Auto,
    /// Everywhere
    Always,
    /// Nowhere
    Never,
}

/// A colour or weight of the words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    /// Errors, danger, out of band.
    Red,
    /// The signal word WARNING.
    Orange,
    /// Warnings.
    Yellow,
    /// In band, passed.
    Green,
    /// Information and help.
    Blue,
    /// What stands in the background.
    Faint,
    /// Headings.
    Bold,
}

impl Ink {
    fn code(self) -> &'static str {
        match self {
            Ink::Red => "1;31",
            Ink::Orange => "1;38;5;208",
            Ink::Yellow => "1;33",
            Ink::Green => "1;32",
            Ink::Blue => "1;34",
            Ink::Faint => "2",
            Ink::Bold => "1",
        }
    }
}

/// How words are set: with or without colour, with lines drawn in Unicode or in ASCII.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Style {
    /// Whether colour is written.
    pub(crate) colour: bool,
    /// Whether lines are drawn with ASCII only.
    pub(crate) ascii: bool,
}

impl Style {
    /// The words in that ink.
    pub(crate) fn ink(self, ink: Ink, words: &str) -> String {
        if self.colour { format!("\u{1B}[{}m{words}\u{1B}[0m", ink.code()) } else { words.to_owned() }
    }
}

/// Standard output. A reader that goes away, as `head` does, is no trouble: what follows is dropped.
pub(crate) struct Screen {
    out: BufWriter<Stdout>,
    /// How words are set.
    pub(crate) style: Style,
    gone: bool,
}

impl Screen {
    /// Standard output with what the command line and the environment say of it.
    pub(crate) fn new(when: When, ascii: bool) -> Screen {
        let set = |name: &str| env::var_os(name).is_some_and(|value| !value.is_empty());
        let colour = match when {
            When::Always => true,
            When::Never => false,
            When::Auto if set("NO_COLOR") => false,
            When::Auto if set("CLICOLOR_FORCE") => {
                env::var_os("CLICOLOR_FORCE").is_some_and(|force| force != "0")
            }
            When::Auto => io::stdout().is_terminal() && env::var_os("TERM").is_none_or(|term| term != "dumb"),
        };
        let style = Style { colour, ascii: ascii || foreign_letters() };
        Screen { out: BufWriter::new(io::stdout()), style, gone: false }
    }

    /// Another one like it, for a thread of its own.
    pub(crate) fn beside(&self) -> Screen {
        Screen { out: BufWriter::new(io::stdout()), style: self.style, gone: self.gone }
    }

    /// Writes a line.
    pub(crate) fn line(&mut self, words: &str) -> io::Result<()> {
        self.write(words)?;
        self.write("\n")
    }

    /// Writes words as they are.
    pub(crate) fn write(&mut self, words: &str) -> io::Result<()> {
        if self.gone {
            return Ok(());
        }
        let written = self.out.write_all(words.as_bytes());
        self.unless_gone(written)
    }

    /// Shows what was written so far.
    pub(crate) fn flush(&mut self) -> io::Result<()> {
        if self.gone {
            return Ok(());
        }
        let flushed = self.out.flush();
        self.unless_gone(flushed)
    }

    /// Whether nobody reads any more.
    pub(crate) fn is_gone(&self) -> bool {
        self.gone
    }

    fn unless_gone(&mut self, result: io::Result<()>) -> io::Result<()> {
        match result {
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.gone = true;
                Ok(())
            }
            other => other,
        }
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        if self.gone {
            // The buffer still holds what could not be written; its own attempt at the end would be no better.
            return;
        }
        let _ = self.out.flush();
    }
}

/// Whether the locale names a character set that has no line drawing.
fn foreign_letters() -> bool {
    let named = ["LC_ALL", "LC_CTYPE", "LANG"]
        .into_iter()
        .find_map(|name| env::var(name).ok().filter(|value| !value.is_empty()));
    named
        .and_then(|locale| Some(locale.split_once('.')?.1.to_lowercase()))
        .is_some_and(|letters| !letters.starts_with("utf-8") && !letters.starts_with("utf8"))
}

/// Breaks `words` at blanks into lines of at most [`WIDTH`] columns, `first` before the first line and as many blanks as
/// `indent` says before the others. A word longer than a line stays whole. Line ends in `words` stay.
pub(crate) fn wrapped(first: &str, indent: usize, words: &str) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = first.to_owned();
    let mut empty = true;
    for (place, part) in words.lines().enumerate() {
        if place > 0 {
            lines.push(std::mem::replace(&mut line, " ".repeat(indent)));
            empty = true;
        }
        for word in part.split_whitespace() {
            let wide = line.chars().count() + usize::from(!empty) + word.chars().count();
            if wide > WIDTH && !empty {
                lines.push(std::mem::replace(&mut line, " ".repeat(indent)));
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
    }
    lines.push(line);
    lines
}
