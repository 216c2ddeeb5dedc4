//! Small cards built by hand, and sessions played on them with answers in one line.

use crate::{Answer, Session};
use dwell_card::graph::{Act, Condition, End, Judge, Measure, Node, Outcome, Side, Test, Way, Work};
use dwell_card::limit::{Ability, Choice, Fold, Formula, Limit, Reading, Tool};
use dwell_card::number::{Num, Range};
use dwell_card::vehicle::{Hazard, Level, Move, Required, Slot};
use dwell_card::{Card, Frame};
use dwell_quantity::{Band, Exact};

/// The time of everything in these tests.
pub(super) const NOW: &str = "2031-04-12T09:05:00+02:00";

/// A card in the making. Nodes follow one another until something else is said.
pub(super) struct Build {
    pub(super) card: Card,
    pub(super) frame: usize,
    pub(super) loose: Vec<(usize, Way)>,
}

impl Build {
    pub(super) fn new() -> Build {
        let card = Card {
            format: 1,
            procedure: "belt".into(),
            title: "Belt tension".into(),
            revision: None,
            withdrawn: None,
            notice: "Local law and the vehicle maker's manual come first.".into(),
            guarded: false,
            axes: Vec::new(),
            slots: Vec::new(),
            hazards: Vec::new(),
            readings: Vec::new(),
            questions: Vec::new(),
            limits: Vec::new(),
            tools: Vec::new(),
            frames: vec![frame("belt", None)],
            steps: Vec::new(),
            counters: Vec::new(),
            nodes: Vec::new(),
        };
        let mut build = Build { card, frame: 0, loose: Vec::new() };
        build.add(Act::Open);
        build
    }

    /// A node that the loose ways lead to; its own way on is loose then.
    pub(super) fn add(&mut self, act: Act) -> usize {
        let node = self.card.nodes.len();
        self.card.nodes.push(Node { act, frame: self.frame, step: None, next: Default::default() });
        self.join(node);
        self.loose = vec![(node, Way::Then)];
        node
    }

    pub(super) fn join(&mut self, to: usize) {
        for (from, way) in std::mem::take(&mut self.loose) {
            self.card.nodes[from].next.insert(way, to);
        }
    }

    pub(super) fn at(&mut self, node: usize, way: Way) -> &mut Build {
        self.loose = vec![(node, way)];
        self
    }

    pub(super) fn also(&mut self, node: usize, way: Way) -> &mut Build {
        self.loose.push((node, way));
        self
    }

    pub(super) fn reading(&mut self, name: &str, kind: &str, unit: &str, decimals: u32) -> usize {
        self.card.readings.push(Reading {
            name: name.into(),
            at: None,
            frame: self.frame,
            quantity: kind.into(),
            kind: kind.into(),
            unit: unit.into(),
            decimals,
            tool: None,
            possible: None,
            formula: None,
            positive: None,
            negative: None,
        });
        self.card.readings.len() - 1
    }

    pub(super) fn tool(&mut self, ability: Ability) -> usize {
        self.card.tools.push(Tool {
            name: "meter".into(),
            label: "meter".into(),
            slots: Vec::new(),
            measures: vec![ability],
            sets: Vec::new(),
            impedance: None,
            calibrated_months: None,
        });
        self.card.tools.len() - 1
    }

    /// A limit with a band to check against and one to set to, in a unit whose factor is one.
    pub(super) fn limit(&mut self, kind: &str, unit: &str, check: Band, adjust: Option<Band>) -> usize {
        let choice = |band: &Band| Choice {
            when: Vec::new(),
            band: Range::from(band),
            written: "as written".into(),
            target: None,
        };
        self.card.limits.push(Limit {
            name: "limit".into(),
            kind: kind.into(),
            unit: unit.into(),
            decimals: 0,
            check: vec![choice(&check)],
            adjust: adjust.iter().map(choice).collect(),
            not_adjustable: false,
            source: None,
            condition: None,
            withdrawn: None,
            rows: Vec::new(),
            linear: false,
        });
        self.card.limits.len() - 1
    }

