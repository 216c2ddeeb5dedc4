//! The reference of the rules is made from their pages; `UPDATE=1` writes it anew.

use dwell_check::rules;
use std::path::Path;

/// What stands before the pages.
const HEAD: &str = r#"# The rules

What the checker finds, why it matters at the vehicle, and what to do about it. `dwell explain NAME` prints one of these pages.
Each has a wrong text and the same text mended. All values in them are invented.

| level | what it means |
| --- | --- |
| error | no card is made of the text until it is mended |
| warning | look at it before the text is released |
| information | worth knowing; it changes nothing |
| hint | a matter of style, or a thing that may be left |

`waive RULE because "…"` lets a rule pass in the block that it stands in, or in the whole procedure, and the reason is kept. A rule
without which a text has no one meaning cannot be waived.

Every example is a complete file and is checked: the marks under a wrong one are exactly what is found in it, and a right one is
clean. This file is made from the pages in `crates/dwell-check/src/rules`; `UPDATE=1 cargo test -p dwell-check` writes it anew.

| rule | level | may be waived |
| --- | --- | --- |
"#;

/// The reference as it must be.
fn reference() -> String {
    let mut text = String::from(HEAD);
    for rule in rules::all() {
        let waived = if rule.waivable { "with its reason" } else { "no" };
        text.push_str(&format!("| [{0}](#{0}) | {1} | {waived} |\n", rule.name, rule.level.word()));
    }
    for rule in rules::all() {
        text.push('\n');
        for line in deeper(rule.page) {
            text.push_str(&line);
            text.push('\n');
        }
    }
    text
}

/// The lines of a page, its headings one level down.
fn deeper(page: &str) -> Vec<String> {
    let mut in_block = false;
    let mut lines = Vec::new();
    for line in page.trim_end().lines() {
        if line.starts_with("```") {
            in_block = !in_block;
        }
        lines.push(if !in_block && line.starts_with('#') { format!("#{line}") } else { line.to_owned() });
    }
    lines
}

#[test]
fn the_reference_is_made_from_the_pages() -> Result<(), std::io::Error> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../grammar/RULES.md");
    let made = reference();
    if std::env::var_os("UPDATE").is_some_and(|value| value == "1") {
        std::fs::write(&path, &made)?;
    }
    let there = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        there == made,
        "grammar/RULES.md is not what the pages say: run `UPDATE=1 cargo test -p dwell-check`"
    );
    Ok(())
}
