//! A file of readings to which another program writes while something is measured: only rows that come after the beginning count.
//!
//! The format is that of a readings file. A row counts once its line has ended. What cannot be read is refused like in a
//! file that is read whole; a file that is cut short or begun anew ends the measurement, since nobody knows what was lost.

use crate::fault::Fault;
use crate::header::{Column, columns, separator};
use crate::rows::{Row, row_of};
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

/// The longest row, in bytes.
const LONGEST: usize = 10_000;

/// A file that grows.
#[derive(Debug)]
pub struct LiveLog {
    path: PathBuf,
    separator: u8,
    layout: Vec<Column>,
    /// How far it was read, in bytes, and the line that begins there.
    at: u64,
    line: usize,
    /// The beginning of a row whose end has not come yet.
    begun: Vec<u8>,
    /// Whether the row that begins there was half written when the following began: then it does not count.
    half: bool,
    /// The file itself: while it is held, no other one can be taken for it.
    file: File,
}

impl LiveLog {
    /// Begins to follow a file: what stands in it already does not count.
    ///
    /// # Errors
    /// Where it cannot be read, or has no first row that names the columns.
    pub fn follow(path: &Path) -> Result<LiveLog, Fault> {
        let mut file = opened(path)?;
        let mut text = Vec::new();
        file.read_to_end(&mut text).map_err(|why| unreadable(path, &why))?;
        let head = text.split(|byte| *byte == b'\n').next().filter(|head| head.len() < text.len());
        let Some(head) = head else {
            return Err(Fault::file(
                "its first row is not there yet",
                "begin the log first: its first row is `name,value,unit`, with `at` and `time` where they are needed",
            ));
        };
        let head = readable(1, head)?;
        let head = head.strip_prefix('\u{FEFF}').unwrap_or(&head);
        let separator = separator(head);
        let cells = cells(1, head, separator)?;
        let layout = columns(1, cells.iter().map(String::as_str)).map_err(first)?;
        let ended = text.iter().rposition(|byte| *byte == b'\n').map_or(0, |place| place + 1);
        let lines = text.iter().take(ended).filter(|byte| **byte == b'\n').count();
        Ok(LiveLog {
            path: path.to_owned(),
            separator,
            layout,
            at: u64::try_from(ended).unwrap_or(u64::MAX),
            line: lines + 1,
            begun: Vec::new(),
            half: text.len() > ended,
            file,
        })
    }

    /// The rows that were written since, in their order; none while nothing came.
    ///
    /// # Errors
    /// Where the file is no longer the one that was followed, and for the first row that cannot be read: the measurement
    /// it belongs to has no value.
    pub fn rows(&mut self) -> Result<Vec<Row>, Fault> {
        let unreadable = |why: std::io::Error| unreadable(&self.path, &why);
        let now = opened(&self.path)?;
        let length = now.metadata().map_err(unreadable)?.len();
        if which(&now) != which(&self.file) || length < self.at {
            return Err(Fault::file(
                "it was cut short or begun anew while something was measured",
                "the logging program is to go on writing to one file; measure again",
            ));
        }
        let mut new = Vec::new();
        self.file.seek(SeekFrom::Start(self.at)).map_err(unreadable)?;
        let came = (&self.file).take(length - self.at).read_to_end(&mut new);
        came.map_err(unreadable)?;
        self.at = self.at.saturating_add(u64::try_from(new.len()).unwrap_or(0));
        self.begun.extend(new);
        let mut rows = Vec::new();
        while let Some(end) = self.begun.iter().position(|byte| *byte == b'\n') {
            let rest = self.begun.split_off(end + 1);
            let bytes = std::mem::replace(&mut self.begun, rest);
            let line = self.line;
            self.line += 1;
            if std::mem::take(&mut self.half) {
                continue;
            }
            let text = readable(line, bytes.strip_suffix(b"\n").unwrap_or(&bytes))?;
            if !text.trim().is_empty() {
                rows.push(row_of(line, &self.layout, &cells(line, &text, self.separator)?).map_err(first)?);
            }
        }
        if self.begun.len() > LONGEST {
            return Err(Fault::row(
                self.line,
                "it does not end",
                "is this a file of comma-separated values?",
            ));
        }
        Ok(rows)
    }
}

fn opened(path: &Path) -> Result<File, Fault> {
    File::open(path).map_err(|why| unreadable(path, &why))
}

fn unreadable(path: &Path, why: &std::io::Error) -> Fault {
    Fault::file(
        format!("{} cannot be read: {why}", path.display()),
        "name the file to which the logging program writes",
    )
}

fn first(faults: Vec<Fault>) -> Fault {
    let none = || Fault::file("it cannot be read", "save it again as CSV");
    faults.into_iter().next().unwrap_or_else(none)
}

fn readable(line: usize, bytes: &[u8]) -> Result<String, Fault> {
    let bytes = bytes.strip_suffix(b"\r").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.to_owned()),
        Err(_) => Err(Fault::row(line, "it is not written in UTF-8", "have the logging program write UTF-8")),
    }
}

/// The cells of one line; a cell cannot go on in the next one, since nobody knows when that comes.
fn cells(line: usize, text: &str, separator: u8) -> Result<Vec<String>, Fault> {
    let quotes = text.bytes().filter(|byte| *byte == b'"').count();
    if quotes % 2 == 1 {
        return Err(Fault::row(line, "a quotation mark in it is not closed", "write each row on one line"));
    }
    if let Some(fault) = crate::quotes::misplaced(text, separator) {
        return Err(Fault { row: Some(line), ..fault });
    }
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let record = reader.records().next().and_then(Result::ok).unwrap_or_default();
    Ok(record.iter().map(str::to_owned).collect())
}

/// Which file it is, whatever its name is now.
#[cfg(unix)]
fn which(file: &File) -> Option<(u64, u64)> {
    use std::os::unix::fs::MetadataExt;
    let known = file.metadata().ok()?;
    Some((known.dev(), known.ino()))
}

/// Elsewhere only its length tells.
#[cfg(not(unix))]
fn which(_file: &File) -> Option<(u64, u64)> {
    None
}

#[cfg(test)]
mod tests;
