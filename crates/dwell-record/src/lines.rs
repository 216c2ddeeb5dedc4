//! The record as a file: one event as JSON on each line; a line that was cut off is told apart from a damaged one.

use crate::FORMAT;
use crate::event::{Event, What};
use std::fmt;

/// What a record file holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Read {
    /// The events of the whole lines.
    pub events: Vec<Event>,
    /// What stands after the last whole line: the writing was cut off there.
    pub torn: Option<TornTail>,
}

/// The rest of a line whose writing was cut off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TornTail {
    /// Its line, from 1.
    pub line: usize,
    /// The byte at which it begins; the file is whole up to there.
    pub starts: usize,
    /// What is there of it.
    pub text: String,
}

impl fmt::Display for TornTail {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let line = self.line;
        write!(
            out,
            "line {line} is cut off after {} bytes: the writing was interrupted. The {} whole lines before it are good; \
             what was being written then is not in the record: look again at the last reading or step.",
            self.text.len(),
            line.saturating_sub(1)
        )
    }
}

/// Why a file is no record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LineError {
    /// A line is not an event.
    Damaged {
        /// The line, from 1.
        line: usize,
        /// What is wrong with it.
        why: String,
    },
    /// The record has another format version.
    Format {
        /// The version found.
        found: u64,
    },
    /// The first event is not the beginning of a job.
    NoBeginning,
    /// An event has not the number that follows the one before.
    Order {
        /// The line, from 1.
        line: usize,
        /// The number that should stand there.
        wanted: u64,
        /// The number that stands there.
        found: u64,
    },
    /// An event could not be written as JSON.
    Unwritable(String),
}

impl fmt::Display for LineError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LineError::Damaged { line, why } => write!(
                out,
                "line {line} of the record is damaged: {why}. Nothing is taken from a record that was changed in its middle: \
                 find a good copy of it."
            ),
            LineError::Format { found } => write!(
                out,
                "this record has format {found}, and this program reads format {FORMAT}: use the program that wrote it, its \
                 name stands in the first line"
            ),
            LineError::NoBeginning => {
                write!(out, "this is no record: its first line does not say which job began")
            }
            LineError::Order { line, wanted, found } => write!(
                out,
                "line {line} of the record has number {found} where {wanted} should follow: lines are missing or were moved. \
                 Find a good copy of it."
            ),
            LineError::Unwritable(why) => write!(out, "this event cannot be written: {why}"),
        }
    }
}

impl std::error::Error for LineError {}

/// One event as its line, with the line end.
///
/// # Errors
/// [`LineError::Unwritable`], which no event of this crate's making brings about.
pub fn write_line(event: &Event) -> Result<String, LineError> {
    let mut line = serde_json::to_string(event).map_err(|error| LineError::Unwritable(error.to_string()))?;
    line.push('\n');
    Ok(line)
}

/// The event of one line; `line` is its number, from 1, for the message.
///
/// # Errors
/// [`LineError::Damaged`] with the reason; [`LineError::Format`] where the job began in another format.
pub fn read_line(text: &str, line: usize) -> Result<Event, LineError> {
    let any: serde_json::Value = serde_json::from_str(text)
        .map_err(|error| LineError::Damaged { line, why: format!("it is no JSON ({error})") })?;
    let found = any.get("what").and_then(|what| what.get("begun")).and_then(|begun| begun.get("format"));
    if let Some(found) = found.and_then(serde_json::Value::as_u64)
        && found != u64::from(FORMAT)
    {
        return Err(LineError::Format { found });
    }
    serde_json::from_str(text)
        .map_err(|error| LineError::Damaged { line, why: format!("it is no event ({error})") })
}

/// Reads a record file. Only a line end makes a line whole: what stands after the last one is reported as torn, even where it
/// happens to be an event, because nothing says that it was written to its end.
///
/// # Errors
/// [`LineError`] where a whole line is no event, or events are missing.
pub fn read(bytes: &[u8]) -> Result<Read, LineError> {
    let mut events: Vec<Event> = Vec::new();
    let mut torn = None;
    let mut starts = 0;
    for (place, piece) in bytes.split_inclusive(|byte| *byte == b'\n').enumerate() {
        let line = place + 1;
        let Some(whole) = piece.strip_suffix(b"\n") else {
            torn = Some(TornTail { line, starts, text: String::from_utf8_lossy(piece).into_owned() });
            break;
        };
        let whole = std::str::from_utf8(whole)
            .map_err(|error| LineError::Damaged { line, why: format!("it is no UTF-8 ({error})") })?;
        let event = read_line(whole.strip_suffix('\r').unwrap_or(whole), line)?;
        let wanted = events.last().map_or(1, |last| last.seq.saturating_add(1));
        if events.is_empty() && !matches!(event.what, What::Begun(_)) {
            return Err(LineError::NoBeginning);
        }
        if event.seq != wanted {
            return Err(LineError::Order { line, wanted, found: event.seq });
        }
        if !crate::is_moment(&event.at) {
            let why = format!("`{}` is no moment as RFC 3339 writes it", event.at);
            return Err(LineError::Damaged { line, why });
        }
        starts += piece.len();
        events.push(event);
    }
    if events.is_empty() && torn.is_none() {
        return Err(LineError::NoBeginning);
    }
    Ok(Read { events, torn })
}
