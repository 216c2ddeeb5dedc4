//! An instrument of the register, asked for its values one round after another.

use crate::feed::{Feed, Heard, Round};
use dwell_readings::{Answered, Instrument};
use dwell_run::Given;
use std::collections::HashMap;
use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, LazyLock, Mutex, MutexGuard, PoisonError, TryLockError};
use std::thread;
use std::time::{Duration, Instant};

/// After a fault it is asked again so much later.
const AGAIN: Duration = Duration::from_secs(1);
/// How often it is looked whether another one has let an instrument go.
const WAIT: Duration = Duration::from_millis(20);

/// An instrument, with what it is asked.
#[derive(Clone, Debug)]
pub(crate) struct Asked {
    /// The number on its label.
    pub(crate) number: String,
    /// Where it is.
    pub(crate) address: String,
    /// How long an answer is waited for.
    pub(crate) patience: Duration,
    /// For each reading the question, and the unit of its answer.
    pub(crate) questions: Vec<(String, String)>,
}

/// Asks it again and again, with so long between.
pub(crate) fn feed(asked: Asked, period: Duration) -> Feed {
    let (give, rounds) = channel();
    let (name, patience) = (asked.number.clone(), asked.patience * 2 + AGAIN);
    let (listening, heard) = Heard::pair();
    thread::spawn(move || ask(&asked, period, &give, &heard));
    Feed::new(name, patience, rounds, listening)
}

/// Who asks each instrument, by its address: many speak to one at a time, and two measurements would disturb each other.
static ASKED: LazyLock<Mutex<HashMap<String, Arc<Mutex<()>>>>> = LazyLock::new(Mutex::default);

/// The one that is held while an instrument is asked.
fn line(address: &str) -> Arc<Mutex<()>> {
    let mut all = ASKED.lock().unwrap_or_else(PoisonError::into_inner);
    Arc::clone(all.entry(address.to_lowercase()).or_default())
}

/// Waits until nobody else asks an instrument; where that takes long it is told. None where nobody listens any more.
fn alone<'l>(
    line: &'l Mutex<()>,
    asked: &Asked,
    give: &Sender<Round>,
    heard: &Heard,
) -> Option<MutexGuard<'l, ()>> {
    let begun = Instant::now();
    let mut told = false;
    loop {
        match line.try_lock() {
            Ok(alone) => return Some(alone),
            Err(TryLockError::Poisoned(alone)) => return Some(alone.into_inner()),
            Err(TryLockError::WouldBlock) => {}
        }
        if !told && begun.elapsed() > asked.patience + AGAIN {
            told = true;
            let words = format!("{} is asked for another job just now", asked.number);
            give.send(Round::Fault(words)).ok()?;
        }
        if !heard.after(WAIT) {
            return None;
        }
    }
}

/// Asks until nobody listens.
fn ask(asked: &Asked, period: Duration, give: &Sender<Round>, heard: &Heard) {
    let line = line(&asked.address);
    // Let go after the connection is: what is declared last goes first.
    let Some(_alone) = alone(&line, asked, give, heard) else { return };
    let mut instrument: Option<Instrument> = None;
    let mut begun: Option<Instant> = None;
    loop {
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
        if !heard.after(if failed { wait.max(AGAIN) } else { wait }) {
            return;
        }
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
#[path = "../../dwell-readings/src/instrument/tests/simulated.rs"]
mod simulated;

#[cfg(test)]
mod tests {
    use super::simulated::{Does, Simulated};
    use super::{Asked, Feed, feed, moment};
    use std::sync::atomic::Ordering;
    use std::time::{Duration, Instant};

    fn asking(simulated: &Simulated, period: u64) -> Feed {
        let asked = Asked {
            number: "DMM-9".to_owned(),
            address: simulated.address.clone(),
            patience: Duration::from_millis(500),
            questions: vec![("MEASure:VOLTage:DC?".to_owned(), "V".to_owned())],
        };
        feed(asked, Duration::from_millis(period))
    }

    /// What a feed shows once it shows a value, or a fault.
    fn first(feed: &mut Feed) -> super::super::Shown {
        let begun = Instant::now();
        loop {
            let shown = feed.shown(Instant::now());
            if shown.value.is_some() || shown.fault.is_some() || begun.elapsed() > Duration::from_secs(60) {
                return shown;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    #[test]
    fn an_instrument_is_asked_by_one_at_a_time() {
        let simulated = Simulated::that(&[Does::Answers("12.6")]);
        let mut look = asking(&simulated, 10_000);
        assert!(first(&mut look).value.is_some());
        let mut other = asking(&simulated, 100);
        let told = first(&mut other).fault.unwrap();
        assert_eq!(told, "DMM-9 is asked for another job just now");
        look.stop();
        let mut measuring = asking(&simulated, 100);
        drop(other);
        assert!(first(&mut measuring).value.is_some());
        std::thread::sleep(Duration::from_millis(300));
        assert!(!simulated.together.load(Ordering::Relaxed), "two connections at a time");
    }

    #[test]
    fn a_question_that_is_a_little_late_counts_for_its_moment() {
        let at = |past| moment(Duration::from_millis(past), Duration::from_secs(2));
        assert_eq!([at(0), at(2003), at(4100), at(4101), at(7990)], [0, 2000, 4000, 4101, 7990]);
    }
}
