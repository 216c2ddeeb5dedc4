//! The branches of a procedure as its writer sees them, and which of them the cases take.

use super::Branch;
use dwell_card::Card;
use dwell_card::graph::{Act, Node, Test, Way};
use dwell_check::check::Compiled;
use dwell_check::finding::Place;
use dwell_check::program::Program;
use dwell_run::Session;
use dwell_syntax::tree::Span;
use std::collections::{BTreeMap, BTreeSet};

/// A branch with the edges of the card that are it: a text that is written out several times has several.
type Edges = BTreeMap<(Place, String), BTreeSet<(usize, Way)>>;

/// The branches that can be taken, with how many runs take each.
pub(super) fn branches(compiled: &Compiled, card: &Card, program: &Program, runs: &[Session]) -> Vec<Branch> {
    let graph = Graph { compiled, card, program };
    let mut edges = Edges::new();
    for (at, node) in card.nodes.iter().enumerate() {
        for (way, place, what) in graph.branches_of(at, node) {
            if compiled.reached.way(at, way) {
                edges.entry((place, what)).or_default().insert((at, way));
            }
        }
    }
    let taken: Vec<BTreeSet<(usize, Way)>> =
        runs.iter().map(|run| run.trace().iter().copied().collect()).collect();
    edges
        .into_iter()
        .map(|((place, what), edges)| {
            let cases = taken.iter().filter(|taken| !taken.is_disjoint(&edges)).count();
            Branch { place, what, cases }
        })
        .collect()
}

/// The most letters of the text that a branch is told by.
const MOST_LETTERS: usize = 70;

/// A text that is too long to tell, cut off at a blank.
fn shortened(text: &str) -> String {
    let mut letters = text.char_indices();
    let Some((cut, _)) = letters.nth(MOST_LETTERS) else { return text.to_owned() };
    let kept = text.get(..cut).unwrap_or_default();
    let kept = kept.rsplit_once(' ').map_or(kept, |(kept, _)| kept);
    format!("{kept} …")
}

struct Graph<'a> {
    compiled: &'a Compiled,
    card: &'a Card,
    program: &'a Program,
}

impl Graph<'_> {
    fn place(&self, node: usize) -> Place {
        self.compiled.places.get(node).copied().unwrap_or_default()
    }

    /// The first line of the text at a place, without what stands in its braces.
    fn text(&self, place: Place) -> (Place, String) {
        let file = self.program.files.get(place.file);
        let text = file.and_then(|file| file.text.get(place.span.start..place.span.end)).unwrap_or_default();
        let line = text.lines().next().unwrap_or_default();
        let head = line.split('{').next().unwrap_or_default().trim_end();
        let span = Span { start: place.span.start, end: place.span.start + head.len() };
        (Place { span, ..place }, format!("`{}`", shortened(head)))
    }

    /// Whether the way leads to something that no statement stands for and that ends the procedure.
    fn ends_by_itself(&self, node: &Node, way: Way) -> bool {
        let Some(to) = node.next.get(&way) else { return true };
        let made = self.compiled.made.get(*to) == Some(&true);
        made && matches!(self.card.nodes.get(*to).map(|node| &node.act), Some(Act::End(_) | Act::Unhandled))
    }

    /// Whether a node asks on which side the last judging was out: the head of an arm.
    fn is_arm(&self, node: usize) -> bool {
        match self.card.nodes.get(node).map(|node| &node.act) {
            Some(Act::Branch { condition }) => {
                matches!(condition.tests.as_slice(), [Test::Side { .. }])
                    && self.compiled.made.get(node) == Some(&true)
            }
            _ => false,
        }
    }

    /// The branches at a node of the procedure itself: the way, what decides, and when it is taken.
    fn branches_of(&self, at: usize, node: &Node) -> Vec<(Way, Place, String)> {
        let outer = self.card.frames.get(node.frame).and_then(|frame| frame.within);
        if let (Act::Close, Some(0)) = (&node.act, outer) {
            return self.not_passed(node);
        }
        if node.frame != 0 {
            return Vec::new();
        }
        let (place, text) = self.text(self.place(at));
        let mut all = Vec::new();
        match &node.act {
            Act::Judge(judge) if judge.adjusting => all.push((Way::In, place, format!("{text} is met"))),
            Act::Judge(_) => {
                all.push((Way::In, place, format!("{text} holds")));
                if node.next.get(&Way::Out).is_some_and(|to| !self.is_arm(*to)) {
                    all.push((Way::Out, place, format!("{text} does not hold")));
                }
            }
            Act::Branch { .. } if self.is_arm(at) => {
                all.push((Way::Yes, place, format!("{text} is taken")));
                let on = node.next.get(&Way::No).is_some_and(|to| self.is_arm(*to));
                let rest = node.next.get(&Way::No).filter(|_| !on && !self.ends_by_itself(node, Way::No));
                if let Some(rest) = rest {
                    let (place, text) = self.text(self.place(*rest));
                    all.push((Way::No, place, format!("no arm before {text} is taken")));
                }
            }
            Act::Branch { .. } => {
                all.push((Way::Yes, place, format!("{text} holds")));
                all.push((Way::No, place, format!("{text} does not hold")));
            }
            Act::Count { .. } if self.compiled.made.get(at) == Some(&true) => {
                all.push((Way::Again, place, format!("{text} is adjusted")));
                all.push((Way::Spent, place, format!("the adjusting of {text} is given up")));
            }
            Act::Count { .. } => {
                all.push((Way::Again, place, format!("{text} goes back")));
                all.push((Way::Spent, place, format!("{text} is given up")));
            }
            Act::Choose(_) => {
                all.push((Way::Then, place, format!("{text} finds a size")));
                all.push((Way::NoReading, place, format!("{text} finds no size")));
            }
            _ => {}
        }
        all.extend(self.lost(node));
        all
    }

    /// What follows where something performed does not pass, and the text says how to go on.
    fn not_passed(&self, node: &Node) -> Vec<(Way, Place, String)> {
        let (place, text) =
            self.text(self.compiled.performed_at.get(node.frame).copied().unwrap_or_default());
        [Way::Failed, Way::Unfinished, Way::Referred]
            .into_iter()
            .filter(|way| !self.ends_by_itself(node, *way))
            .map(|way| (way, place, format!("{text} does not pass")))
            .collect()
    }

    /// What follows where something that is held is lost.
    fn lost(&self, node: &Node) -> Option<(Way, Place, String)> {
        let to = node.next.get(&Way::Lost)?;
        let Act::Release { hold, .. } = &self.card.nodes.get(*to)?.act else { return None };
        let Act::Hold(held) = &self.card.nodes.get(*hold)?.act else { return None };
        let (place, _) = self.text(self.place(*hold));
        Some((Way::Lost, place, format!("“{}” is lost", held.says.trim_end_matches('.'))))
    }
}
