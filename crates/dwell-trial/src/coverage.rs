//! What the cases of a procedure come to: its steps, its branches, the variants, and the sides of each limit.

mod branches;
mod limits;

use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_check::check::Compiled;
use dwell_check::finding::Place;
use dwell_check::program::Program;
use dwell_run::Session;
use std::collections::BTreeSet;

/// How far the cases of one procedure go. Listed is what can be reached; what it performs has cases of its own.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Coverage {
    /// Its steps, in their order.
    pub steps: Vec<StepTried>,
    /// Its branches, by their place.
    pub branches: Vec<Branch>,
    /// The values of the variants that its card asks for.
    pub variants: Vec<VariantTried>,
    /// The limits that it judges by.
    pub limits: Vec<LimitTried>,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepTried {
    /// Its name.
    pub name: String,
    /// Where its name stands.
    pub place: Place,
    /// How many cases come to it.
    pub cases: usize,
}

/// One way on from a place where there are several.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Branch {
    /// What decides.
    pub place: Place,
    /// When it is taken, in words that go on after "where": "`lamp is lit` holds".
    pub what: String,
    /// How many cases take it.
    pub cases: usize,
}

/// One value of a variant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VariantTried {
    /// The variant.
    pub axis: String,
    /// The value.
    pub value: String,
    /// How many cases are about it.
    pub cases: usize,
}

/// One limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LimitTried {
    /// Its name, or the band as it stands on the spot.
    pub name: String,
    /// Whether the band to set to is meant.
    pub adjusting: bool,
    /// Where it is first judged by.
    pub place: Place,
    /// How often each side came out.
    pub sides: Sides,
}

/// How often values came out on each side of a limit, over all cases; none for a side that the limit does not have.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sides {
    /// In band.
    pub inside: usize,
    /// Below.
    pub low: Option<usize>,
    /// Above.
    pub high: Option<usize>,
    /// Exactly at an end of the band.
    pub at_the_limit: usize,
    /// No reading, or none that decides.
    pub no_reading: usize,
}

impl Sides {
    /// The sides that never came out, in words: in, low, high.
    pub fn missing(&self) -> Vec<&'static str> {
        let sides = [(Some(self.inside), "in"), (self.low, "low"), (self.high, "high")];
        sides.into_iter().filter(|(count, _)| *count == Some(0)).map(|(_, words)| words).collect()
    }

    /// Whether every side came out, a value exactly at the limit and none at all among them.
    pub fn are_all_tried(&self) -> bool {
        self.missing().is_empty() && self.at_the_limit > 0 && self.no_reading > 0
    }
}

impl Coverage {
    /// What these runs come to.
    pub(crate) fn of(compiled: &Compiled, card: &Card, program: &Program, runs: &[Session]) -> Coverage {
        Coverage {
            steps: steps(compiled, card, runs),
            branches: branches::branches(compiled, card, program, runs),
            variants: variants(card, runs),
            limits: limits::limits(compiled, card, runs),
        }
    }
}

fn steps(compiled: &Compiled, card: &Card, runs: &[Session]) -> Vec<StepTried> {
    let mut all: Vec<(usize, StepTried)> = Vec::new();
    for (at, node) in card.nodes.iter().enumerate() {
        let Act::Step { step } = &node.act else { continue };
        let first = !all.iter().any(|(known, _)| known == step);
        if let (0, true, true, Some(known)) =
            (node.frame, first, compiled.reached.node(at), card.steps.get(*step))
        {
            let place = compiled.places.get(at).copied().unwrap_or_default();
            all.push((*step, StepTried { name: known.name.clone(), place, cases: 0 }));
        }
    }
    for run in runs {
        let come: BTreeSet<usize> = run
            .trace()
            .iter()
            .filter_map(|(node, _)| match &card.nodes.get(*node)?.act {
                Act::Step { step } => Some(*step),
                _ => None,
            })
            .collect();
        for (step, tried) in &mut all {
            tried.cases += usize::from(come.contains(step));
        }
    }
    all.sort_by_key(|(step, _)| *step);
    all.into_iter().map(|(_, tried)| tried).collect()
}

fn variants(card: &Card, runs: &[Session]) -> Vec<VariantTried> {
    let mut all = Vec::new();
    for (axis, known) in card.axes.iter().enumerate() {
        for (place, value) in known.values.iter().enumerate() {
            let cases = runs.iter().filter(|run| run.chosen().get(axis) == Some(&place)).count();
            all.push(VariantTried { axis: known.name.clone(), value: value.clone(), cases });
        }
    }
    all
}
