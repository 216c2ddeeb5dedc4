//! Repairs of what was found: each as edits of files, for one place or for all that a program may make at once.

use super::view::View;
use dwell_check::finding::{Edit, Finding};
use dwell_syntax::tree::Span;

/// A repair that can be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repair {
    /// What it does, a few words that begin with a verb.
    pub title: String,
    /// Which findings it mends, by their places among those of the file.
    pub mends: Vec<usize>,
    /// The edits, none of which touches another.
    pub edits: Vec<Edit>,
}

/// The repairs of all findings that a range touches.
pub fn at(view: &View, range: Span) -> Vec<Repair> {
    let touched = view.findings().enumerate().filter(|(_, finding)| touches(finding.place.span, range));
    touched.filter_map(|(index, finding)| repair(index, finding)).collect()
}

/// All repairs that can be made at once, as one; the first of two that touch each other.
pub fn all(view: &View) -> Option<Repair> {
    let mut whole =
        Repair { title: "Mend all that has one right repair".into(), mends: Vec::new(), edits: Vec::new() };
    for (index, finding) in view.findings().enumerate() {
        let Some(repair) = repair(index, finding) else { continue };
        if repair.edits.iter().all(|edit| whole.edits.iter().all(|made| apart(made, edit))) {
            whole.edits.extend(repair.edits);
            whole.mends.push(index);
        }
    }
    whole.edits.sort_by_key(|edit| edit.place);
    (!whole.edits.is_empty()).then_some(whole)
}

fn repair(index: usize, finding: &Finding) -> Option<Repair> {
    let fix = finding.fix.as_ref()?;
    Some(Repair { title: capital(&fix.title), mends: vec![index], edits: fix.edits.clone() })
}

/// Whether two edits leave each other alone.
fn apart(one: &Edit, other: &Edit) -> bool {
    let (a, b) = (one.place, other.place);
    a.file != b.file || a.span.end < b.span.start || b.span.end < a.span.start
}

fn touches(one: Span, other: Span) -> bool {
    one.start <= other.end && other.start <= one.end
}

/// The words with a capital first letter.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
