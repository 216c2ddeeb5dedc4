//! What came of an answer: each decision with its value and its word, and what has to be known before going on.

use super::scale::in_unit;
use crate::prompt::{Prompt, ReadingPrompt};
use crate::session::Session;
use dwell_quantity::{Band, Exact};
use dwell_record::event::{Measured, Tested};
use dwell_record::{Event, Outcome, Side, Value, What};

/// One thing that is told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Told {
    /// The job began: its title, and its revision and variants, a line each.
    Begun(String, Vec<String>),
    /// The standing notice.
    Notice(String),
    /// The job was taken up: the words, and what is open, what has run out, what was proved, a line each.
    TakenUp(String, Vec<String>),
    /// A decision.
    Verdict(Box<Verdict>),
    /// Words with a mark before them.
    Words(Mark, String),
}

/// The mark before words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// What it comes to.
    Is,
    /// Where it leads.
    Leads,
    /// What is in doubt, or was lost.
    Heed,
}

/// A decision, as it is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// What was tested, and its value, `54.6 Hz`; none where the same was shown just before, against another band.
    pub of: Option<(String, Option<String>)>,
    /// The side.
    pub side: Side,
    /// The side in words, `LOW by 1.4 Hz`.
    pub words: String,
    /// The band in words, `band 56 .. 68 Hz`, `set to 60 .. 64 Hz`.
    pub band: Option<String>,
    /// The band and the value in one unit, for a drawing.
    pub drawn: Option<(Band, Exact)>,
}

/// Whether something came that is shown before the next thing is asked.
pub fn is_worth_a_look(events: &[Event], session: &Session) -> bool {
    let over = matches!(session.ask(), Prompt::Done { .. });
    !over
        && events.iter().any(|event| {
            matches!(
                event.what,
                What::Judged(_)
                    | What::Chosen(_)
                    | What::Cause(_)
                    | What::Doubt(_)
                    | What::Ended(_)
                    | What::Lost(_)
            )
        })
}

/// What events come to, in order. `read` is the reading that was asked for last, whose band is drawn.
pub fn told(events: &[Event], read: Option<&ReadingPrompt>) -> Vec<Told> {
    let mut all = Vec::new();
    let mut measured: Vec<&Measured> = Vec::new();
    let mut last = None;
    for event in events {
        match &event.what {
            What::Begun(begun) => {
                let revision = begun.revision.as_ref();
                let revision = revision.map(|known| format!("revision {} of {}", known.number, known.date));
                let variants =
                    begun.variants.iter().map(|(axis, value)| format!("{} {value}", axis.replace('-', " ")));
                all.push(Told::Begun(begun.title.clone(), revision.into_iter().chain(variants).collect()));
            }
            What::NoticeShown(words) => all.push(Told::Notice(words.text.clone())),
            What::TakenUp(taken) => {
                let lists = [
                    ("open", &taken.open),
                    ("run out since", &taken.expired),
                    ("proved before", &taken.proved),
                ];
                let lines = lists
                    .into_iter()
                    .flat_map(|(what, list)| list.iter().map(move |one| format!("{what}: {one}")));
                all.push(Told::TakenUp(taken.words(), lines.collect()));
            }
            What::Measured(one) => measured.push(one),
            What::Judged(judged) => {
                for test in &judged.tests {
                    let same = (test.reading.clone(), test.value.clone());
                    // The same value held against the band to set to is not shown twice.
                    let again = same.0.is_some() && last.as_ref() == Some(&same);
                    let verdict = verdict(test, judged.adjusting, again, &measured, read);
                    all.push(Told::Verdict(Box::new(verdict)));
                    last = Some(same);
                }
            }
            other => all.extend(in_words(other)),
        }
    }
    all
}

fn in_words(what: &What) -> Option<Told> {
    let with = |words: String, more: &Option<String>| match more {
        Some(text) => format!("{words}: {text}"),
        None => words,
    };
    Some(match what {
        What::Chosen(chosen) => Told::Words(
            Mark::Is,
            format!("{}: {} (nearest to {})", chosen.reading.words(), chosen.shown, chosen.wanted),
        ),
        What::Cause(cause) => {
            Told::Words(Mark::Leads, with(format!("Probable cause: {}", cause.item), &cause.text))
        }
        What::Doubt(words) => Told::Words(Mark::Heed, format!("In doubt: {}", words.text)),
        What::Lost(lost) => Told::Words(Mark::Heed, lost.words()),
        What::Ended(ended) => {
            let word = match ended.outcome {
                Outcome::Referred => {
                    format!("go on with {}", ended.refer.as_deref().unwrap_or("another procedure"))
                }
                other => other.words().to_owned(),
            };
            Told::Words(Mark::Leads, with(word, &ended.text))
        }
        _ => return None,
    })
}

fn verdict(
    test: &Tested,
    adjusting: bool,
    again: bool,
    measured: &[&Measured],
    read: Option<&ReadingPrompt>,
) -> Verdict {
    let name = test.reading.as_ref().map_or_else(|| test.name.clone(), |name| name.words());
    let words = test.verdict();
    let what = if adjusting { "set to" } else { "band" };
    let band = test.guarded.as_ref().or(test.band.as_ref()).map(|band| format!("{what} {band}"));
    Verdict {
        of: (!again).then(|| (name, test.value.clone())),
        side: test.side,
        words,
        band,
        drawn: drawn(test, adjusting, measured, read),
    }
}

/// The band and the value of the reading that was just taken, in the unit that it was asked for in.
fn drawn(
    test: &Tested,
    adjusting: bool,
    measured: &[&Measured],
    read: Option<&ReadingPrompt>,
) -> Option<(Band, Exact)> {
    let of = test.reading.as_ref()?;
    let asked = read.filter(|asked| asked.reading == of.number)?;
    let held = asked.held.iter().find(|held| held.adjusting == adjusting)?;
    let band = in_unit(&held.band, asked.unit, asked.kind);
    let one = measured.iter().find(|one| one.reading == *of)?;
    match &one.value {
        Value::Number(number) => Some((band, number.0.clone())),
        Value::Between(_) | Value::NoReading => None,
    }
}
