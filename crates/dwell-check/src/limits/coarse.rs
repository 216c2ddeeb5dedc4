//! Tools that are too coarse for the band that they decide about.

use super::judged::Judging;
use crate::model::{Ability, Model, QuantityRef};
use crate::trouble::Trouble;
use dwell_quantity::{Band, Exact, Rounding, amount_off, from_base_difference};
use std::collections::HashSet;

/// How many times the accuracy must go into the room from the middle of a band to its end (DOE-STD-1054-93, 3.4.4.3).
const ACCURACIES: i64 = 4;
/// How many steps of the display a band must have (common practice, no source).
const STEPS: i64 = 10;

/// Tells of each reading whose tool is too coarse for a band that it is judged by, once for a reading.
pub(super) fn too_coarse(model: &Model, judgings: &[Judging<'_>], troubles: &mut Vec<Trouble>) {
    let mut told = HashSet::new();
    for judging in judgings.iter().filter(|judging| judging.ability.range != Band::all()) {
        let Some(room) = Room::of(model, judging) else { continue };
        let tool = judging.ability;
        let show = |value: &Exact| amount_off(value, tool.unit, tool.kind, tool.decimals);
        let accuracy = room.ends.iter().filter_map(|end| judging.accuracy_at(end)).max();
        let fine = accuracy.as_ref().is_none_or(|accuracy| accuracy * &Exact::whole(ACCURACIES) <= room.half);
        let steps = tool.resolution.as_ref().filter(|step| *step * &Exact::whole(STEPS) > room.whole);
        let (is, wanted, by_steps) = match (&accuracy, steps) {
            (Some(accuracy), _) if !fine => (show(accuracy), share(&room.half, ACCURACIES), false),
            (_, Some(step)) => (show(step), share(&room.whole, STEPS), true),
            _ => continue,
        };
        if told.insert(judging.reading) {
            troubles.push(Trouble::ToolTooCoarse {
                place: judging.measured,
                tool: judging.tool.to_owned(),
                tool_place: tool.place,
                band: judging.written.clone(),
                band_place: judging.band_place,
                is,
                wanted: wanted.map(|wanted| needed(&wanted, tool)).unwrap_or_default(),
                by_steps,
            });
        }
    }
}

/// What is wanted, rounded to the strict side.
fn needed(wanted: &Exact, tool: &Ability) -> String {
    let exact = from_base_difference(wanted, tool.unit);
    let most = tool.decimals + 2;
    let decimals = exact.decimals_needed().unwrap_or(most).min(most);
    format!("{} {}", exact.rounded(decimals, Rounding::Down).fixed(decimals), tool.unit.symbol())
}

fn share(room: &Exact, of: i64) -> Option<Exact> {
    room.checked_div(&Exact::whole(of))
}

/// The room that a band leaves: from its middle to an end, and from end to end. Of a band with one end, both are the way
/// from the last value that can be to that end.
struct Room {
    half: Exact,
    whole: Exact,
    ends: Vec<Exact>,
}

impl Room {
    fn of(model: &Model, judging: &Judging<'_>) -> Option<Room> {
        let (low, high) = (&judging.band.low, &judging.band.high);
        let ends: Vec<Exact> = [low, high].into_iter().flatten().map(|end| end.value.clone()).collect();
        let room = match (low, high) {
            (Some(low), Some(high)) => {
                let whole = &high.value - &low.value;
                Room { half: whole.checked_div(&Exact::whole(2))?, whole, ends }
            }
            (None, Some(high)) => Room::up_to(&high.value - &last(model, judging.quantity, true)?, ends),
            (Some(low), None) => Room::up_to(last(model, judging.quantity, false)? - &low.value, ends),
            (None, None) => return None,
        };
        (room.whole > Exact::zero()).then_some(room)
    }

    fn up_to(room: Exact, ends: Vec<Exact>) -> Room {
        Room { half: room.clone(), whole: room, ends }
    }
}

/// The lowest (or highest) value that a quantity can have.
fn last(model: &Model, quantity: QuantityRef, lowest: bool) -> Option<Exact> {
    let declared = match quantity {
        QuantityRef::Declared(place) => model.quantities.get(place).map(|known| known.span.clone()),
        QuantityRef::Kind(_) => None,
    };
    let natural = model.kind(quantity)?.possible();
    let span = declared.unwrap_or_else(Band::all).intersect(&natural);
    let end = if lowest { span.low } else { span.high };
    end.map(|end| end.value)
}
