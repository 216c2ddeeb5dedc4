//! Quotation marks by RFC 4180: each that opens a cell is closed, and none stands anywhere else.

use crate::fault::Fault;

/// Where the scan stands.
enum State {
    /// A cell begins.
    Start,
    /// Inside a cell without marks.
    Bare,
    /// Inside a cell that a mark opened, in that line.
    Quoted(usize),
    /// After a mark inside such a cell: its end, or the first of a doubled one.
    Closing(usize),
}

/// The first misplaced quotation mark of `text`, if there is one.
pub(crate) fn misplaced(text: &str, separator: u8) -> Option<Fault> {
    let mut state = State::Start;
    let mut line = 1;
    let mut before = 0;
    for byte in text.bytes() {
        let ends_line = byte == b'\n' && before != b'\r' || byte == b'\r';
        let ends_cell = byte == separator || byte == b'\n' || byte == b'\r';
        state = match state {
            State::Quoted(opened) if byte == b'"' => State::Closing(opened),
            State::Quoted(opened) => State::Quoted(opened),
            State::Closing(opened) if byte == b'"' => State::Quoted(opened),
            State::Start if byte == b'"' => State::Quoted(line),
            State::Start | State::Bare | State::Closing(_) if ends_cell => State::Start,
            State::Closing(_) if byte == b' ' => State::Closing(line),
            State::Closing(_) => {
                return Some(Fault::row(
                    line,
                    "text stands after a closing quotation mark",
                    "put the whole cell between the marks, and write a mark inside it twice: \"the \"\"left\"\" side\"",
                ));
            }
            State::Start | State::Bare if byte == b'"' => {
                return Some(Fault::row(
                    line,
                    "a quotation mark stands inside a cell that does not begin with one",
                    "begin the cell with the mark, directly after the separator, and write a mark inside it twice",
                ));
            }
            State::Start | State::Bare => State::Bare,
        };
        line += usize::from(ends_line);
        before = byte;
    }
    match state {
        State::Quoted(opened) => Some(Fault::row(
            opened,
            "a quotation mark is opened here and never closed",
            "close it with a second one, or take it out; all the rows after it were read as one cell",
        )),
        State::Start | State::Bare | State::Closing(_) => None,
    }
}
