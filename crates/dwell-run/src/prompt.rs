//! What is asked now, with all that must be seen before it is answered.

use dwell_card::Num;
use dwell_quantity::{Band, Kind, Unit};
use dwell_record::Outcome;
use dwell_record::event::Doing;

/// What is asked now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Prompt {
    /// Something to do, to wait for or to read; answered with [`crate::Answer::Done`].
    Confirm(Confirm),
    /// Does this hold already? Answered with yes or no.
    Need {
        /// The node of the card.
        node: usize,
        /// The item or tool that it is about, by its name in the text.
        item: String,
        /// Its place, for an item that is there more than once.
        place: Option<String>,
        /// The states that are asked for, by their names in the text; one of them must be so.
        states: Vec<String>,
        /// What must hold, "The engine is stopped".
        says: String,
        /// Where to find what it is about, when this is the first that touches it.
        located: Vec<Located>,
        /// The cautions that stand before it.
        cautions: Vec<CautionWords>,
    },
    /// A value; answered with a value or "no reading".
    Reading(ReadingPrompt),
    /// A question with a choice of answers.
    Question(QuestionPrompt),
    /// A signature; answered with the name of a person.
    Sign(SignPrompt),
    /// Nothing more: the procedure is over.
    Done {
        /// How it came out.
        result: Outcome,
    },
}

/// A caution, to be shown before what is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CautionWords {
    /// The signal word.
    pub level: &'static str,
    /// The name of the hazard.
    pub hazard: String,
    /// The words.
    pub text: String,
}

/// Where a thing is to be found. It is told once in a job, with the first question or instruction that touches the thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Located {
    /// What people call the thing, without a place of several.
    pub label: String,
    /// Where it is: "fuse box, place 14".
    pub at: String,
}

/// Something to do, to wait for or to read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Confirm {
    /// The node of the card.
    pub node: usize,
    /// What kind of thing.
    pub doing: Doing,
    /// The instruction.
    pub says: String,
    /// What more is told.
    pub text: Option<String>,
    /// Where to find the things that it is the first to touch.
    pub located: Vec<Located>,
    /// The band to set to, for a torque: as written, or as it was worked out.
    pub band: Option<String>,
    /// What the wrench is set to for that band, where an adapter makes that another one: `83.1 N·m`.
    pub setting: Option<String>,
    /// How the thing must be for that band, in words: "Thread dry and clean."
    pub condition: Option<String>,
    /// What people call the tools.
    pub tools: Vec<String>,
    /// For a wait: how many seconds.
    pub seconds: Option<Num>,
    /// For a wait: the event from which the time counts.
    pub since: Option<String>,
    /// The cautions that stand before it.
    pub cautions: Vec<CautionWords>,
}

/// A value that is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadingPrompt {
    /// The node of the card.
    pub node: usize,
    /// The reading, by its number on the card.
    pub reading: usize,
    /// Its name.
    pub name: String,
    /// Its place, for one of a row.
    pub place: Option<String>,
    /// The kind of quantity.
    pub kind: Kind,
    /// The unit that it is asked for in.
    pub unit: Unit,
    /// How many decimals the tool gives.
    pub decimals: u32,
    /// Which value of several, from 1.
    pub round: u32,
    /// How many values are asked for.
    pub of: u32,
    /// For a sampled measurement: what is wanted in one answer. `round` and `of` are 1 then.
    pub sampled: Option<SampledPrompt>,
    /// What people call the tool.
    pub tool: Option<String>,
    /// The instruction.
    pub says: String,
    /// What more is told.
    pub text: Option<String>,
    /// The bands that it will be held against, in words: `56 .. 68 Hz`, `set to 60 .. 64 Hz`.
    pub bands: Vec<String>,
    /// The same bands as numbers, for a drawing.
    pub held: Vec<Held>,
    /// What its two signs mean, in words: `plus is toe-in, minus is toe-out`.
    pub signs: Option<String>,
    /// How the thing must be for these bands, in words: "Cold tyres."
    pub conditions: Vec<String>,
    /// The cautions that stand before it.
    pub cautions: Vec<CautionWords>,
}

/// A band that a reading will be held against.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    /// The band, in base units.
    pub band: Band,
    /// Whether it is a band to set to.
    pub adjusting: bool,
}

/// What a sampled measurement wants: all its values in one answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SampledPrompt {
    /// The least number of values.
    pub least: u32,
    /// The seconds between two of them, where that is said.
    pub every: Option<Num>,
    /// How many values of another reading of the same measurement were given: so many are wanted.
    pub given: Option<u32>,
}

impl SampledPrompt {
    /// How the values are typed, for a person: `type at least 3 values with blanks between: 12 12 12 V`.
    pub fn how(&self, unit: &str) -> String {
        let count = match (self.given, self.least) {
            (Some(given), _) => format!("{given} value{}", if given == 1 { "" } else { "s" }),
            (None, 0 | 1) => "one value, or all values".to_owned(),
            (None, least) => format!("at least {least} values"),
        };
        let every = self.every.as_ref().map(|every| format!(", one every {} s", every.0)).unwrap_or_default();
        format!("type {count} with blanks between{every}: {}", format!("12 12 12 {unit}").trim_end())
    }
}

/// A question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuestionPrompt {
    /// The node of the card.
    pub node: usize,
    /// The question, by its number on the card.
    pub question: usize,
    /// The name of its answer.
    pub name: String,
    /// Its words.
    pub text: String,
    /// The answers to choose from.
    pub values: Vec<String>,
    /// The cautions that stand before it.
    pub cautions: Vec<CautionWords>,
}

/// A signature that is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignPrompt {
    /// The node of the card.
    pub node: usize,
    /// The name of the step; `restore` for what was put back.
    pub step: String,
    /// What is signed for: the title of the step, or "What was put back".
    pub title: String,
    /// Which signature, from 1.
    pub person: u32,
    /// How many sign; each is another person.
    pub of: u32,
    /// Who has signed here already.
    pub signed: Vec<String>,
    /// The cautions that stand before it.
    pub cautions: Vec<CautionWords>,
}

impl Prompt {
    /// The cautions that stand before it.
    pub fn cautions(&self) -> &[CautionWords] {
        match self {
            Prompt::Confirm(confirm) => &confirm.cautions,
            Prompt::Need { cautions, .. } => cautions,
            Prompt::Reading(reading) => &reading.cautions,
            Prompt::Question(question) => &question.cautions,
            Prompt::Sign(sign) => &sign.cautions,
            Prompt::Done { .. } => &[],
        }
    }

    /// What kind of answer is wanted, for a message.
    pub fn wants(&self) -> String {
        match self {
            Prompt::Confirm(_) => "confirmation that it is done".into(),
            Prompt::Need { .. } => "yes or no".into(),
            Prompt::Reading(reading) if reading.sampled.is_none() && reading.unit.symbol().is_empty() => {
                "a number, or `no reading`".into()
            }
            Prompt::Reading(ReadingPrompt { sampled: Some(sampled), unit, .. }) => {
                let how = sampled.how(unit.symbol());
                format!("{}; or `no reading`", how.trim_start_matches("type "))
            }
            Prompt::Reading(reading) => format!("a value such as `12 {}`, or `no reading`", reading.unit),
            Prompt::Question(question) => format!("one of {}", question.values.join(", ")),
            Prompt::Sign(sign) if sign.person > 1 => "the name of a second person who signs".into(),
            Prompt::Sign(_) => "the name of the person who signs".into(),
            Prompt::Done { .. } => "nothing more".into(),
        }
    }
}
