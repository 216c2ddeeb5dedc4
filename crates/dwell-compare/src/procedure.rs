//! The procedures of both states: their headings, and their flow line by line.

mod acts;
mod formula;
mod heading;
mod lines;
mod matching;
mod tests_of;
mod ways;

use crate::fact::{Owner, differences};
use crate::pairs::paired;
use crate::{Change, Comparison, Grade, Side};
use dwell_card::Card;
use dwell_check::check::Compiled;
use lines::{Line, lines};
use matching::{Matching, matched};
use std::collections::HashSet;

pub(crate) use lines::limits_used;

/// A procedure that both states have: then, now.
pub(crate) type Pair<'a> = (&'a Compiled, &'a Compiled);

/// Adds what changed in procedures; gives those that both states have.
pub(crate) fn all<'a>(old: Side<'a>, new: Side<'a>, comparison: &mut Comparison) -> Vec<Pair<'a>> {
    let name = |side: Side<'_>, one: &Compiled| (side.relative(one.file).to_owned(), one.name.clone());
    let (before, after) = (&old.checked.procedures, &new.checked.procedures);
    let mut pairs = Vec::new();
    let mut all = paired(before, after, (|one| name(old, one), |one| name(new, one)));
    let renamed = renamed(&mut all);
    for (was, is) in renamed {
        let (then, now) = (old.place(was.place), new.place(is.place));
        let owner = Owner { of: &format!("procedure {}", is.name), before: "", old: &then, new: &now };
        let says = format!("was called {}; it is done the same way", was.name);
        comparison.changes.push(owner.change(Grade::Quiet, "procedure renamed", says));
    }
    for pair in all {
        let then = pair.0.and_then(|one| old.place(one.place));
        let now = pair.1.and_then(|one| new.place(one.place));
        let of = format!("procedure {}", pair.1.or(pair.0).map_or("", |one| one.name.as_str()));
        let owner = Owner { of: &of, before: "", old: &then, new: &now };
        match pair {
            (Some(one), Some(other)) => {
                let found = both(old, one, new, other, owner);
                match found {
                    Some(changes) => comparison.changes.extend(changes),
                    None => comparison.not_compared.push(of),
                }
                pairs.push((one, other));
            }
            (None, Some(_)) => {
                comparison.changes.push(owner.change(Grade::Middle, "procedure new", "new procedure"))
            }
            (Some(_), None) => {
                comparison.changes.push(owner.change(Grade::Loud, "procedure gone", "the procedure is gone"))
            }
            (None, None) => {}
        }
    }
    comparison.changes.extend(tests_of::waived(old, new));
    pairs
}

/// Puts together what has another name only: a procedure that is gone and one that is new, which are done the same way.
fn renamed<'a>(
    all: &mut Vec<(Option<&'a Compiled>, Option<&'a Compiled>)>,
) -> Vec<(&'a Compiled, &'a Compiled)> {
    let bodies = |one: &Compiled| one.graph.as_ref().map(bare);
    let gone: Vec<&Compiled> =
        all.iter().filter(|(_, now)| now.is_none()).filter_map(|(then, _)| *then).collect();
    let mut found = Vec::new();
    for was in gone {
        let Some(body) = bodies(was) else { continue };
        let mut like = all
            .iter_mut()
            .filter(|(then, now)| then.is_none() && now.and_then(bodies).as_ref() == Some(&body));
        if let Some(pair) = like.next() {
            pair.0 = Some(was);
            found.extend(pair.1.map(|is| (was, is)));
        }
    }
    all.retain(|(then, now)| {
        now.is_some() || !found.iter().any(|(was, _)| then.is_some_and(|then| std::ptr::eq(then, *was)))
    });
    found
}

/// What changed in one procedure; nothing where one of its texts has a hole.
fn both(old: Side, then: &Compiled, new: Side, now: &Compiled, owner: Owner) -> Option<Vec<Change>> {
    let (Some(before), Some(after)) = (&then.graph, &now.graph) else { return None };
    let mut changes = differences(&heading::facts(before), &heading::facts(after), owner);
    changes.extend(differences(&tests_of::facts(old, then), &tests_of::facts(new, now), owner));
    let one = lines(before, &then.places);
    let other = lines(after, &now.places);
    let matching = matched(&one, &other);
    let mut found = steps(&one, &other, &matching, owner);
    found.extend(flow((old, before, &one), (new, after, &other), &matching, owner));
    let other_unit = found.iter().any(|change| change.kind == "unit only");
    let all_quiet = found.iter().chain(&changes).all(|change| change.grade == Grade::Quiet);
    if all_quiet && !other_unit && !alike(before, after, old, new) {
        found.push(owner.change(
            Grade::Middle,
            "something else",
            "the compiled procedure is different in a way that this comparison has no words for: read both texts",
        ));
    }
    changes.extend(found);
    Some(changes)
}

