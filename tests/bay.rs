//! The page at the vehicle, as the built program serves it: who comes in, and what Chromium shows of it.

mod access;
mod browser;
pub(crate) mod server;
