//! Troubles that are only the shadow of another one, and go when that one is mended.

use crate::finding::Place;
use crate::program::Program;
use crate::trouble::Trouble;
use std::collections::HashSet;

/// Leaves out what follows from a loop that says neither how often nor what then (its block is never begun, and its end is
/// unhandled), from a name that two things have (it seems to be the wrong one of the two), from a band that nothing meets (no
/// vehicle passes), and from a condition that was not understood (its line seems to hold always).
pub(super) fn leave_out(program: &Program, troubles: &mut Vec<Trouble>) {
    let line = |place: &Place| {
        let lines = program.files.get(place.file).map(|file| &file.lines);
        (place.file, lines.map_or(0, |lines| lines.line(place.span.start)))
    };
    let unclear: HashSet<(usize, usize)> = places(troubles, |trouble| match trouble {
        Trouble::NotFound { place, .. } | Trouble::VariantUnknown { place, .. } => Some(*place),
        _ => None,
    })
    .iter()
    .map(line)
    .collect();
    let endless = places(troubles, |trouble| match trouble {
        Trouble::Endless { place, .. } => Some(*place),
        _ => None,
    });
    let no_way_out = places(troubles, |trouble| match trouble {
        Trouble::NoWayOut { place, .. } => Some(*place),
        _ => None,
    });
    let impossible = places(troubles, |trouble| match trouble {
        Trouble::BandEmpty { place, .. } | Trouble::NoWayOut { place, .. } => Some(*place),
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
        Trouble::NeverPasses { place, .. } => !impossible.iter().any(|band| band.file == place.file),
        Trouble::OutUnhandled { place, .. } => !no_way_out.iter().any(|ends| lies_in(*place, *ends)),
        Trouble::LimitStatedTwice { place, first, .. } | Trouble::VariantOverlap { place, first, .. } => {
            ![place, first].into_iter().any(|place| unclear.contains(&line(place)))
        }
        _ => true,
    });
}

fn places(troubles: &[Trouble], of: impl Fn(&Trouble) -> Option<Place>) -> Vec<Place> {
    troubles.iter().filter_map(of).collect()
}

fn lies_in(inner: Place, outer: Place) -> bool {
    inner.file == outer.file && outer.span.holds(inner.span)
}
