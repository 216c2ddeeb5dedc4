//! Files whose text changed and whose meaning did not.

use crate::pairs::paired;
use crate::{Change, Grade, Side};

/// Adds a quiet change for each file that is written otherwise and of which nothing else is told.
pub(crate) fn only_layout(old: Side, new: Side, changes: &mut Vec<Change>) {
    let list = |side: Side| -> Vec<usize> {
        let files = side.checked.program.files.iter().enumerate().skip(1);
        files.map(|(place, _)| place).collect()
    };
    let (before, after) = (list(old), list(new));
    let name = |side: Side<'_>, file: usize| (side.relative(file).to_owned(), side.relative(file).to_owned());
    for pair in paired(&before, &after, (|file| name(old, *file), |file| name(new, *file))) {
        let (Some(then), Some(now)) = pair else { continue };
        let (Some(then), Some(now)) =
            (old.checked.program.files.get(*then), new.checked.program.files.get(*now))
        else {
            continue;
        };
        let told = |path: &str, other: &str| {
            changes.iter().any(|change| {
                let at = |place: &Option<crate::Where>, path: &str| {
                    place.as_ref().is_some_and(|at| at.path == path)
                };
                at(&change.old, path) || at(&change.new, other)
            })
        };
        if then.text != now.text && !told(&then.path, &now.path) {
            changes.push(Change {
                grade: Grade::Quiet,
                of: format!("file {}", now.path),
                kind: "layout",
                says: "only comments, order or how it is set; it means the same".to_owned(),
                old: None,
                new: None,
            });
        }
    }
}
