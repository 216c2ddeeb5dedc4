//! Walks that are kept from one check to the next: a procedure that means what it meant is not walked again.
//!
//! Only walks that found nothing wrong are kept. What comes of such a walk hangs on the lowered procedure alone, but for the
//! places of its texts, and those come in where the findings are put into words, which is done anew.

use super::reachable::Reachable;
use super::report::Report;
use super::vehicles::Vehicles;
use super::{Walked, walked_alike};
use crate::lower::Lowered;
use std::collections::{HashMap, HashSet};
use std::sync::{Arc, Mutex, PoisonError};

/// How many checks a walk is kept for that none of them asks for.
const IDLE: usize = 8;

/// The walks of one file's procedures.
#[derive(Debug, Default)]
pub struct Walks(Mutex<Kept>);

#[derive(Debug, Default)]
struct Kept {
    /// How many checks there were.
    checks: usize,
    /// By the name of the procedure.
    walks: HashMap<String, Vec<Arc<Walk>>>,
    /// The check that last asked for a walk, by the walk's own number.
    asked: HashMap<usize, usize>,
    /// The number of the next walk.
    next: usize,
}

/// What a walk that found nothing came to.
#[derive(Debug)]
struct Walk {
    number: usize,
    lowered: Lowered,
    worked: HashSet<usize>,
    reached: Reachable,
    complete: bool,
    passes: bool,
}

impl Walks {
    /// A check begins: walks that nobody has asked for in a while are let go.
    pub fn begin(&self) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.checks += 1;
        let Kept { checks, walks, asked, .. } = &mut *kept;
        asked.retain(|_, last| *last + IDLE > *checks);
        for walks in walks.values_mut() {
            walks.retain(|walk| asked.contains_key(&walk.number));
        }
        walks.retain(|_, walks| !walks.is_empty());
    }

    /// The walk through a procedure: the one that was kept, or made now.
    pub(super) fn walked(&self, lowered: &Lowered) -> Walked {
        if let Some(walk) = self.known(lowered) {
            return Walked {
                found: Report::nothing(walk.worked.clone()),
                reached: walk.reached.clone(),
                // Only who is told of something is told for which vehicles.
                all: Vehicles::all(std::iter::empty()),
                complete: walk.complete,
                passes: walk.passes,
            };
        }
        let walked = walked_alike(lowered);
        if walked.found.is_empty() {
            self.keep(lowered, &walked);
        }
        walked
    }

    fn known(&self, lowered: &Lowered) -> Option<Arc<Walk>> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let walks = kept.walks.get(&lowered.card.procedure).cloned().unwrap_or_default();
        drop(kept);
        let walk = walks.into_iter().find(|walk| walk.lowered.means_what(lowered))?;
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let now = kept.checks;
        kept.asked.insert(walk.number, now);
        Some(walk)
    }

    fn keep(&self, lowered: &Lowered, walked: &Walked) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let (number, now) = (kept.next, kept.checks);
        kept.next += 1;
        kept.asked.insert(number, now);
        let walk = Walk {
            number,
            lowered: lowered.clone(),
            worked: walked.found.all_worked().clone(),
            reached: walked.reached.clone(),
            complete: walked.complete,
            passes: walked.passes,
        };
        kept.walks.entry(lowered.card.procedure.clone()).or_default().push(Arc::new(walk));
    }
}

#[cfg(test)]
mod tests {
    use super::Walks;
    use crate::check::{Memory, check_remembering, check_with};
    use crate::options::Options;
    use crate::texts::Texts;

    const TEXT: &str = r#"item guard: removable "guard"
item cover: removable "cover"
procedure one "One" {
    step s "S" { remove guard }
    restore { refit guard
        refit cover }
}
procedure two "Two" {
    step t "T" { remove cover
        remove guard }
    restore { refit cover }
}
"#;

    #[test]
    fn a_check_that_remembers_finds_what_a_fresh_one_finds() {
        let memory = Memory::default();
        let roots = ["a.dwell".to_owned()];
        let edits: [&dyn Fn(&str) -> String; 7] = [
            &str::to_owned,
            &|text| format!("# Above.\n\n{text}"),
            &|text| text.replace("        remove guard }", "}"),
            &|text| {
                text.replace("{ remove guard }\n    restore", "{ remove guard\nrefit guard }\n    restore")
            },
            &|text| text.replace("        refit cover }", "        refit cover\nrefit cover }"),
            &|text| text.replace("item guard: removable", "item guard: hose"),
            &|text| text.replace(r#"removable "cover""#, r#"removable "lid""#),
        ];
        for edit in edits.iter().chain(&edits) {
            let text = edit(TEXT);
            let texts = Texts(&[("a.dwell", &text)]);
            let fresh = check_with(&roots, &texts, &Options::default());
            let kept = check_remembering(&roots, &texts, &Options::default(), &memory, &|| true).unwrap();
            assert_eq!(fresh.findings, kept.findings);
            let procedures = |checked: &crate::check::Checked| format!("{:?}", checked.procedures);
            assert_eq!(procedures(&fresh), procedures(&kept));
        }
        let Walks(kept) = &memory.walks;
        assert!(kept.lock().unwrap().walks.contains_key("one"), "sound procedures are kept");
    }
}
