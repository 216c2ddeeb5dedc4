//! The events of a job: one for each thing that was shown, asked, done, read or decided.

mod chosen;
mod from_paper;
mod going_on;
mod judged;
mod measured;
mod photo;
mod put_right;
mod tool;
mod words;

pub use chosen::Chosen;
pub use from_paper::FromPaper;
pub use going_on::{By, Corrected, TakenUp, Taking, WentBack};
pub use judged::{Judged, Tested, Uncertain};
pub use measured::{Measured, ReadingName, Sample, Sampled, SampledHow, SeriesTaken};
pub use photo::PhotoTaken;
pub use put_right::PutRight;
pub use tool::{Allowed, Scale, ToolTaken};

use crate::report::ReadingLine;
use crate::vin::Vehicle;
use crate::word::Outcome;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One thing that happened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Event {
    /// Its number in the record, from 1; this is the order of things, whatever the clock said.
    pub seq: u64,
    /// When, as RFC 3339 writes it, with the distance from UTC.
    pub at: String,
    /// The node of the card that it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub node: Option<usize>,
    /// What happened.
    pub what: What,
}

/// What happened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// The job began; always the first event.
    Begun(Begun),
    /// The standing notice was shown.
    NoticeShown(Words),
    /// A performed procedure began.
    Opened(Procedure),
    /// A step began.
    StepBegun(Step),
    /// A caution was shown.
    CautionShown(Caution),
    /// What has to stay as it is from here until everything is put back.
    Keeping(Words),
    /// What was held during a span need not be held any longer.
    Released(Words),
    /// What was to be held was lost.
    Lost(Lost),
    /// It was told whether something holds already.
    NeedAnswered(NeedAnswered),
    /// Something was done by hand, waited for or read through.
    Done(Done),
    /// One of several values of a reading was taken.
    Sampled(Sampled),
    /// All samples of one of several readings were taken.
    SeriesTaken(SeriesTaken),
    /// A reading has its value.
    Measured(Box<Measured>),
    /// Something was judged.
    Judged(Judged),
    /// A size was chosen from a series, or none fitted.
    Chosen(Box<Chosen>),
    /// A question was answered.
    Answered(Answered),
    /// Somebody signed.
    Signed(Signed),
    /// A probable cause was noted.
    Cause(Cause),
    /// Something does not fit what is known of the vehicle, or the text says nothing here.
    Doubt(Words),
    /// The procedure's end was settled.
    Ended(Ended),
    /// Something could not be done, read or told.
    Cannot(Cannot),
    /// The technician stopped; what is owed is put back.
    Stopped(Words),
    /// The job was taken up again after an interruption.
    TakenUp(Box<TakenUp>),
    /// The technician went back.
    WentBack(WentBack),
    /// A reading was noted wrong and is asked for again.
    Corrected(Box<Corrected>),
    /// A tool of the workshop was taken for one of the procedure.
    ToolTaken(Box<ToolTaken>),
    /// What follows was typed in from a sheet of paper.
    FromPaper(FromPaper),
    /// A photo was taken.
    PhotoTaken(PhotoTaken),
    /// A procedure was over, with everything put back that it had to.
    Closed(Closed),
    /// A value of a job that is over was put right; only behind the end.
    PutRight(Box<PutRight>),
    /// The job was over; only what is put right later stands behind it.
    Finished(Finished),
}

/// The job began.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Begun {
    /// The version of the record's format: 2; 1 before its lines were chained.
    pub format: u32,
    /// The SHA-256 of the card's canonical form.
    pub card: String,
    /// The name of the procedure.
    pub procedure: String,
    /// Its title.
    pub title: String,
    /// Its revision.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revision: Option<Revision>,
    /// The vehicle, where its number was given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vehicle: Option<Vehicle>,
    /// The variants of the vehicle that matter to it.
    #[serde(default)]
    pub variants: BTreeMap<String, String>,
    /// Whether in and out are decided with the tool's accuracy as guard band.
    #[serde(default)]
    pub guarded: bool,
    /// Who began it, and on which device.
    #[serde(default, skip_serializing_if = "By::is_unknown")]
    pub by: By,
    /// The program that wrote the record, with its version.
    pub program: String,
}

