//! The settings of a house in both states: what was made milder is told first.

use crate::{Change, Grade};
use dwell_check::finding::Level;
use dwell_check::model::SignalWords;
use dwell_check::options::Options;
use dwell_check::rules;
use std::collections::BTreeSet;

/// What changed in the settings, those of then and those of now.
pub(crate) fn changes(old: &Options, new: &Options) -> Vec<Change> {
    let mut changes = Vec::new();
    let path = |options: &Options| options.settings.as_ref().map(|settings| settings.path.clone());
    let of = path(new).or_else(|| path(old)).unwrap_or_else(|| "settings".to_owned());
    let mut tell = |grade: Grade, kind: &'static str, says: String| {
        changes.push(Change { grade, of: format!("settings {of}"), kind, says, old: None, new: None });
    };
    if old.house.guarded != new.house.guarded {
        let (grade, says) = match new.house.guarded {
            true => (Grade::Middle, "every procedure is decided guarded, unless it says otherwise"),
            false => {
                (Grade::Loud, "readings are taken as they are, no longer guarded by the accuracy of the tool")
            }
        };
        tell(grade, "decision rule", says.to_owned());
    }
    if old.house.signal_words != new.house.signal_words {
        let says = match new.house.signal_words {
            SignalWords::Ansi => "the signal words mean what they mean in ANSI Z535.6",
            SignalWords::Equipment => "a caution is for damage to equipment, not for a slight injury",
        };
        tell(Grade::Loud, "signal words", says.to_owned());
    }
    let folders: BTreeSet<&str> =
        old.levels.iter().chain(&new.levels).map(|levels| levels.below.as_str()).chain([""]).collect();
    for rule in rules::all() {
        let mut everywhere = None;
        for folder in &folders {
            // A file in the folder: what is set for the folder holds for it.
            let file = if folder.is_empty() { "a.dwell".to_owned() } else { format!("{folder}/a.dwell") };
            let (then, now) = (old.level(rule, &file), new.level(rule, &file));
            if folder.is_empty() {
                everywhere = Some((then, now));
            }
            if then == now || (!folder.is_empty() && everywhere == Some((then, now))) {
                continue;
            }
            let lower = match (then, now) {
                (Some(then), Some(now)) => now > then,
                (Some(_), None) => true,
                (None, _) => false,
            };
            let whole = then.is_some_and(|then| then <= Level::Warning);
            let grade = match (lower, whole) {
                (true, true) => Grade::Loud,
                (true, false) | (false, _) => Grade::Middle,
            };
            let below = if folder.is_empty() { String::new() } else { format!(" below {folder}") };
            tell(
                grade,
                "level of a rule",
                format!("{} is {} now{below}, was {}", rule.name, word(now), word(then)),
            );
        }
    }
    let words = |options: &Options| -> BTreeSet<(String, String)> {
        options.vocabulary.iter().map(|word| (word.avoid.clone(), word.instead.clone())).collect()
    };
    let (before, after) = (words(old), words(new));
    for (avoid, instead) in after.difference(&before) {
        tell(Grade::Quiet, "word of the house", format!("the house says “{instead}” for “{avoid}”"));
    }
    for (avoid, _) in before.iter().filter(|(avoid, _)| !after.iter().any(|(other, _)| other == avoid)) {
        tell(Grade::Quiet, "word of the house", format!("the house has no word for “{avoid}” any more"));
    }
    changes
}

fn word(level: Option<Level>) -> &'static str {
    level.map_or("off", Level::word)
}
