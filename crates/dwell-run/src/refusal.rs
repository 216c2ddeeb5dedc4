//! Why an answer, or a card, was not taken; a refusal changes nothing.

use dwell_quantity::NumberError;
use std::fmt;

/// Why a value is asked back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// The tool cannot show it.
    BeyondTool {
        /// What people call the tool.
        tool: String,
        /// What it shows.
        range: String,
    },
    /// Another value would be in band, and a common slip lies between the two.
    Slip {
        /// The other value.
        meant: String,
        /// The slip: `the decimal point is one place off`, `it was read in psi`.
        what: String,
    },
    /// With the other sign it would be in band.
    Sign {
        /// The other value.
        meant: String,
    },
    /// It is far from the other values of the same measurement.
    Apart {
        /// Some of them.
        others: Vec<String>,
    },
}

/// Why something was not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// A variant that the card needs was not given.
    VariantMissing {
        /// Its name.
        axis: String,
        /// The values to choose from.
        values: Vec<String>,
    },
    /// The card has no variant of that name.
    NoSuchVariant {
        /// The name that was given.
        axis: String,
        /// The names that it has.
        known: Vec<String>,
    },
    /// The procedure does not apply to this value of a variant.
    DoesNotApply {
        /// The procedure.
        procedure: String,
        /// The variant.
        axis: String,
        /// The value that was given.
        value: String,
        /// The values that it applies to.
        values: Vec<String>,
    },
    /// A variant was given twice, differently.
    VariantTwice {
        /// Its name.
        axis: String,
    },
    /// The card, or something that it needs, is withdrawn.
    Withdrawn {
        /// What: "the procedure `x`", "the limit `y`".
        what: String,
        /// The first day, year-month-day.
        on: String,
        /// Why, and what takes its place.
        why: String,
    },
    /// A time is not written as RFC 3339 says.
    Time(String),
    /// What was typed is no number.
    Number {
        /// What was typed.
        typed: String,
        /// Why it is none.
        why: NumberError,
    },
    /// A value without a unit.
    UnitMissing {
        /// What was typed.
        typed: String,
        /// The unit that is asked for.
        asked: String,
    },
    /// There is no such unit.
    UnknownUnit {
        /// What was typed.
        typed: String,
        /// What may have been meant.
        suggestions: Vec<String>,
    },
    /// A spelling that could mean two units.
    AmbiguousUnit {
        /// What was typed.
        typed: String,
        /// Why.
        why: String,
        /// The spellings to choose from.
        choices: Vec<String>,
    },
    /// A unit of another kind of quantity.
    OtherKind(
        /// The sentence that says which unit, which kind, and what to write.
        String,
    ),
    /// A value that the text does not believe.
    NotBelieved {
        /// The value.
        value: String,
        /// Where it must lie.
        expected: String,
    },
    /// A value that looks like a slip: it is taken when it is given again.
    Doubtful {
        /// The value as it was understood.
        value: String,
        /// Why it is asked back.
        why: Doubt,
    },
    /// A mark between digits that could be a decimal mark or part thousands.
    Marks {
        /// What was typed.
        typed: String,
        /// How to type it where it is a decimal mark.
        fraction: String,
        /// How to type it where it parts thousands.
        whole: String,
    },
    /// Fewer samples than must be given.
    TooFewSamples {
        /// How many were given.
        given: usize,
        /// How many must be.
        least: u32,
        /// The unit asked for.
        unit: String,
    },
    /// More samples than one measurement can have.
    TooManySamples {
        /// How many were given.
        given: usize,
        /// How many it can have.
        most: usize,
    },
    /// Another number of samples, or other times, than those of another reading of the same measurement.
    UnequalSamples {
        /// How many were given here.
        given: usize,
        /// The other reading.
        other: String,
        /// How many it has.
        wanted: usize,
    },
    /// The times of samples do not rise, are missing for some, or are none.
    SampleTimes(
        /// What is wrong.
        String,
    ),
    /// Not one of the answers.
    NotAnAnswer {
        /// What was given.
        given: String,
        /// The answers.
        values: Vec<String>,
    },
    /// An answer of another sort than what is asked.
    NotAsked {
        /// What is wanted.
        wanted: String,
    },
    /// Nothing is held just now that could be lost.
    NothingHeld,
    /// What was given as a signature is no name.
    NoName {
        /// What was given.
        given: String,
    },
    /// The second signature is the first person's.
    SamePerson {
        /// The name.
        name: String,
    },
    /// There is nothing to go back to: nothing was answered yet, or not since the technician stopped.
    NothingBehind,
    /// The event does not begin an answer that can be gone back to.
    NotBackTo {
        /// The number that was given.
        seq: u64,
    },
    /// The place lies before the performed procedure at hand, which alone puts back what it has opened.
    BeforePerformed {
        /// The procedure at hand.
        procedure: String,
    },
    /// What is to be put right is no reading.
    NoReadingThere {
        /// The number that was given.
        seq: u64,
    },
    /// Going back, putting right and what cannot be done need a reason.
    NoReason,
    /// A value is put right after the end, and the job is not over.
    NotOver,
    /// Nobody said who puts it right.
    NoPerson,
    /// A value that was put right, or gone back behind, in the job itself.
    CountsNoMore {
        /// The number of its event.
        seq: u64,
    },
    /// As many values must be given as were typed then, one by one.
    NotOneByOne {
        /// How many were typed.
        typed: usize,
        /// How many were given.
        given: usize,
    },
    /// The card has no tool of that name.
    NoSuchTool {
        /// The name that was given.
        given: String,
        /// The names that it has.
        known: Vec<String>,
    },
    /// The procedure is over.
    Over,
    /// A record was made with another card.
    AnotherCard {
        /// The hash of the card in the record.
        recorded: String,
        /// The hash of the card at hand.
        at_hand: String,
    },
    /// A record is not what this card does with its answers.
    AnotherCourse {
        /// The number of the event that does not fit.
        seq: u64,
    },
    /// The card is damaged, or was never proved.
    BrokenCard(
        /// What is wrong with it.
        String,
    ),
}

