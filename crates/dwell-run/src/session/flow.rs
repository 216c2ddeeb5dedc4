//! The flow, node by node: those that ask nothing are done at once, the others wait with their prompt.

use super::state::FrameState;
use super::turn::Turn;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_card::graph::{Act, End, Outcome, Way};
use dwell_card::meaning::begun;
use dwell_record::event::{Closed, Doing, Ended, Finished, Procedure, Step, Words};
use dwell_record::{Report, What};

impl Turn<'_> {
    /// Does the node at hand. `false` where it asks something, or where all is over.
    pub(super) fn pass(&mut self) -> Result<bool, Refusal> {
        let node = self.node()?;
        let frame = node.frame;
        match &node.act {
            Act::Open => self.open(frame),
            Act::Step { step } => {
                self.state.shown.clear();
                if let Some(known) = self.card.steps.get(*step) {
                    let (step, title) = (known.name.clone(), known.title.clone());
                    self.happened(Some(self.state.at), What::StepBegun(Step { step, title }));
                }
            }
            Act::Caution { .. } => {
                self.state.cautions.insert(self.state.at);
                self.show_caution(self.state.at);
            }
            Act::Uncover { cautions } => self.uncover(cautions),
            Act::Note { text } => return Ok(self.confirm(Doing::Note, text, None)),
            Act::Need { required, says, proved } => return self.need(required, says, *proved),
            Act::Keep { slot, state } => self.keep(*slot, *state),
            Act::Hold(hold) => self.hold(hold),
            Act::Release { hold, lost } => self.release(*hold, *lost)?,
            Act::Work(work) => return self.work(work),
            Act::Measure(measure) => {
                self.measure(measure)?;
                return Ok(false);
            }
            Act::Judge(judge) => {
                let way = self.judge(judge);
                self.take(way)?;
                return Ok(true);
            }
            Act::Choose(choose) => return self.choose(choose),
            Act::Ask { question } => {
                self.question(*question)?;
                return Ok(false);
            }
            Act::Sign { persons } => {
                self.sign(*persons)?;
                return Ok(false);
            }
            Act::Branch { condition } => {
                let way = self.branch(condition);
                self.take(way)?;
                return Ok(true);
            }
            Act::Wait { seconds, since, says, .. } => {
                self.wait(seconds, since.as_deref(), says);
                return Ok(false);
            }
            Act::Begin { counter } => self.set_counter(*counter, 0),
            Act::Count { counter } => {
                let way = self.count(*counter, frame);
                self.take(way)?;
                return Ok(true);
            }
            Act::Cause { item, text, .. } => {
                let text = self.view().spoken_if(text.as_ref());
                let cause = dwell_record::event::Cause { item: item.clone(), text };
                self.happened(Some(self.state.at), What::Cause(cause));
            }
            Act::End(end) => self.end(end, frame),
            Act::Unhandled => self.doubt("The text does not say what to do here".into()),
            Act::Restore => {
                self.state.shown.clear();
                self.end_holds(frame);
                if let Some(known) = self.state.frames.get_mut(frame) {
                    known.restoring = true;
                }
            }
            Act::Close => return self.close(frame),
            Act::Finish => {
                self.finish();
                return Ok(false);
            }
        }
        self.take(Way::Then)?;
        Ok(true)
    }

    fn open(&mut self, frame: usize) {
        if let Some(known) = self.state.frames.get_mut(frame) {
            let adjusted = self.state.adjusted_before.remove(&frame);
            *known = FrameState { adjusted, ..FrameState::default() };
        }
        if let Some(known) = self.card.frames.get(frame) {
            let told = begun(known, &mut self.state.slots);
            self.state.known.extend(told);
        }
        let nodes = &self.card.nodes;
        self.state.open.retain(|judge| nodes.get(*judge).is_some_and(|node| node.frame != frame));
        for node in nodes.iter().filter(|node| node.frame == frame) {
            if let Act::Count { counter } = &node.act {
                self.set_counter(*counter, 0);
            }
        }
        self.state.cautions.retain(|caution| nodes.get(*caution).is_some_and(|node| node.frame != frame));
        self.state.shown.clear();
        self.end_holds(frame);
        if let (Some(known), true) = (self.card.frames.get(frame), frame > 0) {
            let (procedure, title) = (known.procedure.clone(), known.title.clone());
            self.happened(Some(self.state.at), What::Opened(Procedure { procedure, title }));
        }
    }

    fn keep(&mut self, slot: usize, state: usize) {
        let Some(known) = self.card.slots.get(slot) else { return };
        let state = known.states.get(state).map(|state| state.replace('-', " ")).unwrap_or_default();
        let text = format!("The {} stays {state} until everything is put back", known.label);
        self.happened(Some(self.state.at), What::Keeping(Words { text }));
    }

    fn set_counter(&mut self, counter: usize, value: u32) {
        if let Some(place) = self.state.counters.get_mut(counter) {
            *place = value;
        }
    }

    fn count(&mut self, counter: usize, frame: usize) -> Way {
        let used = self.state.counters.get(counter).copied().unwrap_or_default();
        let most = self.card.counters.get(counter).copied().unwrap_or_default();
        if used >= most {
            return Way::Spent;
        }
        self.set_counter(counter, used.saturating_add(1));
        let judged =
            self.last.filter(|(_, way)| *way == Way::Out).and_then(|(node, _)| self.card.nodes.get(node));
        if matches!(judged.map(|node| &node.act), Some(Act::Judge(judge)) if judge.adjusting)
            && let Some(known) = self.state.frames.get_mut(frame)
        {
            known.adjusted = true;
        }
        Way::Again
    }

    fn end(&mut self, end: &End, frame: usize) {
        let text = self.view().spoken_if(end.text.as_ref());
        let what = Ended { outcome: outcome_of(end.outcome), text, refer: end.refer.clone() };
        self.happened(Some(self.state.at), What::Ended(what));
        let stopped = self.state.stopped;
        let Some(known) = self.state.frames.get_mut(frame) else { return };
        let keeps_earlier = known.outcome.is_some() && (stopped || end.outcome == Outcome::Passed);
        if !keeps_earlier {
            known.outcome = Some(end.outcome);
        }
    }

    fn close(&mut self, frame: usize) -> Result<bool, Refusal> {
        let known = self.state.frames.get(frame).cloned().unwrap_or_default();
        let is_here = |judge: &usize| self.card.nodes.get(*judge).is_some_and(|node| node.frame == frame);
        let is_open = self.state.open.iter().any(is_here);
        let outcome = match known.outcome {
            None | Some(Outcome::Passed) if is_open => Outcome::Failed,
            None => Outcome::Passed,
            Some(outcome) => outcome,
        };
        let result = match outcome_of(outcome) {
            dwell_record::Outcome::Passed if known.adjusted => dwell_record::Outcome::AdjustedAndPassed,
            other => other,
        };
        let frame_known = self.card.frames.get(frame);
        let procedure = frame_known.map(|frame| frame.procedure.clone()).unwrap_or_default();
        self.happened(Some(self.state.at), What::Closed(Closed { procedure, result }));
        if frame == 0 {
            self.state.result = Some(result);
            self.take(Way::Then)?;
            return Ok(true);
        }
        let within = frame_known.and_then(|frame| frame.within);
        self.take(match outcome {
            Outcome::Passed => Way::Passed,
            Outcome::Failed => Way::Failed,
            Outcome::Unfinished => Way::Unfinished,
            Outcome::Referred => Way::Referred,
        })?;
        if let Some(within) = within {
            if let Some(caller) = self.state.frames.get_mut(within) {
                caller.adjusted |= known.adjusted;
            }
            if self.state.stopped {
                self.abandon(within)?;
            }
        }
        Ok(true)
    }

    fn finish(&mut self) {
        let result = self.state.result.unwrap_or(dwell_record::Outcome::Unfinished);
        self.state.result = Some(result);
        let mut report = Report::of(self.before);
        for event in &self.events {
            report.add(event);
        }
        let open = self.state.left_open(self.card);
        let what = Finished { result, open, readings: report.readings };
        self.happened(Some(self.state.at), What::Finished(what));
        self.state.prompt = Prompt::Done { result };
    }
}

/// The words of the record for an outcome of the card.
fn outcome_of(outcome: Outcome) -> dwell_record::Outcome {
    match outcome {
        Outcome::Passed => dwell_record::Outcome::Passed,
        Outcome::Failed => dwell_record::Outcome::Failed,
        Outcome::Unfinished => dwell_record::Outcome::Unfinished,
        Outcome::Referred => dwell_record::Outcome::Referred,
    }
}
