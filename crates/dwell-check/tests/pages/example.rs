//! Examples in a page: blocks of Dwell text, one or several files, with marks as comments under what they mark.

use dwell_check::finding::Fix;
use dwell_check::options::Options;
use dwell_check::program::{Program, Sources};

/// The name of the file of a block that has none.
const UNNAMED: &str = "example.dwell";
/// The name of the file of settings.
const SETTINGS: &str = dwell_settings::NAME;

/// The files of one example, in the order of the page.
#[derive(Clone, Debug, Default)]
pub(crate) struct Example {
    files: Vec<(String, String)>,
}

/// `#   ^^^^ error(rule): words` under the marked text.
#[derive(Clone, Debug)]
pub(crate) struct Mark {
    pub(crate) file: String,
    /// The line of the marked text, from 1.
    pub(crate) line: usize,
    /// The first caret's column, from 1.
    pub(crate) column: usize,
    /// How many carets.
    pub(crate) width: usize,
    pub(crate) level: String,
    pub(crate) rule: String,
    /// How the message begins.
    pub(crate) words: String,
}

/// The examples of a section: an unnamed block closes one, together with the named ones before it.
pub(crate) fn examples(section: &str) -> Vec<Example> {
    let mut all = Vec::new();
    let mut now = Example::default();
    let mut open: Option<(String, String)> = None;
    for line in section.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(info)) => {
                if info.starts_with("dwell") || info.starts_with("toml") {
                    let name = info.split('"').nth(1).unwrap_or(UNNAMED);
                    open = Some((name.to_owned(), String::new()));
                }
            }
            (Some(_), Some(_)) => {
                now.files.extend(open.take());
                if now.files.last().is_some_and(|(name, _)| name == UNNAMED) {
                    all.push(std::mem::take(&mut now));
                }
            }
            (Some((_, text)), None) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    if !now.files.is_empty() {
        all.push(now);
    }
    all
}

impl Example {
    /// An example of one file.
    pub(crate) fn of(text: &str) -> Example {
        Example { files: vec![(UNNAMED.to_owned(), text.to_owned())] }
    }

    /// The files to check: the unnamed one, or all where every file has a name.
    pub(crate) fn roots(&self) -> Vec<String> {
        let unnamed = self.files.iter().any(|(name, _)| name == UNNAMED);
        self.files
            .iter()
            .filter(|(name, _)| if unnamed { name == UNNAMED } else { name != SETTINGS })
            .map(|(name, _)| name.clone())
            .collect()
    }

    /// What the checker is given beside the texts: the settings of the example, if it has any.
    pub(crate) fn options(&self) -> Options {
        let settings = self.files.iter().find(|(name, _)| name == SETTINGS);
        settings.map_or_else(Options::default, |(name, text)| {
            dwell_settings::read(text).options(name, text, None)
        })
    }

    /// The marks in all its files; `rule` is meant where a mark names none.
    pub(crate) fn marks(&self, rule: &str) -> Vec<Mark> {
        self.files.iter().flat_map(|(file, text)| marks(file, text, rule)).collect()
    }

    /// The example with a repair made.
    pub(crate) fn with(&self, fix: &Fix, program: &Program) -> Example {
        let mut mended = self.clone();
        for edit in fix.edits.iter().rev() {
            let path = program.files.get(edit.place.file).map(|file| file.path.as_str());
            for (name, text) in &mut mended.files {
                if Some(name.as_str()) == path {
                    text.replace_range(edit.place.span.start..edit.place.span.end, &edit.replacement);
                }
            }
        }
        mended
    }
}

impl Sources for Example {
    fn read(&self, path: &str) -> Result<String, String> {
        let found = self.files.iter().find(|(name, _)| name == path);
        found.map(|(_, text)| text.clone()).ok_or_else(|| "there is no such file".to_owned())
    }

    fn join(&self, _from: &str, used: &str) -> String {
        used.to_owned()
    }
}

fn marks(file: &str, text: &str, rule: &str) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut marked = 0;
    for (number, line) in text.lines().enumerate() {
        let Some(mark) = mark(line) else {
            marked = number + 1;
            continue;
        };
        let (column, width, level, of, words) = mark;
        marks.push(Mark {
            file: file.to_owned(),
            line: marked,
            column,
            width,
            level: level.to_owned(),
            rule: of.unwrap_or(rule).to_owned(),
            words: words.to_owned(),
        });
    }
    marks
}

/// Column, width, level, rule and words of a line that is a mark.
fn mark(line: &str) -> Option<(usize, usize, &str, Option<&str>, &str)> {
    let after = line.strip_prefix('#')?;
    let rest = after.trim_start_matches(' ');
    let column = line.len() - rest.len() + 1;
    let said = rest.trim_start_matches('^');
    let width = rest.len() - said.len();
    let (head, words) = said.trim_start().split_once(':')?;
    let (level, rule) = match head.split_once('(') {
        Some((level, rule)) => (level, rule.strip_suffix(')')),
        None => (head, None),
    };
    (width > 0).then_some((column, width, level, rule, words.trim()))
}
