//! The reference of the rules is made from their pages; `UPDATE=1` writes it anew.

use dwell_check::rules;
use std::path::Path;

/// What stands before the pages.
const HEAD: &str = r#"# The rules

Made from the pages in `crates/dwell-check/src/rules`; `UPDATE=1 cargo test -p dwell-check` writes it anew.
Every example is a complete file and is checked: the marks under a wrong one are exactly what is found in it, and a right
one is clean.

An error takes the card away until it is mended; a warning does not. `waive RULE because "…"` lets a rule pass in the block
that it stands in, or in the whole procedure, and the reason is kept. A rule without which a text has no one meaning cannot
be waived.

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
