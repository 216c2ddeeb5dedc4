//! Bytes to text: UTF-8 or a sentence that says what the file is instead, and at which byte.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

/// The most bytes that are read from one file, 64 MiB; far above what the language itself allows, so that its own message
/// about a large file is the one that is seen.
pub const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// The text of a file.
///
/// # Errors
/// A sentence without the path: why it could not be opened or read, or which encoding it seems to have.
pub fn read(path: &Path) -> Result<String, String> {
    let file = File::open(path).map_err(|error| opening(&error))?;
    if file.metadata().is_ok_and(|about| about.is_dir()) {
        return Err("this is a folder, and a file is needed here".to_owned());
    }
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| format!("it cannot be read: {error}"))?;
    if u64::try_from(bytes.len()).is_ok_and(|length| length > MOST_BYTES) {
        return Err("it is larger than 64 MiB, and no procedure is: is this the file you meant?".to_owned());
    }
    decoded(bytes)
}

fn opening(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file: check the path and how the name is spelt".to_owned(),
        ErrorKind::PermissionDenied => {
            "you are not allowed to read it: ask its owner, or change its rights".to_owned()
        }
        ErrorKind::IsADirectory => "this is a folder, and a file is needed here".to_owned(),
        _ => format!("it cannot be opened: {error}"),
    }
}

/// Text from bytes. A byte order mark stays in the text, and so does NUL: the language has words of its own for both.
///
/// # Errors
/// A sentence that names the encoding it seems to be, and the first byte that says so.
pub fn decoded(bytes: Vec<u8>) -> Result<String, String> {
    if let Some(order) = sixteen_bits(&bytes) {
        return Err(format!(
            "it is UTF-16 ({order}), not UTF-8, as byte 0 and the next show: save it again as UTF-8"
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        let line = 1 + bytes.iter().take(at).filter(|byte| **byte == b'\n').count();
        let byte = bytes.get(at).copied().unwrap_or_default();
        let cut = error.utf8_error().error_len().is_none();
        if cut {
            return format!(
                "it is not whole UTF-8: it ends in the middle of a character, at byte {at} (line {line}); \
                 it may have been cut off: take it from where it was copied"
            );
        }
        let guess = match latin(byte) {
            Some(letter) => format!("; in Latin-1 or Windows-1252 it would be `{letter}`"),
            None => String::new(),
        };
        format!("it is not UTF-8: byte {at} (line {line}) is 0x{byte:02X}{guess}; save it again as UTF-8")
    })
}

/// The byte order of a text in units of 16 bits: by its mark, or because every second one of its first bytes is NUL.
fn sixteen_bits(bytes: &[u8]) -> Option<&'static str> {
    match bytes {
        [0xFF, 0xFE, ..] => return Some("little-endian"),
        [0xFE, 0xFF, ..] => return Some("big-endian"),
        _ => {}
    }
    let nul_at = |first: usize| {
        let every_second: Vec<&u8> = bytes.iter().take(64).skip(first).step_by(2).collect();
        every_second.len() >= 2 && every_second.iter().all(|byte| **byte == 0)
    };
    match (nul_at(0), nul_at(1)) {
        (false, true) => Some("little-endian"),
        (true, false) => Some("big-endian"),
        _ => None,
    }
}

/// The character that a byte is in Latin-1 and Windows-1252 alike.
fn latin(byte: u8) -> Option<char> {
    (byte >= 0xA1).then_some(char::from(byte))
}
