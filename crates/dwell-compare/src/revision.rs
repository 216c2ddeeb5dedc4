//! Revisions against what really changed: a change without a new number, a number without a change or a reason.

use crate::fact::Owner;
use crate::procedure::{Pair, limits_used};
use crate::{Change, Grade, Side};
use dwell_card::Revision;

/// Adds what is wrong with the revision of each procedure that both states have.
pub(crate) fn all(old: Side, new: Side, pairs: &[Pair], changes: &mut Vec<Change>) {
    let mut found = Vec::new();
    for (then, now) in pairs {
        let (Some(before), Some(after)) = (&then.graph, &now.graph) else { continue };
        let of = format!("procedure {}", now.name);
        let used = limits_used(after);
        let concerns = |change: &&Change| {
            let spec = change.of.strip_prefix("spec ").or(change.of.strip_prefix("table "));
            change.grade < Grade::Quiet && (change.of == of || spec.is_some_and(|spec| used.contains(spec)))
        };
        let meaning = changes.iter().find(concerns);
        let places = (old.place(then.place), new.place(now.place));
        let owner = Owner { of: &of, before: "", old: &places.0, new: &places.1 };
        found.extend(one(before.revision.as_ref(), after.revision.as_ref(), meaning, owner));
    }
    changes.extend(found);
}

fn one(
    old: Option<&Revision>,
    new: Option<&Revision>,
    meaning: Option<&Change>,
    owner: Owner,
) -> Option<Change> {
    let because = |change: &Change| format!(" ({}: {})", change.of, change.kind);
    match (old, new) {
        (None, None) => meaning.map(|change| {
            owner.change(
                Grade::Middle,
                "change not marked",
                format!("the meaning changed and there is no `revision` line to say so{}", because(change)),
            )
        }),
        (Some(then), None) => Some(owner.change(
            Grade::Middle,
            "revision gone",
            format!("revision {} of {} is gone", then.number, then.date),
        )),
        (None, Some(now)) => {
            Some(owner.change(Grade::Quiet, "revision", format!("revision {} is new", now.number)))
        }
        (Some(then), Some(now)) if now.number < then.number || now.date < then.date => Some(owner.change(
            Grade::Middle,
            "revision goes back",
            format!("revision {} of {} → {} of {}", then.number, then.date, now.number, now.date),
        )),
        (Some(then), Some(now)) if then.number == now.number => match meaning {
            Some(change) => Some(owner.change(
                Grade::Middle,
                "change not marked",
                format!("the meaning changed and the revision is still {}{}", now.number, because(change)),
            )),
            None => (then != now).then(|| {
                owner.change(
                    Grade::Quiet,
                    "revision",
                    format!("day or reason of revision {} changed", now.number),
                )
            }),
        },
        (Some(then), Some(now)) => {
            let says = format!("revision {} → {}", then.number, now.number);
            let no_reason = now.why.as_ref().is_none_or(|why| Some(why) == then.why.as_ref());
            Some(match (meaning, no_reason) {
                (Some(_), true) => owner.change(
                    Grade::Middle,
                    "reason missing",
                    format!("{says}, without a reason of its own"),
                ),
                (Some(_), false) => owner.change(
                    Grade::Quiet,
                    "revision",
                    format!("{says}: {}", now.why.as_deref().unwrap_or_default()),
                ),
                (None, _) => {
                    owner.change(Grade::Quiet, "revision", format!("{says}, and nothing of meaning changed"))
                }
            })
        }
    }
}
