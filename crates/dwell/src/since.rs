//! Only what a change brought: the findings that a text has not had at an earlier revision.

use crate::work::Work;
use anyhow::anyhow;
use dwell_check::check::{Checked, check_with};
use dwell_check::finding::Finding;
use dwell_check::options::Options;
use dwell_check::program::Sources;
use dwell_report::fingerprint::fingerprint;
use dwell_workspace::{Folder, Past};
use std::collections::HashMap;
use std::env;

/// Leaves in `checked` the findings, and the waived ones, that the revision does not have. Each old finding answers for one
/// that is like it: first for one of the same file, under its old name if it was renamed, then for one that moved to
/// another file.
///
/// # Errors
/// There is no git, no repository, or no such revision.
pub(crate) fn since(work: &mut Work, revision: &str) -> anyhow::Result<()> {
    let Work { checked, options, folder, .. } = work;
    let past = Past::at(&env::current_dir()?, revision).map_err(|why| anyhow!("{why}"))?;
    let moved = past.moved().map_err(|why| anyhow!("{why}"))?;
    let name_then = |path: &str| moved.renamed.get(path).map_or(path, String::as_str).to_owned();
    let now = checked.program.files.iter().filter(|file| file.root);
    let mut roots: Vec<String> =
        now.map(|file| name_then(&file.path)).filter(|path| past.has(path)).collect();
    roots.extend(moved.gone.iter().cloned());
    roots.sort();
    roots.dedup();
    // What is wrong in the settings is of now, and is told.
    let options = Options { settings: None, ..options.clone() };
    let then = check_with(&roots, &Then { past: &past, folder }, &options);
    let (mut standing, mut waived) = (Known::default(), Known::default());
    then.findings.iter().for_each(|finding| standing.add(&then, finding));
    then.waived.iter().for_each(|one| waived.add(&then, &one.finding));
    let marks = |finding: &Finding| {
        let file = checked.program.files.get(finding.place.file);
        let path = file.map(|file| name_then(&file.path)).unwrap_or_default();
        (path, fingerprint(&checked.program, finding))
    };
    let of_findings = standing.new_ones(checked.findings.iter().map(marks).collect());
    let of_waived = waived.new_ones(checked.waived.iter().map(|one| marks(&one.finding)).collect());
    keep(&mut checked.findings, &of_findings);
    keep(&mut checked.waived, &of_waived);
    Ok(())
}

/// The texts of then, where the settings of now are: what a change of the texts brought, and not one of the settings.
struct Then<'a> {
    past: &'a Past,
    folder: &'a Folder,
}

impl Sources for Then<'_> {
    fn read(&self, path: &str) -> Result<String, String> {
        self.past.read(path)
    }

    fn join(&self, from: &str, used: &str) -> String {
        self.past.join(from, used)
    }

    fn home(&self, path: &str) -> String {
        self.folder.home(path)
    }
}

/// How many findings there were of each mark, a path and a fingerprint.
#[derive(Default)]
struct Known(HashMap<String, HashMap<String, usize>>);

impl Known {
    fn add(&mut self, then: &Checked, finding: &Finding) {
        let path = then.program.files.get(finding.place.file).map_or("", |file| file.path.as_str());
        let print = fingerprint(&then.program, finding);
        *self.0.entry(print).or_default().entry(path.to_owned()).or_default() += 1;
    }

    /// For each mark whether it is new.
    fn new_ones(mut self, marks: Vec<(String, String)>) -> Vec<bool> {
        let mut new: Vec<bool> =
            marks.iter().map(|(path, print)| !self.takes(print, |known| known == path)).collect();
        for ((_, print), new) in marks.iter().zip(&mut new).filter(|(_, new)| **new) {
            *new = !self.takes(print, |_| true);
        }
        new
    }

    /// Takes one away that is like it, in a file that `fits`.
    fn takes(&mut self, print: &str, fits: impl Fn(&str) -> bool) -> bool {
        let Some(paths) = self.0.get_mut(print) else { return false };
        match paths.iter_mut().find(|(path, count)| **count > 0 && fits(path)) {
            Some((_, count)) => {
                *count -= 1;
                true
            }
            None => false,
        }
    }
}

/// Keeps those that are marked.
fn keep<T>(list: &mut Vec<T>, marked: &[bool]) {
    let mut marked = marked.iter();
    list.retain(|_| marked.next().copied().unwrap_or(false));
}
