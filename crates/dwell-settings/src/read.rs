//! From the text of the file to the settings: what stands in it is looked at key by key, then taken as a whole.

use crate::levels::{folders, levels};
use crate::settings::Settings;
use crate::values::Slips;
use crate::vocabulary::vocabulary;
use dwell_syntax::slip::Slip;
use toml::de::DeTable;

/// What may stand in the file itself.
const KEYS: [&str; 6] = ["levels", "folder", "units", "decide", "signal-words", "vocabulary"];

/// What was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Read {
    /// The settings; those of an empty file where anything is wrong.
    pub settings: Settings,
    /// What is wrong, in the order of the text, each of the rule `settings`.
    pub slips: Vec<Slip>,
}

/// Reads the text of a settings file.
pub fn read(text: &str) -> Read {
    let mut slips = Slips { text, found: Vec::new() };
    let (table, errors) = DeTable::parse_recoverable(text);
    for error in &errors {
        let at = error.span().unwrap_or(0..0);
        let why = error.message().lines().next().unwrap_or_default();
        slips.tell(at, format!("this is no TOML: {why}"), "mend this line: `key = \"value\"`");
    }
    if errors.is_empty() {
        keys(table.get_ref(), &mut slips);
    }
    let mut found = slips.found;
    let mut settings = Settings::default();
    if found.is_empty() {
        match toml::from_str(text) {
            Ok(known) => settings = known,
            Err(error) => {
                let mut slips = Slips { text, found };
                let why = error.message().lines().next().unwrap_or_default();
                slips.tell(
                    error.span().unwrap_or(0..0),
                    format!("this is no setting: {why}"),
                    "mend this line",
                );
                found = slips.found;
            }
        }
    }
    found.sort_by_key(|slip| slip.span);
    Read { settings, slips: found }
}

fn keys(table: &DeTable<'_>, slips: &mut Slips<'_>) {
    for (key, value) in table {
        match key.get_ref().as_ref() {
            "levels" => levels(value, slips),
            "folder" => folders(value, slips),
            "units" => slips.one_of(value, "system of units", &["metric", "us"]),
            "decide" => slips.one_of(value, "way to decide", &["simple", "guarded"]),
            "signal-words" => slips.one_of(value, "scheme of signal words", &["ansi", "equipment"]),
            "vocabulary" => vocabulary(value, slips),
            word => slips.unknown(key.span(), format!("`{word}` is no setting"), word, &KEYS),
        }
    }
}