    pub(super) fn slot(&mut self, label: &str, states: &[&str]) -> usize {
        self.card.slots.push(Slot {
            item: label.replace(' ', "-"),
            at: None,
            handling: "any".into(),
            label: label.into(),
            located: None,
            states: states.iter().map(|state| (*state).to_owned()).collect(),
            proved: Vec::new(),
            may_stay: Vec::new(),
            hazards: Vec::new(),
            lasts: Vec::new(),
            ripens: None,
            tool: false,
        });
        self.card.slots.len() - 1
    }

    pub(super) fn hazard(&mut self, name: &str) -> usize {
        self.card.hazards.push(Hazard { name: name.into(), level: Level::Warning, text: "Careful.".into() });
        self.card.hazards.len() - 1
    }

    pub(super) fn measure(&mut self, readings: &[usize], times: u32, take: Fold) -> usize {
        let tool = readings.first().and_then(|reading| self.card.readings[*reading].tool);
        self.add(Act::Measure(Measure {
            readings: readings.to_vec(),
            says: "Measure.".into(),
            text: None,
            tool,
            times,
            take,
            over: None,
            sampling: None,
            needs: Vec::new(),
            ready: Vec::new(),
            leaves: Vec::new(),
            expected: None,
        }))
    }

    /// A judging of readings, each against its limit; the way out is loose, the way in is not.
    pub(super) fn judge(&mut self, tests: &[(usize, usize)], adjusting: bool, settles: &[usize]) -> usize {
        let tests = tests
            .iter()
            .map(|(reading, limit)| Test::Meets {
                value: Formula::Latest(*reading),
                limit: *limit,
                adjusting,
                misses: false,
                at: None,
            })
            .collect();
        let condition = Condition { tests, says: "it is in band".into(), ..Condition::default() };
        let mut judge = Judge { condition, adjusting, settles: settles.to_vec(), proves: Vec::new() };
        judge.settles.push(self.card.nodes.len());
        let node = self.add(Act::Judge(judge));
        self.loose = vec![(node, Way::Out)];
        node
    }

    pub(super) fn side(&mut self, judge: usize, tests: &[usize], side: Side) -> usize {
        let test = Test::Side { judge, tests: tests.to_vec(), side };
        let condition = Condition { tests: vec![test], ..Condition::default() };
        let node = self.add(Act::Branch { condition });
        self.loose = vec![(node, Way::Yes)];
        node
    }

    pub(super) fn work(&mut self, says: &str, slot: usize, from: usize, to: usize, if_owed: bool) -> usize {
        let moves = vec![Move { slot, from: vec![from], to, when: Vec::new() }];
        self.add(Act::Work(Work { says: says.into(), own: vec![slot], moves, if_owed, ..Work::default() }))
    }

    pub(super) fn need(&mut self, slot: usize, state: usize, says: &str) -> usize {
        let required = Required { slot, states: vec![state], when: Vec::new() };
        let node = self.add(Act::Need { required, says: says.into(), proved: false });
        self.loose = vec![(node, Way::Yes)];
        node
    }

    pub(super) fn end(&mut self, outcome: Outcome) -> usize {
        self.add(Act::End(End { outcome, text: None, refer: None, in_restore: false }))
    }

    /// Closes frame 0 after what is put back.
    pub(super) fn finish(mut self) -> Card {
        self.add(Act::Close);
        self.add(Act::Finish);
        self.card
    }
}

pub(super) fn frame(name: &str, within: Option<usize>) -> Frame {
    Frame {
        procedure: name.into(),
        title: name.into(),
        withdrawn: None,
        within,
        leaves: Vec::new(),
        unzeroes: Vec::new(),
    }
}

pub(super) fn exact(text: &str) -> Exact {
    text.parse().unwrap()
}

pub(super) fn band(low: &str, high: &str) -> Band {
    Band::closed(exact(low), exact(high))
}

pub(super) fn num(text: &str) -> Num {
    Num(exact(text))
}

