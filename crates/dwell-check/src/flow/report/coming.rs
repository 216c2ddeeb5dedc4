//! Which vehicles really come to an entry of the walk, on whatever way: the walk itself forgets them where nothing asks.

use crate::flow::explore::Reached;
use crate::flow::vehicles::Vehicles;

/// The most sets of vehicles that are told apart at one entry; beyond it all of them are taken to come there.
const MOST: usize = 64;

/// For each entry on a way to one of the ends, the sets of vehicles that come to it.
pub(in crate::flow) fn coming(
    entries: &[Reached],
    ends: impl Iterator<Item = usize>,
    all: &Vehicles,
) -> Vec<Vec<Vehicles>> {
    let wanted = before(entries, ends);
    let mut come: Vec<Vec<Vehicles>> = vec![Vec::new(); entries.len()];
    if let Some(first) = come.first_mut() {
        first.push(all.clone());
    }
    let mut changed = true;
    while changed {
        changed = false;
        for entry in wanted.iter().copied() {
            for link in
                entries.get(entry).into_iter().flat_map(|entry| entry.links.iter().chain(&entry.again))
            {
                for part in come.get(link.from).cloned().unwrap_or_default() {
                    if let (Some(part), Some(known)) = (part.both(&link.vehicles), come.get_mut(entry)) {
                        changed |= added(known, part, all);
                    }
                }
            }
        }
    }
    come
}

/// The entries on a way to one of the ends, in their order.
fn before(entries: &[Reached], ends: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut wanted = vec![false; entries.len()];
    let mut waiting: Vec<usize> = ends.collect();
    while let Some(entry) = waiting.pop() {
        if let (Some(wanted), Some(known)) = (wanted.get_mut(entry), entries.get(entry))
            && !std::mem::replace(wanted, true)
        {
            waiting.extend(known.links.iter().chain(&known.again).map(|link| link.from));
        }
    }
    (0..entries.len()).filter(|entry| wanted.get(*entry) == Some(&true)).collect()
}

/// Adds a set to those that are known; nothing changes where all of it is among them.
fn added(known: &mut Vec<Vehicles>, part: Vehicles, all: &Vehicles) -> bool {
    if part.covered(known) {
        return false;
    }
    known.retain(|set| !set.within(&part));
    for set in known.iter_mut() {
        if let Some(both) = set.together(&part) {
            *set = both;
            return true;
        }
    }
    if known.len() < MOST {
        known.push(part);
    } else {
        *known = vec![all.clone()];
    }
    true
}
