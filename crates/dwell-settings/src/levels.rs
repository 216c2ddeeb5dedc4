//! Levels of rules, everywhere and in folders.

use crate::values::{Key, Slips, Value};
use dwell_check::finding::Level;
use dwell_check::rules;
use std::collections::HashSet;
use toml::de::DeValue;

/// The words of a level, gravest first.
const WORDS: [&str; 5] = ["error", "warning", "information", "hint", "off"];

/// Looks at a table of rules with their levels.
pub(crate) fn levels(value: &Value<'_>, slips: &mut Slips<'_>) {
    let DeValue::Table(table) = value.get_ref() else {
        slips.tell(
            value.span(),
            "rules with their levels belong here",
            "write `[levels]` on a line of its own",
        );
        return;
    };
    for (rule, level) in table {
        one(rule, level, slips);
    }
}

fn one(key: &Key<'_>, value: &Value<'_>, slips: &mut Slips<'_>) {
    let name = key.get_ref().as_ref();
    let Some(rule) = rules::named(name) else {
        let names: Vec<&str> = rules::all().iter().map(|rule| rule.name).collect();
        let known = dwell_check::names::near(name, names.iter().copied());
        if known.is_empty() {
            let help = "`dwell rules` lists them all";
            slips.tell(key.span(), format!("there is no rule `{name}`"), help);
        } else {
            slips.unknown(key.span(), format!("there is no rule `{name}`"), name, &names);
        }
        return;
    };
    let Some(word) = slips.string(value, "the level") else { return };
    if !WORDS.contains(&word) {
        slips.unknown(value.span(), format!("`{word}` is no level"), word, &WORDS);
        return;
    }
    if !rule.waivable && place(word) > place(rule.level.word()) {
        slips.tell(
            value.span(),
            format!("`{name}` cannot be set lower than {}", rule.level.word()),
            "take this line out: with what it finds a text has no one meaning",
        );
    }
}

/// How far down a word stands.
fn place(word: &str) -> usize {
    WORDS.iter().position(|known| *known == word).unwrap_or(WORDS.len())
}

/// Looks at the folders.
pub(crate) fn folders(value: &Value<'_>, slips: &mut Slips<'_>) {
    let DeValue::Array(list) = value.get_ref() else {
        slips.tell(value.span(), "a list of folders belongs here", "write `[[folder]]`, with two brackets");
        return;
    };
    let mut met = HashSet::new();
    for value in list.iter() {
        let DeValue::Table(table) = value.get_ref() else {
            slips.tell(value.span(), "a folder with its levels belongs here", "write `[[folder]]` for each");
            continue;
        };
        let mut path = false;
        let mut of = false;
        for (key, value) in table {
            match key.get_ref().as_ref() {
                "path" => {
                    path = true;
                    folder(value, &mut met, slips);
                }
                "levels" => {
                    of = true;
                    levels(value, slips);
                }
                word => {
                    slips.unknown(key.span(), format!("a folder has no `{word}`"), word, &["path", "levels"]);
                }
            }
        }
        if !path {
            slips.tell(value.span(), "this folder has no path", "write `path = \"old/brakes\"`");
        }
        if !of {
            slips.tell(value.span(), "nothing is set for this folder", "write `levels = { … }`");
        }
    }
}

/// Looks at the path of one folder.
fn folder(value: &Value<'_>, met: &mut HashSet<String>, slips: &mut Slips<'_>) {
    let Some(path) = slips.string(value, "the path of the folder") else { return };
    let mut parts = path.trim_end_matches('/').split('/');
    if path.contains('\\') || parts.any(|part| matches!(part, "" | "." | "..")) {
        slips.tell(
            value.span(),
            "a folder is written from where this file lies, with `/` between",
            "write it so: `old/brakes`",
        );
    } else if !met.insert(path.trim_end_matches('/').to_owned()) {
        slips.tell(value.span(), format!("the folder {path} stands here twice"), "bring the two together");
    }
}

/// The level that a word sets; none is off.
pub(crate) fn level(set: crate::Set) -> Option<Level> {
    match set {
        crate::Set::Error => Some(Level::Error),
        crate::Set::Warning => Some(Level::Warning),
        crate::Set::Information => Some(Level::Information),
        crate::Set::Hint => Some(Level::Hint),
        crate::Set::Off => None,
    }
}
