//! Which nodes the walk came to, and on which ways it went on from them.

use dwell_card::graph::Way;

/// All ways, in the order of their bits.
const WAYS: [Way; 13] = [
    Way::Then,
    Way::Yes,
    Way::No,
    Way::NoReading,
    Way::In,
    Way::Out,
    Way::Again,
    Way::Spent,
    Way::Passed,
    Way::Failed,
    Way::Unfinished,
    Way::Referred,
    Way::Lost,
];

/// What can be reached for some variant: nodes, also where somebody stops, and ways on, where nobody does.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reachable {
    nodes: Vec<bool>,
    ways: Vec<u16>,
}

impl Reachable {
    /// Nothing yet of a card with so many nodes.
    pub(super) fn nothing(nodes: usize) -> Reachable {
        Reachable { nodes: vec![false; nodes], ways: vec![0; nodes] }
    }

    /// A node was come to.
    pub(super) fn come(&mut self, node: usize) {
        if let Some(known) = self.nodes.get_mut(node) {
            *known = true;
        }
    }

    /// A node was left on this way.
    pub(super) fn gone(&mut self, node: usize, way: Way) {
        if let Some(known) = self.ways.get_mut(node) {
            *known |= bit(way);
        }
    }

    /// Whether a node can ever be executed.
    pub fn node(&self, node: usize) -> bool {
        self.nodes.get(node) == Some(&true)
    }

    /// For each node whether it can ever be executed.
    pub fn nodes(&self) -> &[bool] {
        &self.nodes
    }

    /// Whether a node can be left on this way without anybody stopping.
    pub fn way(&self, node: usize, way: Way) -> bool {
        self.ways.get(node).is_some_and(|ways| ways & bit(way) != 0)
    }
}

fn bit(way: Way) -> u16 {
    let place = WAYS.iter().position(|known| *known == way).and_then(|place| u32::try_from(place).ok());
    place.map_or(0, |place| 1 << place)
}
