//! Troubles that are only the shadow of another one, and go when that one is mended.

use crate::finding::Place;
use crate::trouble::Trouble;
use std::collections::HashSet;

/// Leaves out what follows from a loop that says neither how often nor what then (its block is never begun, and its end is
/// unhandled), and from a name that two things have (it seems to be the wrong one of the two).
pub(super) fn leave_out(troubles: &mut Vec<Trouble>) {
    let endless = places(troubles, |trouble| match trouble {
        Trouble::Endless { place, .. } => Some(*place),
        _ => None,
    });
    let no_way_out = places(troubles, |trouble| match trouble {
        Trouble::NoWayOut { place, .. } => Some(*place),
        _ => None,
    });
    let twice: HashSet<String> = troubles
        .iter()
        .filter_map(|trouble| match trouble {
            Trouble::DeclaredTwice { name, .. } => Some(name.clone()),
            _ => None,
        })
        .collect();
    troubles.retain(|trouble| match trouble {
        Trouble::NotFound { name, elsewhere: Some(_), .. } => !twice.contains(name),
        Trouble::Unreachable { place, .. } => !endless.iter().any(|loops| lies_in(*place, *loops)),
        Trouble::OutUnhandled { place, .. } => !no_way_out.iter().any(|ends| lies_in(*place, *ends)),
        _ => true,
    });
}

fn places(troubles: &[Trouble], of: impl Fn(&Trouble) -> Option<Place>) -> Vec<Place> {
    troubles.iter().filter_map(of).collect()
}

fn lies_in(inner: Place, outer: Place) -> bool {
    inner.file == outer.file && outer.span.holds(inner.span)
}
