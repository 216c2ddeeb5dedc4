//! The rules as SARIF descriptors: what each is about in one sentence, and its page as help.

use dwell_check::finding::Level;
use dwell_check::rules;
use serde_json::{Value, json};

/// The descriptors of all rules, in the order of [`rules::all`].
pub(super) fn all() -> Vec<Value> {
    rules::all()
        .iter()
        .map(|rule| {
            let about = first_paragraph(rule.page);
            json!({
                "id": rule.name,
                "shortDescription": { "text": first_sentence(&about) },
                "fullDescription": { "text": about },
                "help": { "text": rule.page, "markdown": rule.page },
                "defaultConfiguration": { "level": level(rule.level) },
                "properties": { "waivable": rule.waivable },
            })
        })
        .collect()
}

/// The place of a rule among the descriptors.
pub(super) fn place(name: &str) -> Option<usize> {
    rules::all().iter().position(|rule| rule.name == name)
}

/// SARIF's word for a level.
pub(super) fn level(level: Level) -> &'static str {
    match level {
        Level::Error => "error",
        Level::Warning => "warning",
        Level::Information | Level::Hint => "note",
    }
}

/// What a page says first, after its heading and its level.
fn first_paragraph(page: &str) -> String {
    let paragraph = page
        .split("\n\n")
        .find(|part| !part.starts_with('#') && !part.starts_with("Level:") && !part.trim().is_empty());
    paragraph.unwrap_or_default().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Up to the first full stop that ends a sentence.
fn first_sentence(text: &str) -> String {
    match text.split_once(". ") {
        Some((first, _)) => format!("{first}."),
        None => text.to_owned(),
    }
}
