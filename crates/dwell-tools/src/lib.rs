//! The register of a workshop's tools: each with the number on its label, what it measures, and until when it is calibrated.
//!
//! [`read`] turns the text of `tools.toml` into a [`Register`], or into every [`Fault`] that keeps it from being read.
//! [`Tool::misfits`] says why a tool is not good enough for what a card asks of it, [`Tool::on`] how its calibration stands.
//! The file is described for people in `grammar/TOOLS.md`, and every example there is a test of this crate.

mod amounts;
mod calibration;
mod fault;
mod fit;
mod read;
mod register;
mod taken;

#[cfg(test)]
mod tests;

pub use calibration::{Standing, day};
pub use fault::Fault;
pub use fit::Misfit;
pub use read::read;
pub use register::{Ability, Accuracy, Register, Tool, Wire};
pub use taken::Against;

/// The name of the file.
pub const NAME: &str = "tools.toml";
