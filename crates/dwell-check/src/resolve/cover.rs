//! Which variants a spec has no value for.

use crate::model::{Model, Spec, When};

/// The most combinations that are told.
const MOST_TOLD: usize = 64;
/// The most branches that are looked at; far more than any spec has.
const MOST_LOOKED_AT: usize = 100_000;

/// The combinations of variants for which no check band (or group of rows) of a spec can hold. Conditions on states and
/// places may always hold, so only those on variants count. `applies` says which values of which variant matter; a
/// variant that it does not name matters with all its values.
///
/// Each combination has the variants that decide it, each with one value, by their places: where alloy wheels are
/// uncovered whatever the market, only the wheel is named. At most 64 are given. A spec without any band gives none,
/// since that is told where it is declared.
pub fn uncovered(model: &Model, spec: usize, applies: &[(usize, Vec<usize>)]) -> Vec<Vec<(usize, usize)>> {
    let Some(spec) = model.specs.get(spec) else { return Vec::new() };
    let bands = conditions(spec);
    if bands.is_empty() {
        return Vec::new();
    }
    let mut axes: Vec<(usize, Vec<usize>)> = Vec::new();
    for (variant, _) in bands.iter().flatten() {
        if !axes.iter().any(|(known, _)| known == variant) {
            let all = || (0..model.variants.get(*variant).map_or(0, |choice| choice.values.len())).collect();
            let given = applies.iter().find(|(of, _)| of == variant).map(|(_, values)| values.clone());
            axes.push((*variant, given.unwrap_or_else(all)));
        }
    }
    let mut search = Search { found: Vec::new(), looked_at: 0 };
    search.branch(&axes, &mut Vec::new(), &bands);
    search.found
}

/// For each band its conditions on variants: the variant and the values with which it holds.
type Conditions = Vec<(usize, Vec<usize>)>;

fn conditions(spec: &Spec) -> Vec<Conditions> {
    let of = |when: &[When]| -> Conditions {
        when.iter()
            .filter_map(|one| match one {
                When::Variant(variant, values) => Some((*variant, values.clone())),
                When::Position(..) | When::State(_) => None,
            })
            .collect()
    };
    match &spec.rows {
        Some(rows) => rows.groups.iter().map(|(when, _)| of(when)).collect(),
        None => spec.check.iter().map(|band| of(&band.when)).collect(),
    }
}

struct Search {
    found: Vec<Vec<(usize, usize)>>,
    looked_at: usize,
}

impl Search {
    /// Chooses a value for the next variant, as long as the choice matters.
    fn branch(
        &mut self,
        axes: &[(usize, Vec<usize>)],
        chosen: &mut Vec<(usize, usize)>,
        open: &[Conditions],
    ) {
        self.looked_at += 1;
        if self.found.len() >= MOST_TOLD || self.looked_at > MOST_LOOKED_AT {
            return;
        }
        if open.is_empty() {
            self.found.push(chosen.clone());
            return;
        }
        if open.iter().any(Vec::is_empty) {
            return;
        }
        let Some(((variant, values), rest)) = axes.split_first() else { return };
        for value in values {
            let left: Vec<Conditions> = open
                .iter()
                .filter(|band| band.iter().all(|(of, with)| of != variant || with.contains(value)))
                .map(|band| band.iter().filter(|(of, _)| of != variant).cloned().collect())
                .collect();
            let matters = open.iter().flatten().any(|(of, _)| of == variant);
            if matters {
                chosen.push((*variant, *value));
                self.branch(rest, chosen, &left);
                chosen.pop();
            } else {
                self.branch(rest, chosen, &left);
                break;
            }
        }
    }
}
