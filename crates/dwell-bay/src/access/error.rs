//! Why the door could not be opened, in words for whoever starts the server.

use std::fmt;
use std::path::{Path, PathBuf};

/// What went wrong at the door.
#[derive(Debug)]
pub enum AccessError {
    /// A file or folder of the door's could not be used.
    File {
        /// Which.
        path: PathBuf,
        /// What was said.
        why: String,
    },
    /// The system gave no random numbers, so no secret can be made.
    NoSecrets {
        /// What was said.
        why: String,
    },
    /// The certificate that lies there cannot be used.
    Certificate {
        /// Which file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// Nothing can be listened at.
    Listen {
        /// Where.
        at: String,
        /// What was said.
        why: String,
    },
    /// A name that no device can have.
    Name {
        /// What is wrong with it.
        why: String,
    },
    /// There is no such device.
    NoSuchDevice {
        /// What was asked for.
        asked: String,
    },
    /// There are as many devices as there may be.
    TooMany {
        /// How many.
        most: usize,
    },
}

impl AccessError {
    pub(crate) fn file(path: &Path, why: impl fmt::Display) -> AccessError {
        AccessError::File { path: path.to_owned(), why: why.to_string() }
    }

    pub(crate) fn certificate(path: &Path, why: impl fmt::Display) -> AccessError {
        AccessError::Certificate { path: path.to_owned(), why: why.to_string() }
    }
}

impl fmt::Display for AccessError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            AccessError::File { path, why } => {
                write!(out, "{} cannot be used: {why}", path.display())
            }
            AccessError::NoSecrets { why } => {
                write!(out, "the system gives no random numbers ({why}), so nobody can be let in safely")
            }
            AccessError::Certificate { path, why } => write!(
                out,
                "the certificate {} cannot be used: {why}. `dwell bay certificate renew` makes a new one; every tablet warns once more then",
                path.display()
            ),
            AccessError::Listen { at, why } => write!(
                out,
                "nothing can be served at {at}: {why}. Take another port with `--port`, or end the program that has this one"
            ),
            AccessError::Name { why } => write!(out, "{why}"),
            AccessError::NoSuchDevice { asked } => {
                write!(out, "no device `{asked}` may come in: `dwell bay devices list` shows all that may")
            }
            AccessError::TooMany { most } => write!(
                out,
                "{most} devices may come in already, and no more are taken: `dwell bay devices revoke` shuts out those that are no longer used"
            ),
        }
    }
}

impl std::error::Error for AccessError {}
