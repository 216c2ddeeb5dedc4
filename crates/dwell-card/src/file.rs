//! The card as a file: versioned JSON, its canonical form (RFC 8785) and its SHA-256.

use crate::card::Card;
use crate::graph::Way;
use sha2::{Digest, Sha256};
use std::fmt;

/// The version of the format that this crate writes and reads.
pub const FORMAT: u32 = 1;

/// Why a file is no card.
#[derive(Debug)]
pub enum CardError {
    /// It is not JSON of this shape; the words of the JSON reader, with line and column.
    Shape(serde_json::Error),
    /// It has another format version.
    Format(u64),
    /// It refers to something that is not in it.
    Broken(String),
}

impl fmt::Display for CardError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CardError::Shape(error) => write!(out, "this is no card: {error}"),
            CardError::Format(found) => {
                write!(
                    out,
                    "this card has format {found}, and this program reads format {FORMAT}: build the card again"
                )
            }
            CardError::Broken(what) => write!(out, "this card is damaged: {what}: build it again"),
        }
    }
}

impl std::error::Error for CardError {}

impl Card {
    /// The file: JSON for people to read, ending with a line end.
    pub fn to_json(&self) -> Result<String, CardError> {
        let mut text = serde_json::to_string_pretty(self).map_err(CardError::Shape)?;
        text.push('\n');
        Ok(text)
    }

    /// Reads a file. What it refers to must be there; nothing else of it is trusted to be proved.
    pub fn from_json(text: &str) -> Result<Card, CardError> {
        let any: serde_json::Value = serde_json::from_str(text).map_err(CardError::Shape)?;
        match any.get("format").and_then(serde_json::Value::as_u64) {
            Some(found) if found != u64::from(FORMAT) => return Err(CardError::Format(found)),
            _ => {}
        }
        let card: Card = serde_json::from_str(text).map_err(CardError::Shape)?;
        card.whole()?;
        Ok(card)
    }

    /// The canonical form of RFC 8785: the same card is the same bytes everywhere.
    pub fn canonical(&self) -> Result<String, CardError> {
        serde_json_canonicalizer::to_string(self).map_err(CardError::Shape)
    }

    /// The SHA-256 of the canonical form, 64 hexadecimal digits: the name by which a record knows the card.
    pub fn sha256(&self) -> Result<String, CardError> {
        let digest = Sha256::digest(self.canonical()?.as_bytes());
        Ok(digest.iter().map(|byte| format!("{byte:02x}")).collect())
    }

    /// The JSON Schema (2020-12) of the format.
    pub fn schema() -> serde_json::Value {
        schemars::schema_for!(Card).to_value()
    }

    /// Whether every way leads to a node that is there.
    fn whole(&self) -> Result<(), CardError> {
        if self.nodes.is_empty() {
            return Err(CardError::Broken("it has no nodes".into()));
        }
        for (place, node) in self.nodes.iter().enumerate() {
            for (way, to) in &node.next {
                if *to >= self.nodes.len() {
                    return Err(CardError::Broken(format!(
                        "node {place} leads to node {to}, which is not there"
                    )));
                }
                // Beside its one way a node may still lose what is held meanwhile, or come without a reading.
                let beside = |other: &&Way| !matches!(other, Way::Then | Way::Lost | Way::NoReading);
                if *way == Way::Then && node.next.keys().any(|other| beside(&other)) {
                    return Err(CardError::Broken(format!("node {place} has more than its one way")));
                }
            }
        }
        Ok(())
    }
}
