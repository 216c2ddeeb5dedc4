//! What a source gives, round by round, on a thread of its own, so that nobody waits for an instrument.

use dwell_run::{Answer, Given};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

/// A value that is older than this is not taken for what is shown now.
const OLDEST: Duration = Duration::from_secs(60);

/// What a source gives at one moment.
#[derive(Clone, Debug)]
pub(crate) enum Round {
    /// One value for each reading that is wanted.
    Values {
        /// The values.
        given: Vec<Given>,
        /// When, in milliseconds by the source's own count; none where it has none.
        at: Option<u64>,
        /// When it came.
        came: Instant,
    },
    /// Why there is none, in words.
    Fault(String),
}

/// What is never sent: that the one end is gone is all that the other end hears.
#[derive(Debug)]
pub(crate) enum Nobody {}

/// Held by the thread that gives the rounds.
#[derive(Debug)]
pub(crate) struct Heard(Receiver<Nobody>);

impl Heard {
    /// The two ends: one for the feed, one for the thread.
    pub(crate) fn pair() -> (Sender<Nobody>, Heard) {
        let (listening, heard) = channel();
        (listening, Heard(heard))
    }

    /// Whether somebody still listens when so long has passed; told at once where nobody does any more.
    pub(crate) fn after(&self, wait: Duration) -> bool {
        matches!(self.0.recv_timeout(wait), Err(RecvTimeoutError::Timeout))
    }
}

/// A source that is listened to.
#[derive(Debug)]
pub(crate) struct Feed {
    /// Its name.
    pub(crate) name: String,
    /// How long a first value may take.
    pub(crate) patience: Duration,
    rounds: Receiver<Round>,
    /// While it is held somebody listens.
    listening: Option<Sender<Nobody>>,
    last: Option<(Vec<Given>, Instant)>,
    fault: Option<String>,
    /// How many came, and when the first did.
    count: u32,
    first: Option<Instant>,
}

/// What a source shows just now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shown {
    /// The source.
    pub name: String,
    /// The last value and its unit.
    pub value: Option<(String, String)>,
    /// How many seconds old it is.
    pub age: u64,
    /// Why there is no newer one.
    pub fault: Option<String>,
}

impl Feed {
    /// A source whose rounds come over this channel; it stops when this is dropped.
    pub(crate) fn new(
        name: String,
        patience: Duration,
        rounds: Receiver<Round>,
        listening: Sender<Nobody>,
    ) -> Feed {
        let (last, fault, first) = (None, None, None);
        Feed { name, patience, rounds, listening: Some(listening), last, fault, count: 0, first }
    }

    /// Nobody listens any more: what gives the rounds ends, and what came last stays.
    pub(crate) fn stop(&mut self) {
        self.listening = None;
    }

    /// The next round, where one has come.
    pub(crate) fn next(&mut self) -> Option<Round> {
        self.rounds.try_recv().ok()
    }

    fn note(&mut self, round: Round) {
        match round {
            Round::Values { given, came, .. } => {
                self.count += 1;
                self.first.get_or_insert(came);
                self.last = Some((given, came));
                self.fault = None;
            }
            Round::Fault(words) => self.fault = Some(words),
        }
    }

    /// What it shows.
    pub(crate) fn shown(&mut self, now: Instant) -> Shown {
        while let Some(round) = self.next() {
            self.note(round);
        }
        let value = self.last.as_ref().and_then(|(given, _)| {
            let first = given.first()?;
            Some((first.text.clone(), first.unit.clone().unwrap_or_default()))
        });
        let age = self.last.as_ref().map_or(Duration::ZERO, |(_, came)| now.saturating_duration_since(*came));
        Shown {
            name: self.name.clone(),
            value,
            age: age.as_secs(),
            fault: self.fault.clone().or_else(|| self.stalled(now)),
        }
    }

    /// That it gave values again and again and has stopped.
    fn stalled(&self, now: Instant) -> Option<String> {
        let (_, last) = self.last.as_ref()?;
        let silent = now.saturating_duration_since(*last);
        let between = last.saturating_duration_since(self.first?) / self.count.saturating_sub(1).max(1);
        let stalled = self.count > 3 && silent > between * 5 + Duration::from_secs(1);
        (stalled || silent > OLDEST)
            .then(|| format!("nothing has come from {} for {} s", self.name, silent.as_secs()))
    }

    /// Waits for the first value, or for the reason why there is none, for as long as its patience is.
    pub(crate) fn wait(&mut self) {
        let until = Instant::now() + self.patience;
        while self.shown(Instant::now()).value.is_none() && self.fault.is_none() {
            match self.rounds.recv_timeout(until.saturating_duration_since(Instant::now())) {
                Ok(round) => self.note(round),
                Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => break,
            }
        }
    }

    /// The value that it shows, as an answer.
    pub(crate) fn value(&mut self) -> Result<Answer, String> {
        let shown = self.shown(Instant::now());
        if let Some(fault) = shown.fault {
            return Err(fault);
        }
        match self.last.as_ref().and_then(|(given, _)| given.first()) {
            Some(given) if *given == Given::nothing() => {
                Err(format!("{} shows that nothing can be read: type none where it stays so", self.name))
            }
            Some(given) => Ok(Answer::Value { text: given.text.clone(), unit: given.unit.clone() }),
            None => Err(format!("nothing has come from {} yet", self.name)),
        }
    }
}
