//! The exit status: one table for all commands.
//!
//! | status | `check`, `test`, `paths`, `build` | `format` | `run`, `resume`, `records enter` |
//! | --- | --- | --- | --- |
//! | 0 | nothing, or nothing as grave as an error | done; with `--check`: all as it should be | passed, or adjusted and passed |
//! | 1 | a finding of level error, or of a level that was denied; a case that does not end as it says | with `--check`: something would change | failed |
//! | 2 | a file that cannot be read or written, nothing to do, wrong use | the same, and a text with mistakes | the same, and a refused reading |
//! | 3 | | | unfinished |
//! | 4 | | | referred to another procedure |
//!
//! `records verify`: 0 all is as it was written, 1 something is not. `compare` is like `diff`: 0 nothing of meaning changed; 1 it did; 2 something could not be read or compared.
//! `bay`: 0 ended with Ctrl-C; 2 could not begin.
//! A fault inside the program is 2 as well.

use std::process::ExitCode;

/// How the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Exit {
    /// All is well.
    Well,
    /// Something was found.
    Found,
    /// Something could not be done.
    Trouble,
    /// A run ended unfinished.
    Unfinished,
    /// A run ended by referring to another procedure.
    Referred,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(match exit {
            Exit::Well => 0,
            Exit::Found => 1,
            Exit::Trouble => 2,
            Exit::Unfinished => 3,
            Exit::Referred => 4,
        })
    }
}
