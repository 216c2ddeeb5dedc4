//! Specs and tables of both states: each band for each combination of what it depends on.

mod band;
mod cases;

use crate::fact::{Fact, Owner, differences as facts_differ};
use crate::words::Words;
use crate::{Change, Grade, Side};
use dwell_check::model::{ResolvedBand, Rows, Spec};

pub(crate) use band::{Stated, band_change};

/// A spec of one state with the words of its model.
type Of<'a> = (&'a Spec, Words<'a>, Side<'a>);

/// `spec belt-tension`, `table rest-voltage`.
pub(crate) fn title(spec: &Spec) -> String {
    format!("{} {}", if spec.rows.is_some() { "table" } else { "spec" }, spec.name)
}

/// What changed in one spec.
pub(crate) fn differences(old: Of, new: Of, owner: Owner) -> Vec<Change> {
    let mut changes = facts_differ(&facts(old), &facts(new), owner);
    for (adjusting, then, now) in [(false, &old.0.check, &new.0.check), (true, &old.0.adjust, &new.0.adjust)]
    {
        for (which, then, now) in cases::beside((then, old.1), (now, new.1)) {
            let which = if which.is_empty() { String::new() } else { format!("{which}: ") };
            changes.extend(one(adjusting, &which, (then, old), (now, new), owner));
        }
    }
    stages(old, new, owner, &mut changes);
    if let (Some(then), Some(now)) = (&old.0.rows, &new.0.rows) {
        for (which, then, now) in rows((then, old.1), (now, new.1)) {
            changes.extend(one(false, &format!("{which}: "), (then, old), (now, new), owner));
        }
    }
    changes
}

/// One band of both states; one that is missing means that nothing is covered there.
fn one(
    adjusting: bool,
    which: &str,
    old: (Option<&ResolvedBand>, Of),
    new: (Option<&ResolvedBand>, Of),
    owner: Owner,
) -> Vec<Change> {
    let place = |band: Option<&ResolvedBand>, side: Side<'_>| band.and_then(|band| side.place(band.place));
    let then = place(old.0, old.1.2).or_else(|| owner.old.clone());
    let now = place(new.0, new.1.2).or_else(|| owner.new.clone());
    let owner = Owner { old: &then, new: &now, ..owner };
    let what = if adjusting { "band to set to" } else { "limit" };
    match (old.0, new.0) {
        (Some(one), Some(other)) => {
            let stated = |band: &ResolvedBand, spec: &Spec| Stated::of(band, spec.kind);
            band_change(&stated(one, old.1.0), &stated(other, new.1.0), adjusting)
                .into_iter()
                .map(|(grade, kind, says)| owner.change(grade, kind, format!("{which}{says}")))
                .collect()
        }
        (Some(one), None) => {
            vec![owner.change(
                Grade::Loud,
                "no longer covered",
                format!("{which}{what} {} gone", one.written),
            )]
        }
        (None, Some(other)) => {
            vec![owner.change(Grade::Middle, "newly covered", format!("{which}{what} {}", other.written))]
        }
        (None, None) => Vec::new(),
    }
}

fn facts((spec, words, _): Of) -> Vec<Fact> {
    let mut facts = vec![Fact::new("quantity", words.quantity(spec.quantity), Grade::Loud)];
    facts.extend(spec.source.as_ref().map(|source| Fact::new("source", source, Grade::Middle)));
    facts.extend(spec.condition.as_ref().map(|how| Fact::new("condition", how, Grade::Middle)));
    facts.extend(
        spec.withdrawn.as_ref().map(|day| Fact::guard("withdrawn", format!("on {}: {}", day.on, day.why))),
    );
    let times = |(persons, _)| if persons > 1 { "twice" } else { "once" };
    facts.extend(spec.signed.map(|signed| Fact::guard("signed", times(signed))));
    facts.extend(spec.not_adjustable.map(|_| Fact::new("not adjustable", "written", Grade::Middle)));
    if let Some(rows) = &spec.rows {
        facts.push(Fact::new("looked up by", words.quantity(rows.by), Grade::Middle));
        facts.push(Fact::new(
            "between rows",
            if rows.linear { "interpolated" } else { "refused" },
            Grade::Middle,
        ));
    }
    facts
}

fn stages(old: Of, new: Of, owner: Owner, changes: &mut Vec<Change>) {
    for place in 0..old.0.stages.len().max(new.0.stages.len()) {
        let (then, now) = (old.0.stages.get(place), new.0.stages.get(place));
        let owner_text = format!("stage {}: ", place + 1);
        if let (Some(one), Some(other)) = (then, now)
            && one.kind == other.kind
        {
            let found =
                band_change(&Stated::of(&one.limit, one.kind), &Stated::of(&other.limit, other.kind), false);
            let place = (old.2.place(one.limit.place), new.2.place(other.limit.place));
            let owner = Owner { old: &place.0, new: &place.1, ..owner };
            changes.extend(
                found
                    .into_iter()
                    .map(|(grade, kind, says)| owner.change(grade, kind, format!("{owner_text}{says}"))),
            );
            continue;
        }
        let written = |stage: Option<&dwell_check::model::SpecStage>| {
            stage.map_or("none", |stage| stage.limit.written.as_str()).to_owned()
        };
        changes.push(owner.change(
            Grade::Loud,
            "stages",
            format!("{owner_text}{} → {}", written(then), written(now)),
        ));
    }
}

/// The rows of both tables beside each other, by condition and key.
fn rows<'a>(
    old: (&'a Rows, Words<'a>),
    new: (&'a Rows, Words<'a>),
) -> Vec<(String, Option<&'a ResolvedBand>, Option<&'a ResolvedBand>)> {
    type Flat<'a> = Vec<(String, &'a ResolvedBand, &'a ResolvedBand)>;
    let flat = |(rows, words): (&'a Rows, Words<'a>)| -> Flat<'a> {
        let groups = rows.groups.iter();
        groups
            .flat_map(|(when, rows)| rows.iter().map(move |(key, band)| (words.when(when), key, band)))
            .collect()
    };
    let (before, after) = (flat(old), flat(new));
    let like = |one: &(String, &ResolvedBand, &ResolvedBand),
                other: &(String, &ResolvedBand, &ResolvedBand)| {
        one.0 == other.0 && one.1.band == other.1.band
    };
    let name = |row: &(String, &ResolvedBand, &ResolvedBand)| format!("row {}{}", row.1.written, row.0);
    let mut pairs: Vec<_> = after
        .iter()
        .map(|row| (name(row), before.iter().find(|then| like(then, row)).map(|then| then.2), Some(row.2)))
        .collect();
    let gone = before.iter().filter(|row| !after.iter().any(|now| like(row, now)));
    pairs.extend(gone.map(|row| (name(row), Some(row.2), None)));
    pairs
}
