//! The chain: each line of a record carries the hash of the line before and its own, so that a change anywhere is seen.
//!
//! A line of format 2 is the event as JSON with two more members at its end:
//!
//! ```text
//! {"seq":2,…,"previous":"<64 digits>","hash":"<64 digits>"}
//! ```
//!
//! `previous` is the `hash` of the line before, 64 zeros in the first line. `hash` is the SHA-256 (FIPS 180-4) of the bytes of
//! the line as they stand there, with `,"hash":"<64 digits>"` cut out and without the line end. No other form of the JSON is
//! ever made for it: whoever has the file has the bytes.

use crate::event::Event;
use crate::lines::{LineError, write_line};
use sha2::{Digest, Sha256};
use std::fmt;

/// A SHA-256 as 64 small hexadecimal digits.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash(String);

impl Hash {
    /// What stands before the first line.
    pub fn none() -> Hash {
        Hash("0".repeat(DIGITS))
    }

    /// Of these bytes.
    pub fn of(bytes: &[u8]) -> Hash {
        Hash(Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect())
    }

    /// Reads 64 small hexadecimal digits; none where it is something else.
    pub fn parse(text: &str) -> Option<Hash> {
        let is_digit = |byte: u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
        (text.len() == DIGITS && text.bytes().all(is_digit)).then(|| Hash(text.to_owned()))
    }

    /// The digits.
    pub fn digits(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

/// The place of a line in its record's chain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// The hash of the line before.
    pub previous: Hash,
    /// The hash of this line.
    pub hash: Hash,
}

/// Where the chain of a record stands: the hash of its last line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chain(Hash);

impl Default for Chain {
    fn default() -> Chain {
        Chain(Hash::none())
    }
}

impl Chain {
    /// Goes on after the line with this hash.
    pub fn after(hash: Hash) -> Chain {
        Chain(hash)
    }

    /// The hash of the last line. Noted somewhere else, it shows later that nothing was cut off or written anew.
    pub fn last(&self) -> &Hash {
        &self.0
    }

    /// The next line, with its line end.
    ///
    /// # Errors
    /// [`LineError::Unwritable`], which no event of this crate's making brings about.
    pub fn line(&mut self, event: &Event) -> Result<String, LineError> {
        let bare = write_line(event)?;
        let bare = bare.strip_suffix("}\n").unwrap_or(&bare);
        let open = format!("{bare}{PREVIOUS}{}\"", self.0);
        self.0 = Hash::of(format!("{open}}}").as_bytes());
        Ok(format!("{open}{HASH}{}\"}}\n", self.0))
    }

    /// Takes a line that was read, where it follows.
    ///
    /// # Errors
    /// Why it does not, in words that go on after "line 3".
    pub fn take(&mut self, linked: &Linked<'_>) -> Result<(), String> {
        if linked.link.previous != self.0 {
            return Err(
                "does not follow the line before: one of them was changed, or lines between are missing"
                    .into(),
            );
        }
        if linked.computed != linked.link.hash {
            return Err("was changed after it was written: its hash is another".into());
        }
        self.0 = linked.link.hash.clone();
        Ok(())
    }
}

/// A line taken apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Linked<'a> {
    /// The event alone, without its closing brace.
    bare: &'a str,
    /// Its place in the chain, as the line says.
    pub link: Link,
    /// The hash that its bytes really have.
    pub computed: Hash,
}

impl Linked<'_> {
    /// The event as JSON, as format 1 wrote it.
    pub fn event(&self) -> String {
        format!("{}}}", self.bare)
    }
}

const DIGITS: usize = 64;
const PREVIOUS: &str = ",\"previous\":\"";
const HASH: &str = ",\"hash\":\"";

/// Takes a line apart, without its line end; none where it carries no link, as in format 1.
pub fn linked(line: &str) -> Option<Linked<'_>> {
    let digits = |text: &'_ str| -> Option<(usize, Hash)> {
        let at = text.len().checked_sub(DIGITS)?;
        Some((at, Hash::parse(text.get(at..)?)?))
    };
    let rest = line.strip_suffix("\"}")?;
    let (at, hash) = digits(rest)?;
    let before = rest.get(..at)?.strip_suffix(HASH)?;
    let inner = before.strip_suffix('"')?;
    let (at, previous) = digits(inner)?;
    let bare = inner.get(..at)?.strip_suffix(PREVIOUS)?;
    let computed = Hash::of(format!("{before}}}").as_bytes());
    Some(Linked { bare, link: Link { previous, hash }, computed })
}
