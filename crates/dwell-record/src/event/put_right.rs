//! A value that was noted wrong and is put right when its job is over.

use super::{By, Measured, ReadingName, Tested};
use crate::word::Outcome;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A value of a job that is over was noted wrong. What stands in the record stays there; this says what the value should have been,
/// and what is decided by it. Nothing is done at the vehicle by it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct PutRight {
    /// The number of the event with the value.
    pub event: u64,
    /// The reading.
    pub reading: ReadingName,
    /// What was noted wrong, "54.6 Hz".
    pub was: String,
    /// The value as it should have been noted.
    pub now: Box<Measured>,
    /// What was decided by the value that was noted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub decided: Vec<Tested>,
    /// What is decided by the right one.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub decides: Vec<Tested>,
    /// How the job comes out by it; none where it would have gone on another way than it did, so that nobody can say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub result: Option<Outcome>,
    /// Who says so.
    pub by: By,
    /// Why.
    pub why: String,
}

impl PutRight {
    /// "B. Roth put right after the end: tension was noted as 54.6 Hz (LOW by 1.4 Hz), and is 64.6 Hz (in band): misread".
    pub fn words(&self) -> String {
        let verdict = |tests: &[Tested]| {
            let own = tests.iter().filter(|test| test.reading.as_ref() == Some(&self.reading));
            let words: Vec<String> = own.map(Tested::words).collect();
            if words.is_empty() { String::new() } else { format!(" ({})", words.join(", ")) }
        };
        format!(
            "{} put right after the end: {} was noted as {}{}, and is {}{}: {}. {}",
            self.by.who(),
            self.reading.words(),
            self.was,
            verdict(&self.decided),
            self.now.shown,
            verdict(&self.decides),
            self.why,
            self.comes_to()
        )
    }

    /// What the job comes to by it, as a sentence.
    pub fn comes_to(&self) -> String {
        match self.result {
            Some(result) => format!("By that the job is {result}."),
            None => "By that the job would have gone on another way: nobody can say how it comes out; the vehicle is to be \
                     looked at again."
                .to_owned(),
        }
    }
}
