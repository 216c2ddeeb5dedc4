//! `dwell lsp`: the language server.

use crate::exit::Exit;
use clap::Args;

/// Serve an editor: the language server, spoken to over the standard input and output.
///
/// An editor starts it. It speaks the Language Server Protocol and ends with the editor.
///
/// Exit status: 0 when the editor ended the session as the protocol asks; 1 when it just went away.
#[derive(Debug, Args)]
pub(crate) struct Lsp {
    /// Speak over the standard input and output: there is no other way, and editors like to say so
    #[arg(long)]
    stdio: bool,
}

impl Lsp {
    pub(super) fn run(self) -> anyhow::Result<Exit> {
        match dwell_lsp::server::serve()? {
            0 => Ok(Exit::Well),
            _ => Ok(Exit::Found),
        }
    }
}
