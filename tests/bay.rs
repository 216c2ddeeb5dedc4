//! The page at the vehicle, as the built program serves it: who comes in, and what Chromium shows of it.

mod access;
mod around;
mod browser;
mod instruments;
mod jobs;
mod screen;
pub(crate) mod server;
