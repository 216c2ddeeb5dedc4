//! One card executed step by step: a pure state machine.
//!
//! A [`Session`] knows no clock, no file and no terminal: times and answers are arguments, events come back. What is in band,
//! what is owed and where a branch leads is decided by [`dwell_card::meaning`] alone, which the checker uses too.

mod answer;
mod by_hand;
mod drive;
mod gathering;
mod listed;
mod prompt;
mod refusal;
mod session;
pub mod shown;
mod typed;

#[cfg(test)]
mod tests;

pub use answer::{Answer, GivenSample};
pub use by_hand::by_hand;
pub use drive::{Driven, Halt, LOST, Row, Rows, SIGNATURE, STOP, drive};
pub use gathering::{Gathering, Given, Wanted};
pub use prompt::{
    CautionWords, Confirm, Held, Located, Prompt, QuestionPrompt, ReadingPrompt, SampledPrompt, SignPrompt,
};
pub use refusal::{Doubt, Refusal};
pub use session::{Came, Keeping, Moment, Place, Right, Session, Start, put_right};
pub use typed::typed_value;