/// Steps that are new, gone or in another order.
fn steps(old: &[Line], new: &[Line], matching: &Matching, owner: Owner) -> Vec<Change> {
    let names = |lines: &[Line]| {
        let mut names: Vec<String> = Vec::new();
        for line in lines.iter().filter(|line| line.in_step) {
            if !names.contains(&line.section) {
                names.push(line.section.clone());
            }
        }
        names
    };
    let (before, after) = (names(old), names(new));
    let mut changes = Vec::new();
    for name in before.iter().filter(|name| !after.contains(name)) {
        // A step whose lines are all found in one new step has a new name only.
        let to: Vec<&str> = matching.sections_after(old, new, name);
        match to.as_slice() {
            [to] if !before.iter().any(|name| name == to) => {
                changes.push(owner.change(
                    Grade::Quiet,
                    "step renamed",
                    format!("step {name} is called {to} now"),
                ));
            }
            _ => changes.push(owner.change(Grade::Loud, "step gone", format!("step {name} is gone"))),
        }
    }
    for name in after.iter().filter(|name| !before.contains(name)) {
        if !changes
            .iter()
            .any(|change| change.kind == "step renamed" && change.says.contains(&format!(" {name} now")))
        {
            changes.push(owner.change(Grade::Middle, "step new", format!("new step {name}")));
        }
    }
    let common = |names: &[String], others: &[String]| -> Vec<String> {
        names.iter().filter(|name| others.contains(name)).cloned().collect()
    };
    let (before, after) = (common(&before, &after), common(&after, &before));
    let stay: HashSet<usize> = crate::align::aligned(&before, &after, |one, other| one == other)
        .into_iter()
        .map(|(_, now)| now)
        .collect();
    for (_, name) in after.iter().enumerate().filter(|(place, _)| !stay.contains(place)) {
        changes.push(owner.change(
            Grade::Middle,
            "step moved",
            format!("step {name} stands at another place"),
        ));
    }
    changes
}

/// One state of a procedure: the side, its card, its lines.
type State<'a> = (Side<'a>, &'a Card, &'a [Line]);

/// What changed in the lines.
fn flow(
    old: (Side, &Card, &[Line]),
    new: (Side, &Card, &[Line]),
    matching: &Matching,
    owner: Owner,
) -> Vec<Change> {
    let mut changes = Vec::new();
    for (one, other) in &matching.pairs {
        let (Some(then), Some(now)) = (old.2.get(*one), new.2.get(*other)) else { continue };
        let place = (old.0.place(then.place), new.0.place(now.place));
        let before = format!("{}: ", now.title);
        let owner = Owner { old: &place.0, new: &place.1, before: &before, ..owner };
        if matching.moved.contains(one) {
            let grade = if then.gone == Grade::Loud { Grade::Loud } else { Grade::Middle };
            let says = if then.section == now.section {
                format!("moved within {}", now.where_words())
            } else {
                format!("moved from {} to {}", then.where_words(), now.where_words())
            };
            changes.push(owner.change(grade, "moved", says));
        }
        changes.extend(differences(&then.facts, &now.facts, owner));
        changes.extend(lines::bands(then, now, owner));
    }
    let gone = old.2.iter().enumerate().filter(|(place, _)| !matching.has_old(*place));
    for (_, line) in gone {
        let at = (old.0.place(line.place), None);
        let owner = Owner { old: &at.0, new: &at.1, ..owner };
        changes.push(owner.change(
            line.gone,
            line.kind_gone(),
            format!("gone from {}: {}", line.where_words(), line.title),
        ));
    }
    let come = new.2.iter().enumerate().filter(|(place, _)| !matching.has_new(*place));
    for (_, line) in come {
        let at = (None, new.0.place(line.place));
        let owner = Owner { old: &at.0, new: &at.1, ..owner };
        changes.push(owner.change(
            line.come,
            "new",
            format!("new in {}: {}", line.where_words(), line.title),
        ));
    }
    for (one, other) in ways::other_ways(old, new, matching) {
        let (Some(then), Some(now)) = (old.2.get(one), new.2.get(other)) else { continue };
        let place = (old.0.place(then.place), new.0.place(now.place));
        let owner = Owner { old: &place.0, new: &place.1, ..owner };
        changes.push(owner.change(
            Grade::Middle,
            "goes on otherwise",
            format!("after this it goes on otherwise than before: {}", now.title),
        ));
    }
    // What is written once and done at several places is told once.
    let mut told = HashSet::new();
    changes.retain(|change| told.insert((change.kind, change.old.clone(), change.new.clone())));
    changes
}

/// Whether the two cards are the same but for words, names and revision.
fn alike(old: &Card, new: &Card, before: Side, after: Side) -> bool {
    // What a declaration changed is told with the declaration.
    bare(old) == bare(new) || !crate::declared::all(before, after).is_empty()
}

/// A card without its words, names and revision.
fn bare(card: &Card) -> serde_json::Value {
    let mut card = card.clone();
    card.revision = None;
    card.procedure.clear();
    if let Some(own) = card.frames.first_mut() {
        own.procedure.clear();
    }
    let mut value = serde_json::to_value(&card).unwrap_or_default();
    without_words(&mut value);
    value
}

/// Takes out the members that are words for people, and names, which the lines are compared by.
fn without_words(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Object(members) => {
            for word in ["says", "text", "title", "label", "written", "why", "name", "source"] {
                members.remove(word);
            }
            members.values_mut().for_each(without_words);
        }
        serde_json::Value::Array(values) => values.iter_mut().for_each(without_words),
        _ => {}
    }
}
