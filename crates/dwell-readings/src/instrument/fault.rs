//! Why an instrument gave no reading, and what to do.

use std::fmt;

/// A fault; with each of them nothing was read.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs)]
pub enum InstrumentFault {
    /// Nothing there takes a connection.
    Unreachable { address: String, why: String },
    /// Something answers that does not say what it is.
    NoInstrument { address: String, answer: String },
    /// After a fault another instrument answers at the same address.
    Another { address: String, before: String, now: String },
    /// The connection ended.
    Lost { address: String, why: String },
    /// No answer in time.
    NoAnswer { address: String, query: String, seconds: f64 },
    /// It noted an error.
    Noted { query: String, said: String },
    /// The answer is not one number.
    NotOneNumber { query: String, answer: String },
    /// What is to be sent is no question.
    NoQuery { query: String },
}

impl fmt::Display for InstrumentFault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            InstrumentFault::Unreachable { address, why } => write!(
                out,
                "no instrument can be reached at {address}: {why}\n  help: is it on, is its plug in, and is this its address?"
            ),
            InstrumentFault::NoInstrument { address, answer } => write!(
                out,
                "what answers at {address} does not say which instrument it is: `{answer}`\n  help: it is to answer `*IDN?` \
                 with maker, model, serial number and firmware, as IEEE 488.2 says; is this the right address and port?"
            ),
            InstrumentFault::Another { address, before, now } => write!(
                out,
                "at {address} another instrument answers now: `{now}`, before `{before}`\n  help: nothing was read from it; put \
                 the first one back, or begin the measurement anew with this one"
            ),
            InstrumentFault::Lost { address, why } => write!(
                out,
                "the connection to the instrument at {address} is lost: {why}\n  help: look at its plug, then measure again"
            ),
            InstrumentFault::NoAnswer { address, query, seconds } => write!(
                out,
                "the instrument at {address} did not answer `{query}` within {seconds} s\n  help: does it still measure? Give it \
                 more time where it needs that, then measure again"
            ),
            InstrumentFault::Noted { query, said } => write!(
                out,
                "the instrument cannot carry out `{query}`; it says: {said}\n  help: its handbook has the question that it \
                 understands; nothing was read"
            ),
            InstrumentFault::NotOneNumber { query, answer } => write!(
                out,
                "the instrument answers `{query}` with `{answer}`, which is not one number\n  help: ask for a single value, as a \
                 number in text (`FORMat ASCii`)"
            ),
            InstrumentFault::NoQuery { query } => write!(
                out,
                "`{query}` is no question to an instrument\n  help: write one query that ends in `?` and its parameters, such as \
                 `MEASure:VOLTage:DC?`, on one line and without `;`"
            ),
        }
    }
}

impl std::error::Error for InstrumentFault {}
