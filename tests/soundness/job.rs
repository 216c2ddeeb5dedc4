//! One job done by a card with answers as chance gives them, and what must have held in it.

use super::chance::Chance;
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use dwell_card::meaning::{States, Truth, guards_hold, lost, work};
use dwell_card::vehicle::{Move, Required};
use dwell_record::event::{By, Taking};
use dwell_record::{Outcome, What};
use dwell_run::{Answer, Prompt, Session};
use std::collections::BTreeSet;

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-02-11T08:00:00Z";

/// The most answers in one job.
const MOST_ANSWERS: usize = 5_000;

/// The most interruptions of one job.
const MOST_TURNS: usize = 8;

/// A job that is over.
pub(super) struct Job {
    session: Session,
    /// How many nodes were behind when somebody stopped.
    stopped: Option<usize>,
}

/// Does a job; in one of three somebody stops.
pub(super) fn done(card: &Card, variants: &[(String, String)], chance: &mut Chance) -> Result<Job, String> {
    let mut session = Session::start(card.clone(), variants, AT).map_err(|why| why.to_string())?;
    let mut stops_at = chance.once_in(3).then(|| chance.below(40));
    let mut stopped = None;
    for answers in 0..MOST_ANSWERS {
        let prompt = session.ask();
        if matches!(prompt, Prompt::Done { .. }) {
            return Ok(Job { session, stopped });
        }
        if stops_at == Some(answers) {
            stops_at = None;
            stopped = Some(session.trace().len());
            session.stop("Called away.", AT).map_err(|why| format!("stop: {why}"))?;
            continue;
        }
        let mut answer = chance.answer(&prompt, card);
        if !session.keeping().is_empty() && chance.once_in(8) {
            answer = Answer::Lost;
        }
        // A value that is not believed is asked again; not for ever.
        for _ in 0..50 {
            if session.answer(answer, AT).is_ok() {
                break;
            }
            answer = chance.answer(&prompt, card);
        }
        if session.ask() == prompt && matches!(prompt, Prompt::Reading(_)) {
            session.answer(Answer::NoReading, AT).map_err(|why| format!("no reading: {why}"))?;
        }
    }
    Err(format!("it is not over after {MOST_ANSWERS} answers"))
}

/// Does a job with interruptions: somebody goes back, puts a reading right, takes it up after a while, stops. What is promised of
/// it: it comes to its end, everything is put back, each hazard was told of, and its record leads to the same session.
pub(super) fn interrupted(
    card: &Card,
    variants: &[(String, String)],
    chance: &mut Chance,
) -> Result<usize, String> {
    let by = || By { person: Some("A. Weber".to_owned()), device: None };
    let mut session = Session::start(card.clone(), variants, AT).map_err(|why| why.to_string())?;
    let mut turns = MOST_TURNS;
    let mut stopped = None;
    for _ in 0..MOST_ANSWERS {
        let prompt = session.ask();
        if matches!(prompt, Prompt::Done { .. }) {
            let known = Session::resume(card.clone(), session.events()).map_err(|why| why.to_string())?;
            if known != session {
                return Err("its record leads to another session".to_owned());
            }
            let job = Job { session, stopped };
            if let Some(open) = job.owed(card) {
                return Err(open);
            }
            job.every_exposure_was_told(card)?;
            return Ok(MOST_TURNS - turns);
        }
        if turns > 0 && chance.once_in(4) {
            let behind = session.behind();
            let place = chance.below(behind.len().max(1));
            let turned = match (chance.below(4), behind.get(place)) {
                (0, Some(place)) if place.reading => session.correct(place.seq, by(), "Typed wrong.", AT),
                (0 | 1, Some(place)) => session.go_back(place.seq, by(), "Once more.", AT),
                (2, _) => session.take_up(by(), Taking::GoneOn, "2031-02-12T08:00:00Z"),
                (3, _) if chance.once_in(4) => {
                    stopped = Some(session.trace().len());
                    session.stop("Called away.", AT)
                }
                _ => continue,
            };
            turned.map_err(|why| format!("at {prompt:?}: {why}"))?;
            turns -= 1;
            continue;
        }
        let mut answer = chance.answer(&prompt, card);
        for _ in 0..50 {
            if session.answer(answer, AT).is_ok() {
                break;
            }
            answer = chance.answer(&prompt, card);
        }
        if session.ask() == prompt && matches!(prompt, Prompt::Reading(_)) {
            session.answer(Answer::NoReading, AT).map_err(|why| format!("no reading: {why}"))?;
        }
    }
    Err(format!("it is not over after {MOST_ANSWERS} answers"))
}

/// The job walked through again, independently of the runner's own book-keeping.
struct Walk<'a> {
    card: &'a Card,
    chosen: Vec<usize>,
    slots: Vec<States>,
    keeps: BTreeSet<usize>,
    /// Cautions in reach, by their nodes.
    covers: BTreeSet<usize>,
    /// Frames and hazards that last since they were covered.
    lasting: BTreeSet<(usize, usize)>,
}

