//! What rests on one tool of the workshop: every value taken and everything set with it in a job, with what was decided by it.
//!
//! A tool that is found out of tolerance leaves the question what it was used for since its last good check (reverse
//! traceability, as ISO/IEC 17025:2017, 7.10 and ISO 9001:2015, 7.1.5.2 ask for it). Nothing here says that a value was wrong.

use crate::event::{Done, Event, Judged, Measured, PutRight, ReadingName, Tested, What};
use crate::word::Side;
use std::collections::{BTreeMap, BTreeSet};

/// Which tool, and from when to when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// The number on its label; capitals do not matter.
    pub number: String,
    /// The tools of procedures that it serves as, by their names there.
    pub serves: BTreeSet<String>,
    /// The first day, year-month-day.
    pub since: String,
    /// The last day; none where it is open.
    pub until: Option<String>,
}

/// What the card of a job knows and its record does not.
pub trait Known {
    /// The tools with which a node measures or works, by their names.
    fn tools(&self, node: usize) -> Vec<String>;
    /// The readings, by their numbers, on which one test of a decision rests, those among them that others are computed from.
    fn rests_on(&self, node: usize, test: usize) -> Vec<usize>;
}

/// How something rests on the tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// The value was measured with it.
    Measured,
    /// The value, or its limit, was worked out from values that were measured with it.
    WorkedOut,
    /// Something was set to with it: a torque.
    Set,
    /// Such a tool was used, and the record does not say which one.
    Unknown,
}

impl How {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            How::Measured => "measured",
            How::WorkedOut => "worked out",
            How::Set => "set",
            How::Unknown => "not known",
        }
    }
}

/// One thing that rests on the tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Use {
    /// The number of the event.
    pub seq: u64,
    /// When.
    pub at: String,
    /// How it rests on it.
    pub how: How,
    /// The reading, or the instruction.
    pub what: String,
    /// The value as shown; for what was set, the setting where it was noted.
    pub value: Option<String>,
    /// What was decided by it; none where nothing was.
    pub side: Option<Side>,
    /// How far it was off.
    pub off: Option<String>,
    /// The band that it was held against, or set to.
    pub band: Option<String>,
    /// Whether that was a band to set to.
    pub adjusting: bool,
    /// Whether it is the value as found.
    pub as_found: bool,
    /// Whether it is the value as left.
    pub as_left: bool,
    /// Whether it still counts: no later event put it right or went back behind it.
    pub counts: bool,
    /// The number of the event that put it right when the job was over.
    pub put_right: Option<u64>,
    reading: Option<ReadingName>,
}

impl Use {
    /// The decision in words: `LOW by 1.4 Hz`, `not judged`; nothing for what was set.
    pub fn verdict(&self) -> String {
        match (self.side, &self.reading) {
            (Some(side), _) => side.words(self.off.as_deref()),
            (None, Some(_)) => "not judged".into(),
            (None, None) => String::new(),
        }
    }

    /// `as found`, `as left`, both, or nothing for a value between.
    pub fn stands(&self) -> &'static str {
        match (self.as_found, self.as_left) {
            (true, true) => "as found and left",
            (true, false) => "as found",
            (false, true) => "as left",
            (false, false) => "",
        }
    }
}

impl Wanted {
    fn holds(&self, at: &str) -> bool {
        let day = at.get(..10).unwrap_or_default();
        day >= self.since.as_str() && self.until.as_deref().is_none_or(|until| day <= until)
    }

    fn is_it(&self, number: &str) -> bool {
        number.eq_ignore_ascii_case(self.number.trim())
    }
}

/// All in the events of one job that rests on the tool, in their order.
pub fn trace(events: &[Event], wanted: &Wanted, known: &dyn Known) -> Vec<Use> {
    let mut tracing =
        Tracing { wanted, known, uses: Vec::new(), latest: BTreeMap::new(), ever: BTreeSet::new() };
    let mut last: BTreeMap<&ReadingName, u64> = BTreeMap::new();
    for event in events {
        match &event.what {
            What::Measured(measured) => {
                last.insert(&measured.reading, event.seq);
                tracing.measured(event, measured);
            }
            What::Judged(judged) => tracing.judged(event, judged),
            What::Done(done) => tracing.done(event, done),
            What::PutRight(right) => {
                // Its value is another one by now: it is told as one that counts no more, and the right one beside it.
                tracing.put_right(event, right);
            }
            What::WentBack(back) => tracing.reopened(back.to),
            What::Corrected(wrong) => {
                tracing.reopened(wrong.to);
                // What was noted wrong never was the value as found.
                let same =
                    |one: &&mut Use| one.seq >= wrong.to && one.reading.as_ref() == Some(&wrong.reading);
                tracing.uses.iter_mut().filter(same).for_each(|one| one.as_found = false);
            }
            _ => {}
        }
    }
    for one in &mut tracing.uses {
        let reading = one.reading.as_ref();
        one.as_left = one.counts && reading.is_some_and(|name| last.get(name) == Some(&one.seq));
    }
    tracing.uses
}