/// An ability of a tool with these, in base units.
pub(super) fn ability(kind: &str, unit: &str, resolution: Option<&str>, accuracy: Option<&str>) -> Ability {
    Ability {
        quantity: kind.into(),
        kind: kind.into(),
        unit: unit.into(),
        range: Range::default(),
        resolution: resolution.map(num),
        accuracy: accuracy.map(num),
        accuracy_of_reading: None,
    }
}

/// The tension of a belt: check 56 to 68 Hz, else set to 60 to 64 Hz in up to `rounds` rounds; a guard that is off meanwhile.
/// The work to put it back is done only where it is owed.
pub(super) fn tension(rounds: u32) -> Card {
    let mut b = Build::new();
    let guard = b.slot("belt guard", &["fitted", "removed"]);
    let tension = b.reading("tension", "frequency", "Hz", 1);
    let limit = b.limit("frequency", "Hz", band("56", "68"), Some(band("60", "64")));
    b.card.counters.push(rounds);
    b.measure(&[tension], 1, Fold::Last);
    let check = b.judge(&[(tension, limit)], false, &[]);
    b.work("Remove the belt guard.", guard, 0, 1, false);
    b.add(Act::Begin { counter: 0 });
    let set = b.judge(&[(tension, limit)], true, &[check]);
    let count = b.add(Act::Count { counter: 0 });
    b.at(count, Way::Again).add(Act::Work(Work { says: "Turn the adjuster.".into(), ..Work::default() }));
    b.measure(&[tension], 1, Fold::Last);
    b.join(set);
    b.at(count, Way::Spent).end(Outcome::Failed);
    b.also(check, Way::In).also(set, Way::In);
    b.add(Act::Restore);
    b.work("Refit the belt guard.", guard, 1, 0, true);
    b.finish()
}

/// A session that has just begun.
pub(super) fn begun(card: &Card) -> Session {
    Session::start(card.clone(), &[], NOW).unwrap()
}

/// An answer written in one word or two: `.` done, `+` yes, `-` no, `x` no reading, `?word` a choice, `@name` a signature,
/// else a value.
pub(super) fn answer(text: &str) -> Answer {
    match text {
        "." => Answer::Done,
        "+" => Answer::Yes,
        "-" => Answer::No,
        "x" => Answer::NoReading,
        "lost" => Answer::Lost,
        _ => match (text.strip_prefix('?'), text.strip_prefix('@')) {
            (Some(choice), _) => Answer::Choice(choice.into()),
            (_, Some(name)) => Answer::Signature(name.into()),
            _ => Answer::Value { text: text.into(), unit: None },
        },
    }
}

/// A session after these answers, separated by `;`.
pub(super) fn played(card: &Card, answers: &str) -> Session {
    let mut session = begun(card);
    for text in answers.split(';').map(str::trim).filter(|text| !text.is_empty()) {
        let asked = session.ask();
        session.answer(answer(text), NOW).unwrap_or_else(|refusal| panic!("{text} to {asked:?}: {refusal}"));
    }
    session
}

/// The instructions of the prompts that these answers meet, one a line, with the result at the end.
pub(super) fn dialogue(card: &Card, answers: &str) -> String {
    let mut session = begun(card);
    let mut out = String::new();
    for text in answers.split(';').map(str::trim).filter(|text| !text.is_empty()) {
        out.push_str(&format!("{} -> {text}\n", says(&session)));
        session.answer(answer(text), NOW).unwrap();
    }
    out.push_str(&says(&session));
    out.push('\n');
    out
}

fn says(session: &Session) -> String {
    match session.ask() {
        crate::Prompt::Confirm(confirm) => confirm.says,
        crate::Prompt::Need { says, .. } => format!("{says}?"),
        crate::Prompt::Reading(reading) => format!("{} {}/{}", reading.name, reading.round, reading.of),
        crate::Prompt::Question(question) => question.text,
        crate::Prompt::Sign(sign) => format!("{}: signed {}/{}", sign.title, sign.person, sign.of),
        crate::Prompt::Done { result } => format!("= {result}"),
    }
}
