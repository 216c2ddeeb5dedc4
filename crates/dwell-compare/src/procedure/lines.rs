//! A procedure as lines: each thing that is done, asked, read or decided in it, without those of what it performs.

use super::acts;
use crate::fact::{Fact, Owner};
use crate::limits::{Stated, band_change};
use crate::{Change, Grade};
use dwell_card::Card;
use dwell_card::graph::{Act, Test};
use dwell_check::finding::Place;
use std::collections::BTreeSet;

/// One line.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// Its node on the card.
    pub(crate) node: usize,
    /// The step it stands in, or `restore`, or nothing before the first step.
    pub(crate) section: String,
    /// Whether the section is a step.
    pub(crate) in_step: bool,
    /// What makes it the same line although something about it changed.
    pub(crate) key: String,
    /// What it does, in words.
    pub(crate) title: String,
    /// Its facts.
    pub(crate) facts: Vec<Fact>,
    /// Bands that stand on the spot: of what, and the band.
    pub(crate) bands: Vec<(String, Stated)>,
    /// How loud it is when it is gone.
    pub(crate) gone: Grade,
    /// How loud it is when it is new.
    pub(crate) come: Grade,
    /// Where it stands.
    pub(crate) place: Place,
}

impl Line {
    /// Whether both say the same.
    pub(crate) fn same(&self, other: &Line) -> bool {
        let band = |line: &Line| -> Vec<(String, String)> {
            line.bands.iter().map(|(of, band)| (of.clone(), band.written.clone())).collect()
        };
        self.key == other.key && self.facts == other.facts && band(self) == band(other)
    }

    /// "step belt-check", "restore", "what comes before the steps".
    pub(crate) fn where_words(&self) -> String {
        match (self.in_step, self.section.as_str()) {
            (true, name) => format!("step {name}"),
            (false, "") => "what comes before the steps".to_owned(),
            (false, name) => name.to_owned(),
        }
    }

    /// The kind of change when it is gone.
    pub(crate) fn kind_gone(&self) -> &'static str {
        match (self.section == "restore" && !self.in_step, self.key.split(' ').next()) {
            (true, Some("work")) => "no longer put back",
            (_, Some("caution")) => "caution gone",
            _ => "gone",
        }
    }
}

/// The lines of frame 0, in the order of the card.
pub(crate) fn lines(card: &Card, places: &[Place]) -> Vec<Line> {
    let mut lines = Vec::new();
    let (mut section, mut in_step, mut restoring) = (String::new(), false, false);
    for (place, node) in card.nodes.iter().enumerate() {
        let performs = matches!(node.act, Act::Open)
            && card.frames.get(node.frame).is_some_and(|frame| frame.within == Some(0));
        if node.frame != 0 && !performs {
            continue;
        }
        if matches!(node.act, Act::Restore) {
            restoring = true;
        }
        if !performs {
            let step = node.step.and_then(|step| card.steps.get(step));
            in_step = step.is_some() && !restoring;
            section = match step {
                Some(step) if !restoring => step.name.clone(),
                _ if restoring => "restore".to_owned(),
                _ => String::new(),
            };
        }
        let at = places.get(place).copied().unwrap_or_default();
        if let Some(mut line) = acts::line(card, place, node) {
            line.section = section.clone();
            line.in_step = in_step;
            line.place = at;
            if restoring && line.key.starts_with("work ") {
                line.gone = Grade::Loud;
            }
            lines.push(line);
        }
    }
    lines
}

/// What changed in the bands on the spot.
pub(super) fn bands(old: &Line, new: &Line, owner: Owner) -> Vec<Change> {
    let mut changes = Vec::new();
    for (of, now) in &new.bands {
        if let Some((_, then)) = old.bands.iter().find(|(known, _)| known == of) {
            for (grade, kind, says) in band_change(then, now, false) {
                changes.push(owner.change(grade, kind, says));
            }
        }
    }
    changes
}

/// The names of the specs that the procedure itself judges or sets by.
pub(crate) fn limits_used(card: &Card) -> BTreeSet<String> {
    let mut used = BTreeSet::new();
    for node in card.nodes.iter().filter(|node| node.frame == 0) {
        let tests: &[Test] = match &node.act {
            Act::Judge(judge) => &judge.condition.tests,
            Act::Branch { condition } => &condition.tests,
            Act::Work(work) => {
                used.extend(
                    work.limit.and_then(|limit| card.limits.get(limit)).map(|limit| limit.name.clone()),
                );
                &[]
            }
            _ => &[],
        };
        for test in tests {
            if let Test::Meets { limit, .. } = test {
                used.extend(card.limits.get(*limit).map(|limit| limit.name.clone()));
            }
        }
    }
    used
}
