//! Which combinations of variants have to be walked: a variant that nothing asks for makes no difference to any way.

use crate::lower::Lowered;
use dwell_card::graph::{Act, Condition, Test};
use dwell_card::vehicle::{Guard, Move, Required};

/// The most combinations of variants that one procedure may have.
pub(super) const MOST: usize = 1024;

/// For each axis of a card whether anything asks for its value.
pub(super) fn asked(lowered: &Lowered) -> Vec<bool> {
    let mut asked = Asked(vec![false; lowered.card.axes.len()]);
    for limit in &lowered.card.limits {
        limit.check.iter().chain(&limit.adjust).for_each(|choice| asked.guards(&choice.when));
        limit.rows.iter().for_each(|group| asked.guards(&group.when));
    }
    lowered.ensures.values().for_each(|(required, _, _)| asked.guards(&required.when));
    for node in &lowered.card.nodes {
        asked.act(&node.act);
    }
    asked.0
}

/// Every combination of the values of the variants that are asked for, with the first value of each of the others; one more
/// than [`MOST`] at most.
pub(super) fn combinations(lowered: &Lowered, asked: &[bool]) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    for (axis, asked) in lowered.card.axes.iter().zip(asked) {
        let count = if *asked { axis.values.len() } else { axis.values.len().min(1) };
        all = all
            .into_iter()
            .take(MOST + 1)
            .flat_map(|chosen| {
                (0..count).map(move |value| chosen.iter().copied().chain([value]).collect::<Vec<_>>())
            })
            .collect();
    }
    all.truncate(MOST + 1);
    all
}

struct Asked(Vec<bool>);

impl Asked {
    fn guard(&mut self, guard: &Guard) {
        if let Guard::Variant { axis, .. } = guard
            && let Some(asked) = self.0.get_mut(*axis)
        {
            *asked = true;
        }
    }

    fn guards(&mut self, guards: &[Guard]) {
        guards.iter().for_each(|guard| self.guard(guard));
    }

    fn moves(&mut self, moves: &[Move]) {
        moves.iter().for_each(|step| self.guards(&step.when));
    }

    fn needs(&mut self, needs: &[Required]) {
        needs.iter().for_each(|need| self.guards(&need.when));
    }

    fn condition(&mut self, condition: &Condition) {
        for test in &condition.tests {
            match test {
                Test::Guard { guard, .. } => self.guard(guard),
                Test::Moments { condition, .. } => self.condition(condition),
                Test::Meets { .. }
                | Test::Within { .. }
                | Test::Steady { .. }
                | Test::Fluctuating { .. }
                | Test::Answer { .. }
                | Test::Side { .. } => {}
            }
        }
    }

    fn act(&mut self, act: &Act) {
        match act {
            Act::Need { required, .. } => self.guards(&required.when),
            Act::Work(work) => {
                self.moves(&work.moves);
                self.moves(&work.brings);
                self.needs(&work.needs);
            }
            Act::Measure(measure) => {
                self.needs(&measure.needs);
                self.moves(&measure.leaves);
                let until = measure.sampling.as_ref().and_then(|sampling| sampling.until.as_ref());
                until.into_iter().for_each(|until| self.condition(until));
            }
            Act::Judge(judge) => {
                self.condition(&judge.condition);
                self.moves(&judge.proves);
            }
            Act::Branch { condition } => self.condition(condition),
            Act::Open
            | Act::Step { .. }
            | Act::Caution { .. }
            | Act::Uncover { .. }
            | Act::Note { .. }
            | Act::Keep { .. }
            | Act::Hold(_)
            | Act::Release { .. }
            | Act::Choose(_)
            | Act::Ask { .. }
            | Act::Sign { .. }
            | Act::Wait { .. }
            | Act::Begin { .. }
            | Act::Count { .. }
            | Act::Cause { .. }
            | Act::End(_)
            | Act::Unhandled
            | Act::Restore
            | Act::Close
            | Act::Finish => {}
        }
    }
}