/// The revision of a procedure.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Revision {
    /// Its number.
    pub number: u32,
    /// Its day, year-month-day.
    pub date: String,
}

/// A procedure by its name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Procedure {
    /// Its name.
    pub procedure: String,
    /// Its title.
    pub title: String,
}

/// A step by its name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Step {
    /// Its name.
    pub step: String,
    /// Its title.
    pub title: String,
}

/// Words and nothing else.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Words {
    /// The words.
    pub text: String,
}

/// Something that was to be held was lost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Lost {
    /// The item or the quantity.
    pub name: String,
    /// Its place, for one of a row.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// What was to be held, "The engine speed stays 2500 ± 300 rpm."
    pub says: String,
    /// Whether the technician said so; otherwise the measurement at the end of the span told it.
    pub told: bool,
}

impl Lost {
    /// "Not held: the engine speed stays 2500 ± 300 rpm".
    pub fn words(&self) -> String {
        let mut letters = self.says.trim_end_matches('.').chars();
        let first: String = letters.next().into_iter().flat_map(char::to_lowercase).collect();
        format!("Not held: {first}{}", letters.as_str())
    }
}

/// Something could not be done, read or told. The work ends unfinished there; where things are put back, the rest still is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Cannot {
    /// What was asked, "Remove the belt guard."
    pub says: String,
    /// Why not.
    pub why: String,
}

impl Cannot {
    /// "Remove the belt guard: a clip is rusted in".
    pub fn words(&self) -> String {
        format!("{}: {}", self.says.trim_end_matches('.'), self.why)
    }
}

/// A caution as it was shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Caution {
    /// The signal word: `NOTICE`, `CAUTION`, `WARNING` or `DANGER`.
    pub level: String,
    /// The name of the hazard.
    pub hazard: String,
    /// The words.
    pub text: String,
}

/// Whether something holds already.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct NeedAnswered {
    /// What was asked, "The engine is stopped".
    pub says: String,
    /// Whether it holds.
    pub holds: bool,
    /// Whether the technician was asked; what only a proof tells is not asked.
    pub asked: bool,
}

/// Something was done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Done {
    /// What kind of thing.
    pub doing: Doing,
    /// The instruction.
    pub says: String,
    /// What more the technician was told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// The band that it was set to, where it was worked out, or where an adapter was at the wrench: the torque at the fastener,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band: Option<String>,
    /// and what the wrench was to be set to for it: `80 .. 86 N·m at the torque wrench`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setting: Option<String>,
    /// The numbers of the tools of the workshop, where they were noted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tools: Vec<String>,
}

/// What kind of thing was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Doing {
    /// Work by hand.
    Work,
    /// Waiting.
    Wait,
    /// Reading a note.
    Note,
}

/// A question was answered.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Answered {
    /// The name of the question.
    pub question: String,
    /// Its words.
    pub text: String,
    /// The answer.
    pub answer: String,
}

/// Somebody signed for a step, or for what was put back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Signed {
    /// The procedure.
    pub procedure: String,
    /// The name of the step; `restore` for what was put back.
    pub step: String,
    /// The title of the step.
    pub title: String,
    /// The name of the person.
    pub by: String,
    /// Which signature of several, from 1.
    pub person: u32,
    /// How many sign.
    pub of: u32,
}

impl Signed {
    /// "Close the terminals: A. Weber", with "(2 of 2)" where two sign.
    pub fn words(&self) -> String {
        let which = if self.of > 1 { format!(" ({} of {})", self.person, self.of) } else { String::new() };
        format!("{}: {}{which}", self.title, self.by)
    }
}

/// A probable cause.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Cause {
    /// The item.
    pub item: String,
    /// Why.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
}

/// The procedure's end was settled.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Ended {
    /// What the text ended with; the result is computed when the procedure closes.
    pub outcome: Outcome,
    /// What the technician was told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// The procedure that has to go on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refer: Option<String>,
}

/// A procedure was over.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Closed {
    /// Its name.
    pub procedure: String,
    /// How it came out.
    pub result: Outcome,
}

/// The job was over.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Finished {
    /// How it came out.
    pub result: Outcome,
    /// What stayed otherwise than it was found, "The belt guard is removed".
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub open: Vec<String>,
    /// Every reading as found and as left.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<ReadingLine>,
}