struct Tracing<'a> {
    wanted: &'a Wanted,
    known: &'a dyn Known,
    uses: Vec<Use>,
    /// For each reading whose last value was taken with the tool, the place of its first row.
    latest: BTreeMap<usize, usize>,
    /// The readings of which some value was taken with the tool.
    ever: BTreeSet<usize>,
}

impl Tracing<'_> {
    fn measured(&mut self, event: &Event, measured: &Measured) {
        let number = measured.reading.number;
        self.latest.remove(&number);
        let how = match &measured.tool_number {
            Some(noted) if self.wanted.is_it(noted) => How::Measured,
            None if self.could_be(event) => How::Unknown,
            _ => return,
        };
        if !self.wanted.holds(&event.at) {
            return;
        }
        self.latest.insert(number, self.uses.len());
        if how == How::Measured {
            self.ever.insert(number);
        }
        self.uses.push(Use {
            value: Some(measured.shown.clone()),
            as_found: measured.as_found,
            reading: Some(measured.reading.clone()),
            ..used(event, how, measured.reading.words())
        });
    }

    /// Whether it is done with a tool of the procedure that this one serves as.
    fn could_be(&self, event: &Event) -> bool {
        let tools = event.node.map(|node| self.known.tools(node)).unwrap_or_default();
        tools.iter().any(|tool| self.wanted.serves.contains(tool))
    }

    fn judged(&mut self, event: &Event, judged: &Judged) {
        for (place, tested) in judged.tests.iter().enumerate() {
            let own = tested.reading.as_ref().and_then(|reading| self.latest.get(&reading.number)).copied();
            match own {
                Some(at) => self.decided(at, tested, judged.adjusting),
                None => self.worked_out(event, place, tested, judged.adjusting),
            }
        }
    }

    /// A decision by a value of the tool; a second one by the same value is a row of its own.
    fn decided(&mut self, at: usize, tested: &Tested, adjusting: bool) {
        let Some(row) = self.uses.get_mut(at) else { return };
        let new = Use {
            side: Some(tested.side),
            off: tested.off.clone(),
            band: tested.band.clone(),
            adjusting,
            ..row.clone()
        };
        match row.side {
            None => *row = new,
            Some(_) if *row == new => {}
            Some(_) => self.uses.push(new),
        }
    }

    fn worked_out(&mut self, event: &Event, place: usize, tested: &Tested, adjusting: bool) {
        let rests = event.node.map(|node| self.known.rests_on(node, place)).unwrap_or_default();
        let own = tested.reading.as_ref().map(|reading| reading.number);
        let touched = |reading: &usize| Some(*reading) != own && self.ever.contains(reading);
        if !self.wanted.holds(&event.at) || !rests.iter().any(touched) {
            return;
        }
        let name = tested.reading.as_ref().map_or_else(|| tested.name.clone(), ReadingName::words);
        self.uses.push(Use {
            value: tested.value.clone(),
            side: Some(tested.side),
            off: tested.off.clone(),
            band: tested.band.clone(),
            adjusting,
            ..used(event, How::WorkedOut, name)
        });
    }

    fn done(&mut self, event: &Event, done: &Done) {
        let how = match done.tools.iter().any(|tool| self.wanted.is_it(tool)) {
            true => How::Set,
            false if done.tools.is_empty() && self.could_be(event) => How::Unknown,
            false => return,
        };
        if self.wanted.holds(&event.at) {
            let what = done.says.trim_end_matches('.').to_owned();
            self.uses.push(Use {
                value: done.setting.clone(),
                band: done.band.clone(),
                adjusting: done.band.is_some(),
                ..used(event, how, what)
            });
        }
    }

    fn put_right(&mut self, event: &Event, right: &PutRight) {
        let old: Vec<Use> = self.uses.iter().filter(|one| one.seq == right.event).cloned().collect();
        self.uses.iter_mut().filter(|one| one.seq == right.event).for_each(|one| one.counts = false);
        for (place, one) in old.into_iter().enumerate() {
            let own =
                right.decides.iter().filter(|test| test.reading.as_ref() == Some(&right.reading)).nth(place);
            self.uses.push(Use {
                value: Some(right.now.shown.clone()),
                side: own.map(|test| test.side),
                off: own.and_then(|test| test.off.clone()),
                put_right: Some(event.seq),
                ..one
            });
        }
    }

    /// What was read and decided from an event on counts no more; what was set at the vehicle stays set.
    fn reopened(&mut self, to: u64) {
        let read = |one: &Use| one.reading.is_some() || one.how == How::WorkedOut;
        self.uses.iter_mut().filter(|one| one.seq >= to && read(one)).for_each(|one| one.counts = false);
    }
}

fn used(event: &Event, how: How, what: String) -> Use {
    Use {
        seq: event.seq,
        at: event.at.clone(),
        how,
        what,
        value: None,
        side: None,
        off: None,
        band: None,
        adjusting: false,
        as_found: false,
        as_left: false,
        counts: true,
        put_right: None,
        reading: None,
    }
}
