//! The cards of the library as files: frozen with their names, read back as they were, valid by the published schema.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::OnceLock;

use dwell_card::Card;

use crate::merle::{Merle, all_told};

/// Where the frozen cards are; `UPDATE=1` writes them anew.
fn folder() -> PathBuf {
    crate::root().join("tests/frozen/cards")
}

/// The cards of the library, by the names of their procedures.
pub(super) fn cards() -> BTreeMap<String, Card> {
    static ONCE: OnceLock<BTreeMap<String, Card>> = OnceLock::new();
    ONCE.get_or_init(compiled).clone()
}

/// The same, compiled anew.
fn compiled() -> BTreeMap<String, Card> {
    let checked = Merle::read().checked();
    let card = |compiled: &dwell_check::check::Compiled| {
        let card =
            compiled.card.clone().unwrap_or_else(|| panic!("{}: {}", compiled.name, all_told(&checked)));
        (compiled.name.clone(), card)
    };
    checked.procedures.iter().map(card).collect()
}

#[test]
fn cards_and_their_hashes_are_frozen() {
    let folder = folder();
    let cards = cards();
    let hashes: String =
        cards.iter().map(|(name, card)| format!("{}  {name}.card.json\n", card.sha256().unwrap())).collect();
    if std::env::var_os("UPDATE").is_some() {
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        for (name, card) in &cards {
            fs::write(folder.join(format!("{name}.card.json")), card.to_json().unwrap()).unwrap();
        }
        fs::write(folder.join("SHA256"), &hashes).unwrap();
    }
    for (name, card) in &cards {
        let frozen = fs::read_to_string(folder.join(format!("{name}.card.json"))).unwrap_or_default();
        assert!(
            frozen == card.to_json().unwrap(),
            "the card of {name} is no longer the one in frozen/cards: if that is meant, run the tests with UPDATE=1"
        );
        assert_eq!(&Card::from_json(&frozen).unwrap(), card, "{name} is not read as it was written");
    }
    assert_eq!(fs::read_to_string(folder.join("SHA256")).unwrap_or_default(), hashes);
    assert_eq!(
        fs::read_dir(&folder).unwrap().count(),
        cards.len() + 1,
        "a frozen card has no procedure any more"
    );
}

#[test]
fn the_same_text_gives_the_same_card_every_time() {
    let first = compiled();
    for _ in 0..5 {
        assert!(compiled() == first, "a card depends on something beside its text");
    }
}

#[test]
fn a_card_is_known_by_the_hash_of_its_canonical_form() {
    use std::process::{Command, Stdio};
    // A second opinion: the program sha256sum (FIPS 180-4) over the canonical bytes (RFC 8785).
    let mut asked = 0;
    for card in compiled().values() {
        let file = tempfile::NamedTempFile::new().unwrap();
        fs::write(file.path(), card.canonical().unwrap()).unwrap();
        let Ok(said) = Command::new("sha256sum").arg(file.path()).stderr(Stdio::null()).output() else {
            continue;
        };
        let said = String::from_utf8(said.stdout).unwrap();
        assert_eq!(said.split(' ').next().unwrap(), card.sha256().unwrap());
        asked += 1;
    }
    assert!(asked == 0 || asked == compiled().len());
}

#[test]
fn every_card_is_valid_by_the_schema_and_a_damaged_one_is_not() {
    let schema = Card::schema();
    jsonschema::meta::validate(&schema).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for (name, card) in compiled() {
        let json: serde_json::Value = serde_json::from_str(&card.to_json().unwrap()).unwrap();
        let wrong: Vec<String> = validator
            .iter_errors(&json)
            .map(|error| format!("{} at {}", error, error.instance_path()))
            .collect();
        assert!(wrong.is_empty(), "{name}: {wrong:?}");
        for (key, _) in json.as_object().unwrap() {
            let mut damaged = json.clone();
            damaged[key] = serde_json::json!({ "no": "such thing" });
            assert!(!validator.is_valid(&damaged), "{name} with a damaged {key} is valid");
        }
        let mut more = json.clone();
        more["extra"] = serde_json::json!(1);
        assert!(!validator.is_valid(&more), "{name} with a field more is valid");
    }
}
