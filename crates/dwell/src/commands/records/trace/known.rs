//! What the card of a job tells beside its record: which tool a thing is done with, and on which readings a decision rests.

use dwell_card::graph::{Act, Condition};
use dwell_record::trace::Known;
use std::collections::BTreeSet;

/// The card, where it can be read.
pub(super) struct Card(Option<dwell_card::Card>);

impl Card {
    pub(super) fn read(text: Option<&str>) -> Card {
        Card(text.and_then(|text| dwell_card::Card::from_json(text).ok()))
    }

    fn act(&self, node: usize) -> Option<(&dwell_card::Card, &Act)> {
        let card = self.0.as_ref()?;
        Some((card, &card.nodes.get(node)?.act))
    }
}

impl Known for Card {
    fn tools(&self, node: usize) -> Vec<String> {
        let Some((card, act)) = self.act(node) else { return Vec::new() };
        let used: Vec<usize> = match act {
            Act::Work(work) => work.tools.clone(),
            Act::Measure(measure) => measure.tool.into_iter().collect(),
            _ => Vec::new(),
        };
        used.iter().filter_map(|tool| card.tools.get(*tool)).map(|tool| tool.name.clone()).collect()
    }

    fn rests_on(&self, node: usize, test: usize) -> Vec<usize> {
        let condition: Option<(&dwell_card::Card, &Condition)> = match self.act(node) {
            Some((card, Act::Judge(judge))) => Some((card, &judge.condition)),
            _ => None,
        };
        let Some((card, test)) = condition.and_then(|(card, known)| Some((card, known.tests.get(test)?)))
        else {
            return Vec::new();
        };
        let mut waiting = test.readings();
        let mut all = BTreeSet::new();
        while let Some(reading) = waiting.pop() {
            if all.insert(reading) {
                let formula = card.readings.get(reading).and_then(|known| known.formula.as_ref());
                waiting.extend(formula.map(dwell_card::limit::Formula::readings).unwrap_or_default());
            }
        }
        all.into_iter().collect()
    }
}
