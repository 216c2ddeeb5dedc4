//! What dominates what in a flow: against the published worked example and against the library petgraph.
//!
//! The graph is that of Lengauer and Tarjan, "A Fast Algorithm for Finding Dominators in a Flowgraph" (1979), Figure 1. Its
//! edges are from memory; the answers for these edges are those of two libraries, networkx 3.6.1 and petgraph 0.8.3.

use dwell_card::ways::{Dominators, Ways};
use petgraph::algo::dominators::simple_fast;
use petgraph::algo::has_path_connecting;
use petgraph::graph::{DiGraph, NodeIndex};
use proptest::prelude::*;

use super::rows;

/// For each node those that it leads to, by their letters; R is the first.
fn example() -> (Vec<String>, Vec<Vec<usize>>) {
    let mut names = vec!["R".to_owned()];
    let mut after = vec![Vec::new()];
    for row in rows(include_str!("data/dominators_edges.csv")) {
        let mut place = |name: &str| {
            names.iter().position(|known| known == name).unwrap_or_else(|| {
                names.push(name.to_owned());
                after.push(Vec::new());
                names.len() - 1
            })
        };
        let (from, to) = (place(row.get("from")), place(row.get("to")));
        after[from].push(to);
    }
    (names, after)
}

#[test]
fn the_worked_example() {
    let (names, after) = example();
    assert_eq!((names.len(), after.iter().map(Vec::len).sum::<usize>()), (13, 21));
    let found = Ways::new(after).dominators();
    let rows = rows(include_str!("data/dominators_idom.csv"));
    assert_eq!(rows.len(), names.len() - 1);
    for row in rows {
        let node = names.iter().position(|name| name == row.get("node")).unwrap();
        let nearest = found.nearest(node).map(|place| names[place].as_str());
        assert_eq!(nearest, Some(row.get("immediate_dominator")), "{}", row.get("node"));
    }
    assert_eq!(found.nearest(0), None);
}

/// The same by petgraph.
fn graph(after: &[Vec<usize>]) -> DiGraph<(), ()> {
    let mut graph = DiGraph::new();
    let nodes: Vec<NodeIndex> = after.iter().map(|_| graph.add_node(())).collect();
    for (from, next) in after.iter().enumerate() {
        for to in next {
            graph.add_edge(nodes[from], nodes[*to], ());
        }
    }
    graph
}

fn agree(after: &[Vec<usize>]) -> Result<(), TestCaseError> {
    let ways = Ways::new(after.to_vec());
    let (found, reachable): (Dominators, Vec<bool>) = (ways.dominators(), ways.reachable());
    let graph = graph(after);
    let theirs = simple_fast(&graph, NodeIndex::new(0));
    for (node, reached) in reachable.into_iter().enumerate() {
        let index = NodeIndex::new(node);
        prop_assert_eq!(reached, has_path_connecting(&graph, NodeIndex::new(0), index, None));
        let nearest = theirs.immediate_dominator(index).map(NodeIndex::index);
        prop_assert_eq!(found.nearest(node), nearest, "node {}", node);
        let all: Vec<usize> = theirs.dominators(index).into_iter().flatten().map(NodeIndex::index).collect();
        for gate in 0..after.len() {
            prop_assert_eq!(found.dominates(gate, node), all.contains(&gate), "{} over {}", gate, node);
        }
        for (from, leads) in ways.leading_to(&[node]).into_iter().enumerate() {
            let theirs = has_path_connecting(&graph, NodeIndex::new(from), index, None);
            prop_assert_eq!(leads, theirs, "{} to {}", from, node);
        }
    }
    Ok(())
}

proptest! {
    /// Sparse graphs are like procedures, dense ones go round a lot; some nodes are never reached.
    #[test]
    fn random_flows_as_petgraph_sees_them(after in (1usize..24).prop_flat_map(|count| {
        prop::collection::vec(prop::collection::vec(0..count, 0..4), count)
    })) {
        agree(&after)?;
    }
}

#[test]
fn every_card_of_the_library_as_petgraph_sees_it() {
    let checked = crate::merle::Merle::read().checked();
    let cards: Vec<&dwell_card::Card> =
        checked.procedures.iter().filter_map(|compiled| compiled.card.as_ref()).collect();
    assert!(cards.len() >= 7);
    for card in cards {
        let after: Vec<Vec<usize>> =
            card.nodes.iter().map(|node| node.next.values().copied().collect()).collect();
        let found = Ways::of(&card.nodes).dominators();
        let theirs = simple_fast(&graph(&after), NodeIndex::new(0));
        for node in 0..after.len() {
            let nearest = theirs.immediate_dominator(NodeIndex::new(node)).map(NodeIndex::index);
            assert_eq!(found.nearest(node), nearest, "{} node {node}", card.procedure);
        }
    }
}
