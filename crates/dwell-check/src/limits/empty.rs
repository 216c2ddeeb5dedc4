//! Bands in which nothing passes, or nothing that a tool could show.

use super::judged::Judging;
use crate::model::ResolvedBand;
use crate::trouble::Trouble;
use dwell_quantity::{Kind, amount_off};

/// Tells of a band from a value to the same value, of what is measured: only a perfect hit would pass.
pub(crate) fn single_point(kind: Kind, limit: &ResolvedBand, troubles: &mut Vec<Trouble>) {
    let one_point = limit.band.width().is_some_and(|width| width.is_zero());
    if one_point && !kind.counted() {
        troubles.push(Trouble::BandEmpty {
            place: limit.place,
            band: limit.written.clone(),
            why: "its two ends are the same".to_owned(),
            guarded: None,
        });
    }
}

/// Tells of a band from which the accuracy of the tool leaves nothing: a guarded decision draws it in at both ends.
pub(super) fn guarded(judgings: &[Judging<'_>], troubles: &mut Vec<Trouble>) {
    for judging in judgings {
        let (Some(low), Some(high)) = (&judging.band.low, &judging.band.high) else { continue };
        let accuracies = judging.accuracy_at(&low.value).zip(judging.accuracy_at(&high.value));
        let Some((below, above)) = accuracies else { continue };
        if &low.value + &below <= &high.value - &above {
            continue;
        }
        let tool = judging.ability;
        let off = amount_off(&below.max(above), tool.unit, tool.kind, tool.decimals);
        let trouble = Trouble::BandEmpty {
            place: judging.band_place,
            band: judging.written.clone(),
            why: format!("the {} is off by up to {off}, and the decision is guarded", judging.tool),
            guarded: Some(judging.measured),
        };
        if !troubles.contains(&trouble) {
            troubles.push(trouble);
        }
    }
}
