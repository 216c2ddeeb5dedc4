//! The whole comparison: declarations, procedures, revisions, files; then the order in which it is told.

use crate::{Comparison, Side, declared, files, house, procedure, revision, seconds};
use dwell_check::options::Options;
use std::collections::HashSet;

/// What the change from `old` to `new` means.
pub fn compare(old: Side, new: Side) -> Comparison {
    let mut comparison = Comparison { changes: declared::all(old, new), not_compared: Vec::new() };
    let pairs = procedure::all(old, new, &mut comparison);
    revision::all(old, new, &pairs, &mut comparison.changes);
    seconds::all(old, new, &mut comparison.changes);
    if comparison.not_compared.is_empty() {
        files::only_layout(old, new, &mut comparison.changes);
    }
    let mut told = HashSet::new();
    comparison.changes.retain(|change| told.insert(change.clone()));
    comparison.sort();
    comparison
}

impl Comparison {
    /// The same with what changed in the settings of the house.
    pub fn with_settings(mut self, old: &Options, new: &Options) -> Comparison {
        self.changes.extend(house::changes(old, new));
        self.sort();
        self
    }

    /// The loudest first, then by whose they are.
    fn sort(&mut self) {
        self.changes.sort_by(|one, other| {
            (one.grade, &one.of, &one.new, &one.old).cmp(&(other.grade, &other.of, &other.new, &other.old))
        });
    }
}
