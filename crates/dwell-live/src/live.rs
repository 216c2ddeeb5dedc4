//! What gives the readings of one job: the instrument that was taken for a tool, else a file that grows.

use crate::feed::{Feed, Shown};
use crate::instrument::{self, Asked};
use crate::log;
use crate::series::Series;
use dwell_card::graph::Act;
use dwell_readings::LiveLog;
use dwell_run::{Answer, Gathering, Prompt, ReadingPrompt, Session, Wanted};
use dwell_tools::Register;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// How often a single value is asked for while somebody looks at it.
const LOOK: Duration = Duration::from_millis(500);

/// Where readings come from, beside the keyboard.
#[derive(Debug, Default)]
pub struct Live {
    register: Option<Register>,
    log: Option<PathBuf>,
    /// What gives the reading that is asked for, and at which event it was asked for.
    feed: Option<(usize, Feed)>,
}

impl Live {
    /// The instruments of a register, and a file that grows.
    ///
    /// # Errors
    /// Why the file cannot be followed, with what to do, in words: it is told now, not at the first reading.
    pub fn new(register: Option<Register>, log: Option<&Path>) -> Result<Live, String> {
        if let Some(path) = log {
            LiveLog::follow(path).map_err(|fault| {
                format!("{}, {}: {}\n  help: {}", path.display(), fault.place(), fault.what, fault.help)
            })?;
        }
        Ok(Live { register, log: log.map(Path::to_owned), feed: None })
    }

    /// Looks at what is asked for now: where something gives it, what comes from now on counts.
    pub fn asked(&mut self, session: &Session) {
        let at = session.events().len();
        if self.feed.as_ref().is_some_and(|(known, _)| *known == at) {
            return;
        }
        self.feed = None;
        let Prompt::Reading(prompt) = session.ask() else { return };
        let wanted = match Gathering::of(session) {
            Some(gathering) => gathering.wanted().to_vec(),
            None if prompt.sampled.is_some() => return,
            None => wanted(session, &prompt).into_iter().collect(),
        };
        self.feed = self.feed(session, &prompt, &wanted, LOOK).map(|feed| (at, feed));
    }

    /// Nobody asks for anything: what was listened to is let go.
    pub fn let_go(&mut self) {
        self.feed = None;
    }

    /// What gives the reading that is asked for, by its name: `DMM-9`, or a file.
    pub fn source(&self) -> Option<&str> {
        self.feed.as_ref().map(|(_, feed)| feed.name.as_str())
    }

    /// What it shows just now.
    pub fn shown(&mut self) -> Option<Shown> {
        self.feed.as_mut().map(|(_, feed)| feed.shown(Instant::now()))
    }

    /// The value that it shows, as an answer. Waits for the first one where none has come yet.
    ///
    /// # Errors
    /// Why there is none, in words.
    pub fn value(&mut self) -> Result<Answer, String> {
        let Some((_, feed)) = &mut self.feed else { return Err("nothing gives this reading".to_owned()) };
        feed.wait();
        feed.value()
    }

    /// The value that it shows just now, as an answer; nobody waits for one.
    ///
    /// # Errors
    /// Why there is none, in words.
    pub fn value_shown(&mut self) -> Result<Answer, String> {
        match &mut self.feed {
            Some((_, feed)) => feed.value(),
            None => Err("nothing gives this reading".to_owned()),
        }
    }

    /// A sampled measurement by what gives it; none where nothing does, or where single values are asked for.
    pub fn series(&mut self, session: &Session) -> Option<Series> {
        let Prompt::Reading(prompt) = session.ask() else { return None };
        let gathering = Gathering::of(session)?;
        let period = Duration::from_millis(gathering.period());
        // Some instruments speak to one at a time: nobody looks beside the measurement.
        if let Some((_, look)) = &mut self.feed {
            look.stop();
        }
        let feed = self.feed(session, &prompt, gathering.wanted(), period)?;
        Some(Series::new(feed, gathering))
    }

    /// A measurement is over, or was let go: what is asked for now is looked at again.
    pub fn series_over(&mut self, session: &Session) {
        self.feed = None;
        self.asked(session);
    }

    /// Begins to listen to what gives these readings: the instrument that was taken for the tool, else the file.
    fn feed(
        &self,
        session: &Session,
        prompt: &ReadingPrompt,
        wanted: &[Wanted],
        period: Duration,
    ) -> Option<Feed> {
        match self.instrument(session, prompt, wanted) {
            Some(asked) => Some(instrument::feed(asked, period)),
            None => self.log.as_ref().map(|path| log::feed(path, wanted)),
        }
    }

    /// The instrument that was taken for the tool of a reading, with a question for each of these readings.
    fn instrument(&self, session: &Session, prompt: &ReadingPrompt, wanted: &[Wanted]) -> Option<Asked> {
        let card = session.card();
        let Act::Measure(measure) = &card.nodes.get(prompt.node)?.act else { return None };
        let name = &card.tools.get(measure.tool?)?.name;
        let taken = session.tools_taken().into_iter().find(|taken| taken.tool == *name)?;
        let tool = self.register.as_ref()?.numbered(&taken.number)?;
        let wire = tool.wire.as_ref()?;
        let question = |wanted: &Wanted| {
            let able = tool.measures.iter().find(|able| able.kind.name() == wanted.kind)?;
            Some((able.query.clone()?, able.unit.symbol().to_owned()))
        };
        Some(Asked {
            number: tool.number.clone(),
            address: wire.address.clone(),
            patience: Duration::from_millis(wire.patience),
            questions: wanted.iter().map(question).collect::<Option<_>>()?,
        })
    }
}

/// The reading that is asked for, where a single value is.
fn wanted(session: &Session, prompt: &ReadingPrompt) -> Option<Wanted> {
    let known = session.card().readings.get(prompt.reading)?;
    Some(Wanted {
        reading: prompt.reading,
        name: known.name.clone(),
        place: known.at.clone(),
        kind: known.kind.clone(),
        unit: prompt.unit,
    })
}
