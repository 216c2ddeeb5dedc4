//! The declarations of both states, each with its like.

mod facts;

use crate::fact::{Owner, differences};
use crate::pairs::paired;
use crate::words::Words;
use crate::{Change, Grade, Side, limits};
use dwell_check::finding::Place;
use facts::Declared;

/// What changed in things, tools, quantities, hazards, handlings, variants, places, series, specs and tables.
pub(crate) fn all(old: Side, new: Side) -> Vec<Change> {
    let (before, after) = (facts::of(&old.checked.model), facts::of(&new.checked.model));
    let name = |side: Side<'_>, one: &Declared| {
        (side.relative(one.place.file).to_owned(), format!("{} {}", one.what, one.name))
    };
    let mut changes = Vec::new();
    for pair in paired(&before, &after, (|one| name(old, one), |one| name(new, one))) {
        let place = |side: Side<'_>, one: Option<&Declared>| one.and_then(|one| side.place(one.place));
        let (then, now) = (place(old, pair.0), place(new, pair.1));
        let of = pair.1.or(pair.0).map(|one| format!("{} {}", one.what, one.name)).unwrap_or_default();
        let owner = Owner { of: &of, before: "", old: &then, new: &now };
        match pair {
            (Some(one), Some(other)) => changes.extend(differences(&one.facts, &other.facts, owner)),
            (None, Some(_)) => changes.push(owner.change(Grade::Quiet, "declared", "declared")),
            (Some(_), None) => changes.push(owner.change(Grade::Middle, "declared", "no longer declared")),
            (None, None) => {}
        }
    }
    changes.extend(specs(old, new));
    changes
}

fn specs(old: Side, new: Side) -> Vec<Change> {
    let name =
        |side: Side<'_>, name: &str, place: Place| (side.relative(place.file).to_owned(), name.to_owned());
    let before = &old.checked.model.specs;
    let after = &new.checked.model.specs;
    let mut changes = Vec::new();
    let pairs = paired(
        before,
        after,
        (|spec| name(old, &spec.name, spec.place), |spec| name(new, &spec.name, spec.place)),
    );
    for pair in pairs {
        let (then, now) =
            (pair.0.and_then(|spec| old.place(spec.place)), pair.1.and_then(|spec| new.place(spec.place)));
        let of = pair.1.or(pair.0).map(limits::title).unwrap_or_default();
        let owner = Owner { of: &of, before: "", old: &then, new: &now };
        match pair {
            (Some(one), Some(other)) => changes.extend(limits::differences(
                (one, Words(&old.checked.model), old),
                (other, Words(&new.checked.model), new),
                owner,
            )),
            (None, Some(_)) => changes.push(owner.change(Grade::Quiet, "declared", "declared")),
            (Some(_), None) => changes.push(owner.change(Grade::Middle, "declared", "no longer declared")),
            (None, None) => {}
        }
    }
    changes
}
