//! The published schemas are the ones that the program's own types give.

use std::fs;

/// A file of the folder `grammar`; `UPDATE=1` writes it anew.
fn published(name: &str, schema: &serde_json::Value) {
    let path = crate::root().join("grammar").join(name);
    let text = serde_json::to_string_pretty(schema).unwrap() + "\n";
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, &text).unwrap();
    }
    assert!(
        fs::read_to_string(&path).unwrap_or_default() == text,
        "grammar/{name} is not the schema of this program: if it has changed as meant, run the tests with UPDATE=1"
    );
}

#[test]
fn the_schema_of_a_card_is_published() {
    published("card.schema.json", &dwell_card::Card::schema());
}

#[test]
fn the_schema_of_a_line_of_a_record_is_published() {
    published("record.schema.json", &dwell_record::schema());
}
