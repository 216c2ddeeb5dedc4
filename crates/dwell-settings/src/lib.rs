//! What a house has agreed for all its procedures, in the file `dwell.toml`: levels of rules, its words, how it decides.
//!
//! [`read`] makes [`Settings`] of a text, or tells what is wrong and where; nothing is guessed. [`Read::options`] is
//! what the checker is given. Where the file lies is for others to find.

mod levels;
mod options;
mod read;
mod settings;
#[cfg(test)]
mod tests;
mod values;
mod vocabulary;

pub use read::{Read, read};
pub use settings::{Decide, Folder, HouseWord, Set, Settings, SignalWords, System};

/// The name of the file.
pub const NAME: &str = "dwell.toml";

/// The JSON Schema of the file, for editors.
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(Settings).to_value()
}
