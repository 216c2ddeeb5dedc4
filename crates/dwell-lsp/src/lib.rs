//! The language server, started by `dwell lsp`.
//!
//! [`ide`] answers in byte offsets and plain types of our own and knows no protocol; [`server`] speaks the Language Server
//! Protocol and knows nothing of procedures. Nothing here is printed: the standard output carries the protocol alone.

pub mod ide;
pub mod server;
