//! Words that a house avoids: each with the one to use and the reason.

use crate::values::{Slips, Value};
use toml::de::DeValue;

/// What belongs to a word.
const PARTS: [&str; 2] = ["use", "because"];

/// Looks at the words of the house.
pub(crate) fn vocabulary(value: &Value<'_>, slips: &mut Slips<'_>) {
    let DeValue::Table(table) = value.get_ref() else {
        slips.tell(value.span(), "words belong here", "write `[vocabulary]` on a line of its own");
        return;
    };
    let avoided: Vec<&str> = table.keys().map(|key| key.get_ref().as_ref()).collect();
    for (key, value) in table {
        let word = key.get_ref().as_ref();
        if word.split(' ').any(str::is_empty) || word.contains(['{', '}', '"', '\n', '\t']) {
            slips.tell(
                key.span(),
                "this is no word to look for",
                "write one word, or several with one blank between",
            );
        }
        let DeValue::Table(parts) = value.get_ref() else {
            slips.tell(value.span(), "the word to use is missing, and why", EXAMPLE);
            continue;
        };
        for part in PARTS {
            if !parts.contains_key(part) {
                slips.tell(key.span(), format!("`{word}` has no `{part}`"), EXAMPLE);
            }
        }
        for (key, value) in parts {
            match key.get_ref().as_ref() {
                "use" => instead(value, &avoided, slips),
                "because" => {
                    if slips.string(value, "the reason").is_some_and(|text| text.trim().is_empty()) {
                        slips.tell(value.span(), "the reason is empty", "say why, in one sentence");
                    }
                }
                other => slips.unknown(key.span(), format!("a word has no `{other}`"), other, &PARTS),
            }
        }
    }
}

/// How it is written.
const EXAMPLE: &str = "write `dynamo = { use = \"generator\", because = \"…\" }`";

/// Looks at the word to use: it must not hold one that is avoided, or mending would never end.
fn instead(value: &Value<'_>, avoided: &[&str], slips: &mut Slips<'_>) {
    let Some(text) = slips.string(value, "the word to use") else { return };
    if text.trim().is_empty() || text.contains(['{', '}', '"', '\n', '\\']) {
        slips.tell(
            value.span(),
            "this is no word to write",
            "write one word, or several with a blank between",
        );
        return;
    }
    let lower = text.to_lowercase();
    if let Some(other) = avoided.iter().find(|other| holds(&lower, &other.to_lowercase())) {
        slips.tell(
            value.span(),
            format!("`{text}` holds a word that is avoided: `{other}`"),
            "use a word that is not avoided itself",
        );
    }
}

/// Whether a text holds some words as whole words.
fn holds(text: &str, words: &str) -> bool {
    let joins = |letter: char| letter.is_alphanumeric() || letter == '-';
    text.match_indices(words).any(|(at, found)| {
        let before = text.get(..at).and_then(|before| before.chars().next_back());
        let after = text.get(at + found.len()..).and_then(|after| after.chars().next());
        !before.is_some_and(joins) && !after.is_some_and(joins)
    })
}
