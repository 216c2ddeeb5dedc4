//! Secrets: the tokens of devices, the keys in addresses and the codes that are typed. The system draws them; only hashes are kept.

use super::error::AccessError;
use sha2::{Digest, Sha256};
use std::fmt;
use std::fmt::Write;

/// A secret of 256 bits that a device or a program shows at each request: 64 hexadecimal digits.
pub struct Token(String);

impl Token {
    /// Draws a new one.
    ///
    /// # Errors
    /// [`AccessError::NoSecrets`] where the system gives no random numbers.
    pub(crate) fn drawn() -> Result<Token, AccessError> {
        Ok(Token(hex(&drawn::<32>()?)))
    }

    /// Its digits. Whoever has them comes in.
    pub fn shown(&self) -> &str {
        &self.0
    }

    /// What is kept of it.
    pub(crate) fn hash(&self) -> String {
        hash(&self.0)
    }
}

// A secret does not slip into a log.
impl fmt::Debug for Token {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("Token(…)")
    }
}

/// Letters and digits that are told apart when they are read aloud: without I, L, O and U (the alphabet of Crockford's base 32).
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// A code of 40 bits that a person types once, to let a device in.
pub struct Code(String);

impl Code {
    /// Draws a new one.
    ///
    /// # Errors
    /// [`AccessError::NoSecrets`] where the system gives no random numbers.
    pub(crate) fn drawn() -> Result<Code, AccessError> {
        let bits = drawn::<5>()?.iter().fold(0_u64, |bits, byte| bits << 8 | u64::from(*byte));
        let letter = |place: u32| {
            let five = usize::try_from(bits >> (5 * place) & 31).unwrap_or_default();
            char::from(LETTERS.get(five).copied().unwrap_or(b'0'))
        };
        Ok(Code((0..8).rev().map(letter).collect()))
    }

    /// Reads what was typed: blanks, hyphens and small letters do not matter, and O, I and L are read as the digits they look like.
    pub(crate) fn typed(text: &str) -> Option<Code> {
        let mut read = String::new();
        for letter in text.chars().filter(|letter| !letter.is_whitespace() && *letter != '-') {
            let letter = match letter.to_ascii_uppercase() {
                'O' => '0',
                'I' | 'L' => '1',
                other => other,
            };
            if read.len() == 8 || !letter.is_ascii() || !LETTERS.contains(&u8::try_from(letter).ok()?) {
                return None;
            }
            read.push(letter);
        }
        (read.len() == 8).then_some(Code(read))
    }

    /// In two groups, as it is read aloud: `7K3M-9QXT`.
    pub fn shown(&self) -> String {
        let (first, second) = self.0.split_at_checked(4).unwrap_or((&self.0, ""));
        format!("{first}-{second}")
    }

    /// What is kept of it.
    pub(crate) fn hash(&self) -> String {
        hash(&self.0)
    }
}

impl fmt::Debug for Code {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("Code(…)")
    }
}

/// SHA-256 in hexadecimal digits. A secret of 256 bits needs no slower hash: there is nothing to try out.
pub(crate) fn hash(text: &str) -> String {
    hex(&Sha256::digest(text.as_bytes()))
}

pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

fn drawn<const N: usize>() -> Result<[u8; N], AccessError> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|error| AccessError::NoSecrets { why: error.to_string() })?;
    Ok(bytes)
}
