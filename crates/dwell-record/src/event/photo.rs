//! A photo that belongs to a place of a job: the picture itself is kept beside the record, and its hash stands in it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A photo was taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct PhotoTaken {
    /// The SHA-256 of the picture's bytes, by which it is found.
    pub sha256: String,
    /// Its media type, `image/jpeg`.
    pub media: String,
    /// How many bytes it has.
    pub bytes: u64,
    /// What was asked when it was taken, "Remove the belt guard."
    pub says: String,
    /// What the person who took it says of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
}

impl PhotoTaken {
    /// `photo at "Remove the belt guard": a crack; image/jpeg, 48213 bytes, SHA-256 3f2a…`, with the whole hash.
    pub fn words(&self) -> String {
        let text = self.text.iter().map(|text| format!(": {text}")).collect::<String>();
        format!(
            "photo at \"{}\"{text}; {}, {} bytes, SHA-256 {}",
            self.says.trim_end_matches('.'),
            self.media,
            self.bytes,
            self.sha256
        )
    }
}
