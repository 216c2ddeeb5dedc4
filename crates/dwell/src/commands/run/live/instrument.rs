//! An instrument of the register, asked for its values one round after another.

use super::feed::{Feed, Round};
use dwell_readings::{Answered, Instrument};
use dwell_run::Given;
use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, Weak};
use std::thread;
use std::time::{Duration, Instant};

/// After a fault it is asked again so much later.
const AGAIN: Duration = Duration::from_secs(1);

/// An instrument, with what it is asked.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    /// The number on its label.
    pub(super) number: String,
    /// Where it is.
    pub(super) address: String,
    /// How long an answer is waited for.
    pub(super) patience: Duration,
    /// For each reading the question, and the unit of its answer.
    pub(super) questions: Vec<(String, String)>,
}

/// Asks it again and again, with so long between.
pub(super) fn feed(asked: Asked, period: Duration) -> Feed {
    let (give, rounds) = channel();
    let (name, patience) = (asked.number.clone(), asked.patience * 2 + AGAIN);
    let listening = Arc::new(());
    let heard = Arc::downgrade(&listening);
    thread::spawn(move || ask(&asked, period, &give, &heard));
    Feed::new(name, patience, rounds, listening)
}

/// Asks until nobody listens.
fn ask(asked: &Asked, period: Duration, give: &Sender<Round>, heard: &Weak<()>) {
    let mut instrument: Option<Instrument> = None;
    let mut begun: Option<Instant> = None;
    while heard.strong_count() > 0 {
        let at = Instant::now();
        let first = *begun.get_or_insert(at);
        let round = match round(asked, &mut instrument) {
            Ok(given) => {
                let at = moment(at.saturating_duration_since(first), period);
                Round::Values { given, at: Some(at), came: Instant::now() }
            }
            Err(words) => Round::Fault(words),
        };
        let failed = matches!(round, Round::Fault(_));
        if give.send(round).is_err() {
            return;
        }
        // The moments are counted from the first, so that no delay adds up.
        let past = Instant::now().saturating_duration_since(first);
        let next = u32::try_from(past.as_millis() / period.as_millis().max(1) + 1).unwrap_or(u32::MAX);
        let wait = (period * next).saturating_sub(past);
        thread::sleep(if failed { wait.max(AGAIN) } else { wait });
    }
}

/// The moment that a question belongs to, in milliseconds since the first: asked within a twentieth of its moment it counts for that.
fn moment(past: Duration, period: Duration) -> u64 {
    let milliseconds = |long: Duration| u64::try_from(long.as_millis()).unwrap_or(u64::MAX);
    let (past, period) = (milliseconds(past), milliseconds(period).max(1));
    let before = past / period * period;
    if past - before <= period / 20 { before } else { past }
}

/// One value for each question.
fn round(asked: &Asked, instrument: &mut Option<Instrument>) -> Result<Vec<Given>, String> {
    let known = match instrument {
        Some(known) => known,
        None => {
            let at = Instrument::at(&asked.address, asked.patience);
            instrument.insert(at.map_err(|fault| format!("{}: {fault}", asked.number))?)
        }
    };
    let mut all = Vec::new();
    for (question, unit) in &asked.questions {
        let answered = known.value(question).map_err(|fault| format!("{}: {fault}", asked.number))?;
        all.push(match answered {
            Answered::Value(text) => Given { text, unit: (!unit.is_empty()).then(|| unit.clone()) },
            Answered::Nothing(_) => Given::nothing(),
        });
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::moment;
    use std::time::Duration;

    #[test]
    fn a_question_that_is_a_little_late_counts_for_its_moment() {
        let at = |past| moment(Duration::from_millis(past), Duration::from_secs(2));
        assert_eq!([at(0), at(2003), at(4100), at(4101), at(7990)], [0, 2000, 4000, 4101, 7990]);
    }
}