impl fmt::Display for Refusal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::VariantMissing { axis, values } => write!(
                out,
                "the card does not know the vehicle's {axis}, and what is done depends on it: give {axis} as {}",
                either(values)
            ),
            Refusal::NoSuchVariant { axis, known } if known.is_empty() => {
                write!(out, "`{axis}` makes no difference to this procedure: leave it out")
            }
            Refusal::NoSuchVariant { axis, known } => {
                write!(
                    out,
                    "`{axis}` makes no difference to this procedure, or is misspelt: it asks for {}",
                    known.join(", ")
                )
            }
            Refusal::DoesNotApply { procedure, axis, value, values } => write!(
                out,
                "`{procedure}` is not written for {axis} {value}, only for {}: its limits would be wrong there",
                either(values)
            ),
            Refusal::VariantTwice { axis } => {
                write!(out, "{axis} was given twice with different values: give it once")
            }
            Refusal::Withdrawn { what, on, why } => write!(
                out,
                "{what} is withdrawn from {on} on: \"{}\" Work by the one that took its place",
                why.trim()
            ),
            Refusal::Time(text) => {
                write!(out, "`{text}` is no time as RFC 3339 writes it, such as 2031-04-12T09:05:00+02:00")
            }
            Refusal::Number { typed, why } => write!(out, "`{typed}` was not taken: {why}"),
            Refusal::UnitMissing { typed, asked } => {
                write!(
                    out,
                    "`{typed}` has no unit, so it could mean anything: write `{typed} {asked}`, or the unit that you read"
                )
            }
            Refusal::UnknownUnit { typed, suggestions } if suggestions.is_empty() => {
                write!(out, "there is no unit `{typed}`")
            }
            Refusal::UnknownUnit { typed, suggestions } => {
                write!(out, "there is no unit `{typed}`: did you mean {}?", either(suggestions))
            }
            Refusal::AmbiguousUnit { typed, why, choices } => {
                write!(out, "`{typed}` could be two units: {why}. Write {}", either(choices))
            }
            Refusal::OtherKind(sentence) => out.write_str(sentence),
            Refusal::NotBelieved { value, expected } => write!(
                out,
                "{value} cannot be right, a value here lies in {expected}: look again, or answer `no reading`"
            ),
            Refusal::Doubtful { value, why: Doubt::BeyondTool { tool, range } } => write!(
                out,
                "is {value} right? The {tool} shows {range}, not that. Look again; give {value} once more to keep it"
            ),
            Refusal::Doubtful { value, why: Doubt::Slip { meant, what } } => write!(
                out,
                "{value}, or {meant}? Perhaps {what}. Look again; give {value} once more to keep it"
            ),
            Refusal::Doubtful { value, why: Doubt::Sign { meant } } => write!(
                out,
                "{value}, or {meant}? Only the sign differs. Look again; give {value} once more to keep it"
            ),
            Refusal::Doubtful { value, why: Doubt::Apart { others } } => write!(
                out,
                "is {value} right? It is far from the others of this measurement, {}. Look again; give {value} once more to keep it",
                others.join(", ")
            ),
            Refusal::Marks { typed, fraction, whole } => write!(
                out,
                "`{typed}` can be read in two ways: type {whole} where the mark parts thousands, {fraction} where it is the decimal mark"
            ),
            Refusal::TooFewSamples { given, least, unit } => write!(
                out,
                "{given} value{} given, and {least} are needed to tell: type them one after another, `{}`; where a value has \
                 a blank in it, with semicolons between",
                if *given == 1 { " was" } else { "s were" },
                format!("12 12 12 {unit}").trim_end()
            ),
            Refusal::TooManySamples { given, most } => {
                write!(
                    out,
                    "these are {given} values, and one measurement has at most {most}: take fewer of them"
                )
            }
            Refusal::UnequalSamples { given, other, wanted } if given == wanted => {
                write!(out, "the times are not those of {other}: both are read at the same moments")
            }
            Refusal::UnequalSamples { given, other, wanted } => write!(
                out,
                "{given} values here, and {wanted} of {other}: both are read at the same moments, so give as many of each"
            ),
            Refusal::SampleTimes(what) => write!(out, "the times of the values cannot be used: {what}"),
            Refusal::NotAnAnswer { given, values } => {
                write!(out, "`{given}` is none of the answers: answer {}", either(values))
            }
            Refusal::NotAsked { wanted } => write!(out, "that does not answer what is asked: give {wanted}"),
            Refusal::NothingHeld => {
                write!(
                    out,
                    "nothing is to be held just now, so nothing can be lost: answer what is asked, or stop"
                )
            }
            Refusal::NoName { given } => {
                write!(out, "`{given}` is no name: who signs here? Give the name of the person")
            }
            Refusal::SamePerson { name } => write!(
                out,
                "{name} has signed here already: the second signature is another person's, who has looked at the work as well"
            ),
            Refusal::NothingBehind => write!(
                out,
                "there is nothing to go back to: nothing was answered yet, or what is owed is being put back after a stop"
            ),
            Refusal::NotBackTo { seq } => {
                write!(
                    out,
                    "event {seq} is no answer of this job that still counts: nobody can go back to it"
                )
            }
            Refusal::BeforePerformed { procedure } => write!(
                out,
                "that lies before `{procedure}`, which is being carried out and alone puts back what it has opened: carry it out \
                 to its end, or stop"
            ),
            Refusal::NoReadingThere { seq } => {
                write!(out, "event {seq} is no reading that still counts: only a reading is put right")
            }
            Refusal::NoReason => write!(out, "say why, in a few words: the record keeps the reason"),
            Refusal::NotOver => write!(
                out,
                "this job is not over: put the value right in the job itself, with `correct`, where it is gone on with"
            ),
            Refusal::NoPerson => write!(out, "say who puts it right: the record keeps the name"),
            Refusal::CountsNoMore { seq } => {
                write!(
                    out,
                    "the value of event {seq} counts no more: it was put right, or gone back behind, in the job itself"
                )
            }
            Refusal::NotOneByOne { typed, given } => write!(
                out,
                "{typed} values were typed then, and {given} given now: give one for each, in their order. Values that were sampled \
                 over time cannot be put right one by one"
            ),
            Refusal::NoSuchTool { given, known } => {
                write!(out, "`{given}` is no tool of this procedure; it has {}", either(known))
            }
            Refusal::Over => write!(out, "the procedure is over: begin a new job for another reading"),
            Refusal::AnotherCard { recorded, at_hand } => write!(
                out,
                "this record was begun with another card ({recorded}), not with this one ({at_hand}): go on with the card it was \
                 begun with"
            ),
            Refusal::AnotherCourse { seq } => write!(
                out,
                "event {seq} of this record is not what the card does at that point: the record was changed, or belongs elsewhere"
            ),
            Refusal::BrokenCard(what) => {
                write!(out, "this card is damaged: {what}. Build it again from its text")
            }
        }
    }
}

impl std::error::Error for Refusal {}

/// `a, b or c`.
fn either(values: &[String]) -> String {
    match values {
        [] => "nothing".into(),
        [one] => one.clone(),
        [all @ .., last] => format!("{} or {last}", all.join(", ")),
    }
}
