//! Lines that are the same and lead elsewhere.

use super::State;
use super::matching::Matching;
use dwell_card::Card;
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

/// Pairs of lines whose ways on lead to other lines than before, although nothing new or gone lies between.
pub(super) fn other_ways(old: State, new: State, matching: &Matching) -> Vec<(usize, usize)> {
    let to_new: HashMap<usize, usize> = matching.pairs.iter().copied().collect();
    let before = Flow::of(&old, |place| to_new.get(&place).copied());
    let after = Flow::of(&new, |place| matching.has_new(place).then_some(place));
    let mut found = Vec::new();
    for (then, now) in &matching.pairs {
        let (one, other) = (before.ways(old.2.get(*then)), after.ways(new.2.get(*now)));
        let clear = |ways: &BTreeMap<String, Targets>| ways.values().all(|targets| !targets.unsure);
        if clear(&one) && clear(&other) && one.into_iter().map(known).ne(other.into_iter().map(known)) {
            found.push((*then, *now));
        }
    }
    found
}

fn known((way, targets): (String, Targets)) -> (String, BTreeSet<usize>) {
    (way, targets.lines)
}

/// Where a way leads: the first lines on it; unsure where something new or gone lies on it.
#[derive(Default)]
struct Targets {
    lines: BTreeSet<usize>,
    unsure: bool,
}

/// The flow of one card between its lines.
struct Flow<'a> {
    card: &'a Card,
    /// For each node that is a line: the number that both states know it by; none for one that is new or gone.
    numbers: HashMap<usize, Option<usize>>,
}

impl<'a> Flow<'a> {
    fn of(state: &State<'a>, number: impl Fn(usize) -> Option<usize>) -> Flow<'a> {
        let numbers = state.2.iter().enumerate().map(|(place, line)| (line.node, number(place))).collect();
        Flow { card: state.1, numbers }
    }

    /// For each way on from a line where it leads.
    fn ways(&self, line: Option<&super::Line>) -> BTreeMap<String, Targets> {
        let Some(node) = line.and_then(|line| self.card.nodes.get(line.node)) else { return BTreeMap::new() };
        node.next.iter().map(|(way, to)| (format!("{way:?}"), self.led_to(*to))).collect()
    }

    fn led_to(&self, first: usize) -> Targets {
        let mut targets = Targets::default();
        let mut waiting = vec![first];
        let mut seen = HashSet::new();
        while let Some(place) = waiting.pop() {
            if !seen.insert(place) {
                continue;
            }
            match self.numbers.get(&place) {
                Some(Some(number)) => {
                    targets.lines.insert(*number);
                }
                Some(None) => targets.unsure = true,
                None => {
                    waiting.extend(self.card.nodes.get(place).into_iter().flat_map(|node| node.next.values()))
                }
            }
        }
        targets
    }
}
