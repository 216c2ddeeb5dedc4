//! The record as a file: one event as JSON on each line; a line that was cut off is told apart from a damaged one.

use crate::chain::{Chain, Hash, linked};
use crate::event::{Event, What};
use crate::{FORMAT, UNCHAINED};
use std::fmt;

/// What a record file holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Read {
    /// The events of the whole lines.
    pub events: Vec<Event>,
    /// What stands after the last whole line: the writing was cut off there.
    pub torn: Option<TornTail>,
    /// The hash of the last whole line; none for a record of format 1, which has no chain.
    pub last: Option<Hash>,
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
    /// A line is not where it was written, or not as it was written.
    Chain {
        /// The line, from 1.
        line: usize,
        /// What is wrong with it, in words that go on after "line 3".
        why: String,
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
                "this record has format {found}, and this program reads formats {UNCHAINED} to {FORMAT}: use the program that \
                 wrote it, its name stands in the first line"
            ),
            LineError::NoBeginning => {
                write!(out, "this is no record: its first line does not say which job began")
            }
            LineError::Order { line, wanted, found } => write!(
                out,
                "line {line} of the record has number {found} where {wanted} should follow: lines are missing or were moved. \
                 Find a good copy of it."
            ),
            LineError::Chain { line, why } => write!(
                out,
                "line {line} of the record {why}. Nothing is taken from a record whose chain is broken: find a good copy of it."
            ),
            LineError::Unwritable(why) => write!(out, "this event cannot be written: {why}"),
        }
    }
}

impl std::error::Error for LineError {}

/// One event as its line, with the line end and without a place in the chain, as format 1 had it; the lines of format 2 are
/// made by [`Chain::line`].
///
/// # Errors
/// [`LineError::Unwritable`], which no event of this crate's making brings about.
pub fn write_line(event: &Event) -> Result<String, LineError> {
    let mut line = serde_json::to_string(event).map_err(|error| LineError::Unwritable(error.to_string()))?;
    line.push('\n');
    Ok(line)
}

/// The event of one line, with or without its place in the chain, which is not looked at; `line` is its number, from 1, for the
/// message.
///
/// # Errors
/// [`LineError::Damaged`] with the reason; [`LineError::Format`] where the job began in another format.
pub fn read_line(text: &str, line: usize) -> Result<Event, LineError> {
    let bare = linked(text).map(|linked| linked.event());
    let text = bare.as_deref().unwrap_or(text);
    let any: serde_json::Value = serde_json::from_str(text)
        .map_err(|error| LineError::Damaged { line, why: format!("it is no JSON ({error})") })?;
    let found = any.get("what").and_then(|what| what.get("begun")).and_then(|begun| begun.get("format"));
    if let Some(found) = found.and_then(serde_json::Value::as_u64)
        && !(u64::from(UNCHAINED)..=u64::from(FORMAT)).contains(&found)
    {
        return Err(LineError::Format { found });
    }
    serde_json::from_str(text)
        .map_err(|error| LineError::Damaged { line, why: format!("it is no event ({error})") })
}

/// Reads a record file. Only a line end makes a line whole: what stands after the last one is reported as torn, even where it
/// happens to be an event, because nothing says that it was written to its end. From format 2 on every line must follow the one
/// before in the chain, and be as it was written.
///
/// # Errors
/// [`LineError`] where a whole line is no event, where events are missing, where the chain is broken.
pub fn read(bytes: &[u8]) -> Result<Read, LineError> {
    let mut reader = Reader::default();
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
        reader.line(whole.strip_suffix('\r').unwrap_or(whole))?;
        starts += piece.len();
    }
    let (events, last) = reader.end();
    if events.is_empty() && torn.is_none() {
        return Err(LineError::NoBeginning);
    }
    Ok(Read { events, torn, last })
}

/// Reads a record line by line.
#[derive(Clone, Debug, Default)]
pub struct Reader {
    events: Vec<Event>,
    chain: Option<Chain>,
}

impl Reader {
    /// The next line, without its line end.
    ///
    /// # Errors
    /// As [`read`].
    pub fn line(&mut self, text: &str) -> Result<&Event, LineError> {
        let line = self.events.len() + 1;
        let event = read_line(text, line)?;
        match (&event.what, self.events.is_empty()) {
            (What::Begun(begun), true) => {
                self.chain = (begun.format > UNCHAINED).then(Chain::default);
            }
            (_, true) => return Err(LineError::NoBeginning),
            _ => {}
        }
        let wanted = self.events.last().map_or(1, |last| last.seq.saturating_add(1));
        if event.seq != wanted {
            return Err(LineError::Order { line, wanted, found: event.seq });
        }
        if !crate::is_moment(&event.at) {
            let why = format!("`{}` is no moment as RFC 3339 writes it", event.at);
            return Err(LineError::Damaged { line, why });
        }
        match (&mut self.chain, linked(text)) {
            (Some(chain), Some(linked)) => {
                chain.take(&linked).map_err(|why| LineError::Chain { line, why })?;
            }
            (Some(_), None) => {
                let why = "does not end with its place in the chain, `previous` and `hash`".to_owned();
                return Err(LineError::Chain { line, why });
            }
            (None, Some(_)) => {
                let why = "has a place in a chain, and the record began without one".to_owned();
                return Err(LineError::Chain { line, why });
            }
            (None, None) => {}
        }
        self.events.push(event);
        self.events.last().ok_or(LineError::NoBeginning)
    }

    /// The events so far, and the hash of the last line where there is a chain.
    pub fn end(self) -> (Vec<Event>, Option<Hash>) {
        let last = self.chain.filter(|_| !self.events.is_empty()).map(|chain| chain.last().clone());
        (self.events, last)
    }
}
