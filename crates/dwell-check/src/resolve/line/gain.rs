//! The gain and the steps of an adjuster: by how much one step of it moves what it adjusts.

use crate::trouble::Trouble;
use dwell_quantity::{Exact, Kind, Lookup, lookup};
use dwell_syntax::tree::Amount;

/// By how much one step moves a quantity of this kind, in base units: `by 0.06 in per 1/2 turn steps of 1/4 turn` is 0.03 in.
/// `None` where an amount is wrong, which is told.
pub(super) fn one_step(
    file: usize,
    kind: Kind,
    (by, per): &(Amount, Amount),
    steps: &Amount,
    troubles: &mut Vec<Trouble>,
) -> Option<Exact> {
    let by = crate::resolve::amount(file, by, kind, "how much it moves", true, troubles)?;
    let turned = turned_by(per)?;
    let per = crate::resolve::amount(file, per, turned, "what it is turned by", true, troubles)?;
    let steps =
        crate::resolve::amount(file, steps, turned, "the step that it can be turned by", true, troubles)?;
    (by * steps).checked_div(&per).map(|step| step.abs())
}

/// The kind that an adjuster is turned or moved by, told by its unit.
fn turned_by(amount: &Amount) -> Option<Kind> {
    match lookup(&amount.unit.as_ref()?.text) {
        Lookup::Unit(unit) => unit.kinds().first().copied(),
        _ => None,
    }
}
