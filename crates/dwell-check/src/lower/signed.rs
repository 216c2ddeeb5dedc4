//! What somebody signs for: a verb of a thing, or what is tightened to a spec and judged by it.

use super::{Lowerer, limit_of, tests};
use crate::finding::Place;
use crate::model::Item;
use dwell_card::graph::Act;

/// How many sign for a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Signature {
    /// 1 or 2.
    pub persons: u8,
    /// Where that is asked for.
    pub declared: Place,
}

impl<'a> Lowerer<'a> {
    /// Notes who signs for a node that does this verb.
    pub(super) fn note_signed(&mut self, node: usize, verb: &str, thing: &Item) {
        for signed in thing.signed.iter().filter(|signed| signed.verb == verb) {
            self.signature(node, Signature { persons: signed.persons, declared: signed.place });
        }
    }

    /// Notes who signs for what is tightened to a spec, set to it or judged by it.
    pub(super) fn signed_by_limits(&mut self) {
        let mut specs: Vec<(usize, usize)> =
            self.out.limit_specs.iter().map(|(limit, spec)| (*limit, *spec)).collect();
        specs.extend(self.stage_limits.iter().map(|((spec, _), limit)| (*limit, *spec)));
        let asked = |limit: usize| {
            let (_, spec) = specs.iter().find(|(known, _)| *known == limit)?;
            let (persons, declared) = self.model.specs.get(*spec)?.signed?;
            Some(Signature { persons, declared })
        };
        let mut found = Vec::new();
        for (at, node) in self.out.card.nodes.iter().enumerate() {
            let limits: Vec<usize> = match &node.act {
                Act::Work(work) => work.limit.into_iter().collect(),
                Act::Judge(judge) => tests(&judge.condition).into_iter().filter_map(limit_of).collect(),
                _ => Vec::new(),
            };
            found.extend(limits.into_iter().filter_map(asked).map(|signature| (at, signature)));
        }
        for (node, signature) in found {
            self.signature(node, signature);
        }
    }

    fn signature(&mut self, node: usize, signature: Signature) {
        let known = self.out.signatures.entry(node).or_insert(signature);
        if known.persons < signature.persons {
            *known = signature;
        }
    }
}
