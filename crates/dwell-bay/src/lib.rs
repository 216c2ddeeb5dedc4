//! The page at the vehicle: jobs carried out on tablets and phones, served by the workshop's own machine.
//!
//! The server owns the jobs. A device shows what is asked and sends an answer; the answer is on the disk before the device is
//! told so, and before any other device sees it. Nothing here reads a procedure's text or knows a rule: cards come in, as they
//! were built. [`access`] says who may come in at all.

pub mod access;
mod assets;
mod bay;
mod clock;
mod device;
mod form;
mod job;
mod pages;
mod routes;
mod serve;

pub use bay::{Bay, Offered, Setting, Shelf};
pub use device::Device;
pub use job::{counts, noted};
pub use routes::{measures, router};
pub use serve::serve;