impl Job {
    /// Everything that a sound card promises of every job.
    pub(super) fn held(&self, card: &Card, reached: &[bool]) -> Result<(), String> {
        for event in self.session.events() {
            if let What::Doubt(words) = &event.what {
                return Err(format!("a doubt: {}", words.text));
            }
        }
        if let Some(owed) = self.owed(card) {
            return Err(owed);
        }
        if let Some((node, way)) = self.session.trace().iter().find(|(node, _)| !reached[*node]) {
            return Err(format!("nobody foresaw node {node} ({:?}), {way:?}", card.nodes[*node].act));
        }
        let chosen = card
            .axes
            .iter()
            .map(|axis| {
                let given = self.session.events().iter().find_map(|event| match &event.what {
                    What::Begun(begun) => begun.variants.get(&axis.name).cloned(),
                    _ => None,
                });
                axis.values.iter().position(|value| Some(value) == given.as_ref()).unwrap()
            })
            .collect();
        let mut walk = Walk {
            card,
            chosen,
            slots: card.slots.iter().map(|_| States::only(0)).collect(),
            keeps: BTreeSet::new(),
            covers: BTreeSet::new(),
            lasting: BTreeSet::new(),
        };
        for (node, way) in self.session.trace() {
            walk.past(*node, *way).map_err(|what| format!("at node {node}: {what}"))?;
        }
        self.passed_is_passed(card)?;
        self.every_exposure_was_told(card)
    }

    /// What is not put back, although the text has not said in `restore` that it cannot be.
    fn owed(&self, card: &Card) -> Option<String> {
        let ends_there = |node: &usize| matches!(&card.nodes[*node].act, Act::End(end) if end.in_restore);
        let left_in_restore = self.session.trace().iter().any(|(node, _)| ends_there(node));
        let open = self.session.open();
        let stopped = if self.stopped.is_some() { ", after a stop" } else { "" };
        (!open.is_empty() && !left_in_restore).then(|| format!("still owed{stopped}: {}", open.join(", ")))
    }

