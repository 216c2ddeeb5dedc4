//! Files held in memory for the tests of all abilities, with the cursor as `‸` in the first of them.

use super::{Disk, Shelf, View};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Files by name; what is used is found by its name alone.
#[derive(Debug)]
struct Held(BTreeMap<String, String>);

impl Disk for Held {
    fn read(&self, path: &str) -> Result<String, String> {
        self.0.get(path).cloned().ok_or_else(|| "there is no such file".to_owned())
    }

    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }

    fn settings(&self, _: &str, _: &dyn Fn(&str) -> bool) -> Option<String> {
        None
    }

    fn today(&self) -> Option<String> {
        None
    }
}

/// The first file checked with the others beside it, and the byte at which `‸` stood in it.
pub(super) fn view(files: &[(&str, &str)]) -> (View, usize) {
    let at = files.first().and_then(|(_, text)| text.find('‸')).unwrap_or_default();
    let held = files.iter().map(|(path, text)| ((*path).to_owned(), text.replacen('‸', "", 1)));
    let shelf = Shelf::new(Arc::new(Held(held.collect())));
    let path = files.first().map_or("", |(path, _)| path);
    (View::of(path, &shelf), at)
}

#[test]
fn a_file_is_checked_with_what_it_uses_and_its_findings_are_its_own() {
    let (view, _) = view(&[
        ("belt.dwell", "use \"vehicle.dwell\"\nprocedure p \"P\" { step s \"S\" { remove belt-guard } }"),
        ("vehicle.dwell", "item belt-guard: removable \"belt guard\""),
    ]);
    let told: Vec<String> = super::findings::remarks(&view)
        .iter()
        .map(|remark| {
            format!(
                "{} at {}",
                remark.rule,
                view.text().get(remark.span.start..remark.span.end).unwrap_or_default()
            )
        })
        .collect();
    assert_eq!(told, ["not-restored at remove belt-guard"]);
    assert_eq!(view.uses, ["vehicle.dwell"]);
}
