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

#[test]
fn the_schema_of_settings_is_published() {
    published("settings.schema.json", &dwell_settings::schema());
}

/// Files of settings that the reader takes or refuses.
const SETTINGS: [(bool, &str); 14] = [
    (true, ""),
    (true, "units = \"metric\"\ndecide = \"simple\"\nsignal-words = \"ansi\"\n"),
    (true, "[levels]\nname-unused = \"off\"\n"),
    (true, "[[folder]]\npath = \"old\"\nlevels = { name-unused = \"hint\" }\n"),
    (true, "[vocabulary]\n\"crank shaft\" = { use = \"crankshaft\", because = \"One name.\" }\n"),
    (false, "unit = \"metric\"\n"),
    (false, "units = \"imperial\"\n"),
    (false, "decide = true\n"),
    (false, "[levels]\nname-unused = \"fatal\"\n"),
    (false, "[[folder]]\npath = \"old\"\n"),
    (false, "[[folder]]\npath = \"old\"\nlevels = {}\nunits = \"us\"\n"),
    (false, "[vocabulary]\ndynamo = \"generator\"\n"),
    (false, "[vocabulary]\ndynamo = { use = \"generator\" }\n"),
    (false, "[folder]\npath = \"old\"\nlevels = {}\n"),
];

#[test]
fn the_schema_of_settings_and_their_reader_take_the_same() {
    let validator = jsonschema::validator_for(&dwell_settings::schema()).unwrap();
    for (taken, text) in SETTINGS {
        let json: serde_json::Value = toml::from_str(text).unwrap();
        assert_eq!(validator.is_valid(&json), taken, "the schema: {text}");
        assert_eq!(dwell_settings::read(text).slips.is_empty(), taken, "the reader: {text}");
    }
}