    /// Where the text says that it ends passed, it does.
    fn passed_is_passed(&self, card: &Card) -> Result<(), String> {
        let mut claimed: BTreeSet<usize> = BTreeSet::new();
        for event in self.session.events() {
            let Some(at) = event.node else { continue };
            let frame = card.nodes[at].frame;
            match &event.what {
                What::Ended(ended) if ended.outcome == Outcome::Passed => drop(claimed.insert(frame)),
                What::Ended(_) => drop(claimed.remove(&frame)),
                What::Closed(closed) if claimed.remove(&frame) && closed.result == Outcome::Failed => {
                    return Err("it says that it ends passed, and has failed".to_owned());
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// Before each piece of work the record has a caution for each of its hazards, from the same procedure.
    fn every_exposure_was_told(&self, card: &Card) -> Result<(), String> {
        let mut told: BTreeSet<(usize, String)> = BTreeSet::new();
        for event in self.session.events() {
            let Some(at) = event.node else { continue };
            let frame = card.nodes[at].frame;
            match &event.what {
                What::Opened(_) => told.retain(|(of, _)| *of != frame),
                What::CautionShown(caution) => drop(told.insert((frame, caution.hazard.clone()))),
                What::Done(_) => {
                    let Act::Work(work) = &card.nodes[at].act else { continue };
                    for hazard in &work.hazards {
                        let name = &card.hazards[*hazard].name;
                        if !told.contains(&(frame, name.clone())) {
                            return Err(format!("{} without a caution for {name}", work.says));
                        }
                    }
                }
                _ => {}
            }
        }
        Ok(())
    }
}

impl Walk<'_> {
    fn past(&mut self, at: usize, way: Way) -> Result<(), String> {
        let node = &self.card.nodes[at];
        match &node.act {
            Act::Caution { .. } => drop(self.covers.insert(at)),
            Act::Uncover { cautions } => {
                for caution in cautions {
                    let hazard = self.hazard_of(*caution);
                    if self.covers.remove(caution) && self.lasts(hazard) {
                        self.lasting.insert((node.frame, hazard));
                    }
                }
            }
            Act::Need { required, .. } => {
                let asked = States::these(&required.states);
                let now = self.slots[required.slot];
                let count = self.card.slots[required.slot].states.len();
                match way {
                    Way::Yes => self.slots[required.slot] = asked,
                    _ if !now.and(asked).is_empty() && required.states.contains(&0) => {
                        let others: Vec<usize> = (0..count).filter(|state| !asked.has(*state)).collect();
                        self.slots[required.slot] = States::these(&others);
                    }
                    _ => {}
                }
            }
            Act::Keep { slot, state } => {
                if !self.slots[*slot].within(States::only(*state)) {
                    return Err(format!("kept, but not so: {}", self.card.slots[*slot].label));
                }
                self.keeps.insert(at);
            }
            Act::Hold(hold) => {
                for held in &hold.states {
                    if !self.slots[held.slot].within(States::only(held.state)) {
                        return Err(format!("held, but not so: {}", self.card.slots[held.slot].label));
                    }
                }
                self.keeps.insert(at);
            }
            Act::Release { hold, lost: is_lost } => {
                self.keeps.remove(hold);
                if let (true, Act::Hold(hold)) = (*is_lost, &self.card.nodes[*hold].act) {
                    let (after, _) = lost(hold, &self.slots);
                    self.moved(after, node.frame, "losing what is held")?;
                }
            }
            Act::Work(_) | Act::Measure(_) if way == Way::Lost => {}
            // The band to set to could not be worked out: nothing was done.
            Act::Work(_) if way == Way::NoReading => {}
            Act::Work(done) => {
                let worked = work(done, &self.chosen, &self.slots);
                if worked.skipped == Truth::Yes {
                    return Ok(());
                }
                for hazard in &done.hazards {
                    self.is_covered(*hazard, node.frame, &done.says)?;
                }
                if !worked.wrong.is_empty() || !worked.unmet.is_empty() {
                    return Err(format!("{} in a state that does not allow it", done.says));
                }
                self.moved(worked.after, node.frame, &done.says)?;
            }
            Act::Judge(judge) if way == Way::In => {
                let slots: Vec<&Move> = judge.proves.iter().collect();
                let proof = dwell_card::graph::Work {
                    brings: slots.into_iter().cloned().collect(),
                    ..dwell_card::graph::Work::default()
                };
                let after = work(&proof, &self.chosen, &self.slots).after;
                self.moved(after, node.frame, &judge.condition.says)?;
            }
            Act::Measure(measure) => {
                for need in &measure.needs {
                    self.is_met(need, &measure.says)?;
                }
                for slot in measure.tool.iter().flat_map(|tool| &self.card.tools[*tool].slots) {
                    // A switch of the tool connects nothing.
                    let states = &self.card.slots[*slot].states;
                    let connected = states.iter().position(|state| state == "connected");
                    if connected.is_some_and(|connected| !self.slots[*slot].within(States::only(connected))) {
                        return Err(format!("{} with the tool not connected", measure.says));
                    }
                }
            }
            Act::Restore => {
                let nodes = &self.card.nodes;
                self.keeps.retain(|keep| nodes[*keep].frame != node.frame);
            }
            Act::Close => {
                let nodes = &self.card.nodes;
                self.covers.retain(|caution| nodes[*caution].frame != node.frame);
                self.lasting.retain(|(frame, _)| *frame != node.frame);
            }
            _ => {}
        }
        Ok(())
    }

    fn is_met(&self, need: &Required, says: &str) -> Result<(), String> {
        let asked = guards_hold(&need.when, &self.chosen, &self.slots) != Truth::No;
        if asked && !self.slots[need.slot].within(States::these(&need.states)) {
            return Err(format!(
                "{says} while the {} is not as it must be",
                self.card.slots[need.slot].label
            ));
        }
        Ok(())
    }

    /// New states: nothing that is kept has moved, and no hazard has come about without its caution.
    fn moved(&mut self, after: Vec<States>, frame: usize, says: &str) -> Result<(), String> {
        let before = std::mem::replace(&mut self.slots, after);
        for keep in &self.keeps {
            let kept: Vec<(usize, usize)> = match &self.card.nodes[*keep].act {
                Act::Keep { slot, state } => vec![(*slot, *state)],
                Act::Hold(hold) => hold.states.iter().map(|held| (held.slot, held.state)).collect(),
                _ => Vec::new(),
            };
            for (slot, state) in kept {
                if !self.slots[slot].within(States::only(state)) {
                    return Err(format!("{says} breaks what is kept of the {}", self.card.slots[slot].label));
                }
            }
        }
        let mut come = Vec::new();
        for (place, slot) in self.card.slots.iter().enumerate() {
            for (state, hazard) in &slot.hazards {
                if self.slots[place].has(*state) && !before[place].has(*state) {
                    let was =
                        slot.hazards.iter().any(|(other, of)| of == hazard && before[place].has(*other));
                    if !was {
                        come.push(*hazard);
                    }
                }
            }
        }
        for hazard in come {
            self.is_covered(hazard, frame, says)?;
            self.lasting.insert((frame, hazard));
        }
        let lasting = std::mem::take(&mut self.lasting);
        self.lasting = lasting.into_iter().filter(|(_, hazard)| self.lasts(*hazard)).collect();
        Ok(())
    }

    fn is_covered(&self, hazard: usize, frame: usize, says: &str) -> Result<(), String> {
        let in_reach = self
            .covers
            .iter()
            .any(|caution| self.card.nodes[*caution].frame == frame && self.hazard_of(*caution) == hazard);
        if in_reach || self.lasting.contains(&(frame, hazard)) {
            return Ok(());
        }
        Err(format!("{says} without a caution for {}", self.card.hazards[hazard].name))
    }

    fn hazard_of(&self, caution: usize) -> usize {
        match &self.card.nodes[caution].act {
            Act::Caution { hazard, .. } => *hazard,
            _ => usize::MAX,
        }
    }

    fn lasts(&self, hazard: usize) -> bool {
        let slots = self.card.slots.iter().zip(&self.slots);
        slots
            .into_iter()
            .any(|(slot, now)| slot.hazards.iter().any(|(state, of)| *of == hazard && now.has(*state)))
    }
}
