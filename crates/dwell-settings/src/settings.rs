//! The settings as they stand in the file, and their published schema.

use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// What a house has agreed for all procedures below the folder in which the file `dwell.toml` lies. All of it may be left
/// out.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
#[schemars(title = "dwell.toml")]
pub struct Settings {
    /// How grave a rule is, everywhere: each rule by its name. A rule that cannot be waived cannot be set lower.
    pub levels: BTreeMap<String, Set>,
    /// What is different in a folder; the innermost folder that says something of a rule decides.
    pub folder: Vec<Folder>,
    /// The second unit in which a value is written beside its own.
    pub units: Option<System>,
    /// How a procedure decides that does not say it itself.
    pub decide: Option<Decide>,
    /// What the signal words of cautions mean.
    pub signal_words: Option<SignalWords>,
    /// Words that the house does not use, each with the one to use. A key is one word or several with a blank between.
    pub vocabulary: BTreeMap<String, HouseWord>,
}

/// What is different in one folder and all folders in it.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Folder {
    /// The folder, from where the file lies, with `/` between: `old/brakes`.
    pub path: String,
    /// How grave a rule is there.
    pub levels: BTreeMap<String, Set>,
}

/// How grave a rule is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Set {
    /// The procedure is not sound: no card.
    Error,
    /// Very likely wrong.
    Warning,
    /// Worth knowing.
    Information,
    /// A small hint.
    Hint,
    /// It is not told.
    Off,
}

/// A system of units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum System {
    /// N·m, mm, bar, °C.
    Metric,
    /// lbf·ft, in, psi, °F.
    Us,
}

/// How a reading is judged against a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Decide {
    /// The reading is taken as it is.
    Simple,
    /// The accuracy of the tool is taken off each limit.
    Guarded,
}

/// What the signal words mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SignalWords {
    /// As ANSI Z535.6: danger, warning and caution for injury, notice for damage to things.
    Ansi,
    /// Warning for injury or death, caution for damage to equipment.
    Equipment,
}

/// A word that is not used in this house.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HouseWord {
    /// The word to use.
    #[serde(rename = "use")]
    pub instead: String,
    /// Why, a sentence: it is shown to the writer.
    pub because: String,
}
