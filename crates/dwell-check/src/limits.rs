//! Limits looked at by themselves: what no reading can meet, what is said twice, tables with a bad row. One file each.

mod classes;
mod coarse;
mod edge;
mod empty;
mod impossible;
mod judged;
mod pair;
mod rows;
mod twice;

use crate::lower::Lowered;
use crate::model::Model;
use crate::trouble::Trouble;

pub(crate) use empty::single_point;
pub(crate) use impossible::impossible;
pub(crate) use pair::{Side, pair};

/// Looks over all declared limits.
pub(crate) fn declared(model: &Model, troubles: &mut Vec<Trouble>) {
    for spec in &model.specs {
        edge::on_the_edge(model, spec, troubles);
        twice::twice(model, spec, troubles);
        rows::shape(spec, troubles);
        classes::seams(spec, troubles);
    }
}

/// Looks over the limits that the readings of a procedure are judged by, and the tools that take them.
pub(crate) fn judged(model: &Model, lowered: &Lowered, troubles: &mut Vec<Trouble>) {
    let judgings = judged::all(model, lowered);
    coarse::too_coarse(model, &judgings, troubles);
    classes::reached(model, lowered, troubles);
    if lowered.card.guarded {
        empty::guarded(&judgings, troubles);
    }
}
