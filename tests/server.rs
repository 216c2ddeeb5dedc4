//! The language server as an editor meets it: over its pipes, message by message.

// A test may panic on a bad index: that is how it fails.
#![allow(clippy::panic, clippy::string_slice)]

mod board;
mod broken_messages;
mod changing;
mod edits;
mod life;
mod many;
mod random;
mod session;
mod stories;
mod together;

use session::Session;
