//! What may be so at a place of a procedure, for each group of vehicles for which it is the same: for those who look at the text
//! while it is written.

use super::alike;
use super::bits::Bits;
use super::effect::{covered, debts};
use super::explore::{Link, Reached, exits, explore};
use super::live::Live;
use super::reachable::Reachable;
use super::report::Report;
use super::report::coming::coming;
use super::state::State;
use super::variants::Variants;
use super::vehicles::Vehicles;
use super::ways::combinations;
use crate::lower::Lowered;
use dwell_card::meaning::States;
use std::collections::{BTreeMap, BTreeSet};

/// A place in a procedure: the nodes of a text, and whether what is before or after them is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The nodes.
    pub nodes: Vec<usize>,
    /// Whether what is so after them is asked, and not what is so before.
    pub after: bool,
}

/// What may be so at a place, for some vehicles.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// The vehicles: any of these, each with the axes that matter and their values. One without axes stands for all.
    pub vehicles: Vec<Vec<(usize, Vec<usize>)>>,
    /// The states that each slot may be in.
    pub slots: Vec<States>,
    /// The slots that may be otherwise than the procedure found them and may not stay so.
    pub owed: Vec<usize>,
    /// The hazards that may be there, each with whether a caution of the procedure covers it on every way.
    pub hazards: Vec<(usize, bool)>,
}

/// What may be so at these places before the procedure is done, looked at from the procedure itself (what it performs belongs to
/// the text that performs it). Nothing for a place that nothing leads to.
pub fn standing(lowered: &Lowered, spots: &[Spot]) -> Vec<Vec<Standing>> {
    let merged = alike::merged(lowered);
    let lowered = merged.as_ref().unwrap_or(lowered);
    let variants = Variants::of(lowered, &exits(lowered));
    let mut reached = Reachable::nothing(lowered.card.nodes.len());
    let (entries, _) = explore(lowered, &Live::of(lowered), &variants, &mut reached, &mut Report::default());
    let at: Vec<Vec<usize>> = spots.iter().map(|spot| at(spot, &entries)).collect();
    let come = coming(&entries, at.iter().flatten().copied(), &variants.all);
    let chosen = combinations(lowered);
    let spots = spots.iter().zip(&at);
    spots
        .map(|(spot, at)| {
            let come: Vec<(usize, Vec<Vehicles>)> =
                at.iter().map(|entry| (*entry, arriving(*entry, spot, &entries, &come))).collect();
            grouped(lowered, &variants, &chosen, &entries, &come)
        })
        .collect()
}

/// Whether a link leads to a spot from outside of it, or out of it.
fn crosses(link: &Link, spot: &Spot, entries: &[Reached]) -> bool {
    entries.get(link.from).is_some_and(|from| spot.nodes.contains(&from.node) == spot.after)
}

/// The entries at which a spot is come to, or left.
fn at(spot: &Spot, entries: &[Reached]) -> Vec<usize> {
    // Where somebody stops, only `restore` comes: it alone is looked at after a stop.
    let restores = |state: &State| state.frames.iter().any(|opened| opened.frame == 0 && opened.restoring);
    let fits = |entry: &Reached| {
        if entry.state.stopped && !restores(&entry.state) {
            return false;
        }
        let mut links = entry.links.iter().chain(&entry.again);
        spot.nodes.contains(&entry.node) != spot.after
            && (links.any(|link| crosses(link, spot, entries)) || (!spot.after && entry.links.is_empty()))
    };
    entries.iter().enumerate().filter(|(_, entry)| fits(entry)).map(|(place, _)| place).collect()
}

/// The vehicles that come to an entry of a spot from outside of it, or out of it.
fn arriving(entry: usize, spot: &Spot, entries: &[Reached], come: &[Vec<Vehicles>]) -> Vec<Vehicles> {
    let Some(reached) = entries.get(entry) else { return Vec::new() };
    if reached.links.is_empty() {
        return come.get(entry).cloned().unwrap_or_default();
    }
    let links = reached.links.iter().chain(&reached.again).filter(|link| crosses(link, spot, entries));
    let parts = links.flat_map(|link| {
        let from = come.get(link.from).into_iter().flatten();
        from.filter_map(|vehicles| vehicles.both(&link.vehicles)).collect::<Vec<_>>()
    });
    parts.collect()
}

