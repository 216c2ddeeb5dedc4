//! Where in the procedure a node stands: before the first step, in a step, or where everything is put back.

use crate::card::Card;
use crate::graph::Act;
use std::collections::BTreeSet;

/// A part of the procedure that has a heading of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// What must hold before the frame begins.
    Needs(usize),
    /// A step.
    Step(usize),
    /// What is put back at the end of the frame.
    Restore(usize),
    /// Anything else of the frame.
    Frame(usize),
}

/// The sections of a card.
#[derive(Clone, Debug)]
pub struct Sections {
    sections: Vec<Section>,
}

impl Sections {
    /// Finds the section of each node. What is put back is everything of the frame that can be reached from there.
    pub fn of(card: &Card) -> Sections {
        let mut restoring = BTreeSet::new();
        for (place, node) in card.nodes.iter().enumerate() {
            if matches!(node.act, Act::Restore) {
                let mut open = vec![place];
                while let Some(at) = open.pop() {
                    let Some(here) = card.nodes.get(at).filter(|here| here.frame >= node.frame) else {
                        continue;
                    };
                    let own_end = here.frame == node.frame && matches!(here.act, Act::Close);
                    if !own_end && restoring.insert(at) {
                        open.extend(here.next.values());
                    }
                }
            }
        }
        let sections = card.nodes.iter().enumerate().map(|(place, node)| match (&node.act, node.step) {
            (Act::Need { .. }, _) => Section::Needs(node.frame),
            (_, Some(step)) => Section::Step(step),
            (_, None) if restoring.contains(&place) => Section::Restore(node.frame),
            (_, None) => Section::Frame(node.frame),
        });
        Sections { sections: sections.collect() }
    }

    /// The section of a node.
    pub fn section(&self, node: usize) -> Section {
        self.sections.get(node).copied().unwrap_or(Section::Frame(0))
    }
}

impl Section {
    /// Its heading; none for what is not in a part of its own.
    pub fn heading(self, card: &Card) -> Option<String> {
        let title = |frame: usize| {
            let found = card.frames.get(frame).filter(|_| frame > 0);
            found.map(|found| format!("{} / ", found.title)).unwrap_or_default()
        };
        match self {
            Section::Needs(frame) => Some(format!("{}before you begin", title(frame))),
            Section::Step(step) => {
                let step = card.steps.get(step)?;
                Some(format!("{}{}", title(step.frame), step.title))
            }
            Section::Restore(frame) => Some(format!("{}put back", title(frame))),
            Section::Frame(_) => None,
        }
    }
}
