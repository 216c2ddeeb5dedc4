//! What a technician, or a file, can answer.

/// One answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// It is done: work, a wait, a note.
    Done,
    /// It holds already.
    Yes,
    /// It does not.
    No,
    /// A value as typed: `62.3`, `2 1/4`, `above 1000`, `62.3 Hz`; `no reading` is taken as [`Answer::NoReading`].
    Value {
        /// The number, with its unit or without.
        text: String,
        /// The unit that the source states, where the text itself has none. Without either the value is refused.
        unit: Option<String>,
    },
    /// All values of a sampled measurement, in order.
    Samples(Vec<GivenSample>),
    /// A value, or samples, given again after they were asked back ([`crate::Refusal::Doubtful`]): taken as they are. The
    /// record notes which of them were doubted.
    Kept(Box<Answer>),
    /// A value, or samples, that nobody typed: an instrument gave it, or a file that another program writes. The record notes
    /// which one.
    Shown {
        /// What gave it, `DMM-9 at 192.0.2.7:5025`.
        by: String,
        /// The value or the samples; [`Answer::Kept`] where they were asked back.
        answer: Box<Answer>,
    },
    /// It cannot be done, read or told, and why.
    Cannot(String),
    /// Nothing could be read: not readable, out of the tool's range.
    NoReading,
    /// One of the answers of a question.
    Choice(String),
    /// What is held just now, the last of [`crate::Session::keeping`], is lost. It answers every prompt while something is held.
    Lost,
    /// The name of a person who signs.
    Signature(String),
}

/// One value of a sampled measurement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GivenSample {
    /// Seconds since the measurement began, as typed; all values of a measurement have one, or none has.
    pub time: Option<String>,
    /// The value as typed, or `no reading`.
    pub text: String,
    /// The unit that the source states, where the text itself has none.
    pub unit: Option<String>,
    /// Whether it was asked back and is given again.
    pub kept: bool,
}