/// What is possible for one vehicle.
#[derive(PartialEq)]
struct Facts {
    slots: Vec<States>,
    owed: BTreeSet<usize>,
    hazards: BTreeMap<usize, bool>,
}

impl Facts {
    fn of(lowered: &Lowered) -> Facts {
        let slots = lowered.card.slots.iter().map(|_| States::default()).collect();
        Facts { slots, owed: BTreeSet::new(), hazards: BTreeMap::new() }
    }

    fn add(&mut self, lowered: &Lowered, state: &State) {
        for (known, now) in self.slots.iter_mut().zip(&state.slots) {
            *known = known.or(*now);
        }
        if let Some(opened) = state.frames.iter().find(|opened| opened.frame == 0) {
            self.owed.extend(debts(lowered, 0, opened, state));
        }
        for (slot, now) in lowered.card.slots.iter().zip(&state.slots) {
            for (brought, hazard) in slot.hazards.iter().filter(|(brought, _)| now.has(*brought)) {
                let safe = covered(lowered, state, 0, *hazard);
                // What a normal state brings, which comes first in its handling, is there without the procedure: nothing asks for
                // a caution until the procedure touches it.
                if *brought == 0 && !safe {
                    continue;
                }
                self.hazards.entry(*hazard).and_modify(|known| *known &= safe).or_insert(safe);
            }
        }
    }
}

/// What is possible for each vehicle, those together for which it is the same.
fn grouped(
    lowered: &Lowered,
    variants: &Variants,
    chosen: &[Vec<usize>],
    entries: &[Reached],
    come: &[(usize, Vec<Vehicles>)],
) -> Vec<Standing> {
    let mut groups: Vec<(Facts, Vec<Vehicles>)> = Vec::new();
    for chosen in chosen {
        let mut facts: Option<Facts> = None;
        for (entry, _) in come.iter().filter(|(_, sets)| sets.iter().any(|set| has(set, chosen))) {
            if let Some(entry) = entries.get(*entry) {
                facts.get_or_insert_with(|| Facts::of(lowered)).add(lowered, &entry.state);
            }
        }
        let (Some(facts), alone) = (facts, alone(variants, chosen)) else { continue };
        match groups.iter_mut().find(|(known, _)| *known == facts) {
            Some((_, vehicles)) => vehicles.push(alone),
            None => groups.push((facts, vec![alone])),
        }
    }
    let standing = groups.into_iter().map(|(facts, vehicles)| Standing {
        vehicles: together(vehicles).iter().map(|set| told_apart(set, &variants.all)).collect(),
        slots: facts.slots,
        owed: facts.owed.into_iter().collect(),
        hazards: facts.hazards.into_iter().collect(),
    });
    standing.collect()
}

fn has(set: &Vehicles, chosen: &[usize]) -> bool {
    chosen.iter().enumerate().all(|(axis, value)| set.of(axis).is_none_or(|values| values.contains(value)))
}

/// One vehicle; with all values of what nothing asks for.
fn alone(variants: &Variants, chosen: &[usize]) -> Vehicles {
    let one = |value: usize| {
        let mut bits = Bits::default();
        bits.insert(value);
        bits
    };
    let asked = chosen.iter().enumerate().filter(|(axis, _)| variants.asks(*axis));
    asked.fold(variants.all.clone(), |set, (axis, value)| set.with(axis, one(*value)))
}

/// The same vehicles as few sets.
fn together(mut sets: Vec<Vehicles>) -> Vec<Vehicles> {
    let mut at = 0;
    while let Some(set) = sets.get(at).cloned() {
        let joined = sets.iter().enumerate().skip(at + 1);
        let joined = joined.filter_map(|(other, set_there)| Some((other, set.together(set_there)?))).next();
        match joined {
            Some((other, both)) => {
                sets.remove(other);
                if let Some(place) = sets.get_mut(at) {
                    *place = both;
                }
                at = 0;
            }
            None => at += 1,
        }
    }
    sets
}

/// The axes in which a set does not have all values, with those that it has.
fn told_apart(set: &Vehicles, all: &Vehicles) -> Vec<(usize, Vec<usize>)> {
    let axes = (0..).map_while(|axis| Some((axis, set.of(axis)?, all.of(axis)?)));
    axes.filter(|(_, here, all)| here != all).map(|(axis, here, _)| (axis, here.iter().collect())).collect()
}
