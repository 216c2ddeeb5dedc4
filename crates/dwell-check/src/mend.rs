//! The repairs of a check made in the texts: those that do not touch each other at once, then again, until none is left.

use crate::check::{Checked, check_with};
use crate::finding::{Edit, Finding, Level};
use crate::options::Options;
use crate::program::{Program, Sources};
use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap, HashSet};

/// The most passes: each mends something, and some repairs make others possible.
const MOST_PASSES: usize = 50;

/// What was mended.
#[derive(Clone, Debug)]
pub struct Mended {
    /// The texts that changed, by path: as they were, and as they are now.
    pub texts: BTreeMap<String, (String, String)>,
    /// What was done, in order.
    pub done: Vec<Done>,
    /// What is found afterwards.
    pub checked: Checked,
}

/// One repair that was made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// The rule of the finding.
    pub rule: &'static str,
    /// The file of the finding.
    pub path: String,
    /// What was done, a few words that begin with a verb.
    pub title: String,
}

/// Checks, makes the repairs that it has, and checks again, until there is nothing to repair. Only the files that were
/// asked for and the settings are changed. In a file that cannot be read in full, only what cannot be read is mended. A
/// repair after which more would be wrong than before is not made.
pub fn mend(roots: &[String], sources: &dyn Sources, options: impl Fn(&dyn Sources) -> Options) -> Mended {
    let changed = Changed { under: sources, texts: RefCell::new(BTreeMap::new()) };
    let look = || check_with(roots, &changed, &options(&changed));
    let mut checked = look();
    let mut done = Vec::new();
    let mut refused: HashSet<(String, String)> = HashSet::new();
    for _ in 0..MOST_PASSES {
        let ready: Vec<&Finding> = checked
            .findings
            .iter()
            .filter(|finding| may_be_mended(&checked.program, finding))
            .filter(|finding| !refused.contains(&known_by(&checked.program, finding)))
            .collect();
        let together = apart(&ready);
        if together.is_empty() {
            break;
        }
        let before = changed.texts.borrow().clone();
        changed.make(&checked.program, &together);
        let after = look();
        if is_better(&checked, &after) {
            done.extend(together.iter().filter_map(|finding| told(&checked.program, finding)));
            checked = after;
            continue;
        }
        changed.texts.replace(before.clone());
        // Together they make something worse: the first that does it no harm alone, and the others are left.
        let mut made = None;
        for finding in together {
            changed.make(&checked.program, &[finding]);
            let after = look();
            if is_better(&checked, &after) {
                done.extend(told(&checked.program, finding));
                made = Some(after);
                break;
            }
            changed.texts.replace(before.clone());
            refused.insert(known_by(&checked.program, finding));
        }
        if let Some(after) = made {
            checked = after;
        }
    }
    let texts = changed.texts.into_inner().into_iter().filter_map(|(path, now)| {
        let was = sources.read(&path).ok()?;
        (was != now).then_some((path, (was, now)))
    });
    Mended { texts: texts.collect(), done, checked }
}

/// The texts with what was changed in them.
struct Changed<'a> {
    under: &'a dyn Sources,
    texts: RefCell<BTreeMap<String, String>>,
}

impl Sources for Changed<'_> {
    fn read(&self, path: &str) -> Result<String, String> {
        match self.texts.borrow().get(path) {
            Some(text) => Ok(text.clone()),
            None => self.under.read(path),
        }
    }

    fn join(&self, from: &str, used: &str) -> String {
        self.under.join(from, used)
    }

    fn home(&self, path: &str) -> String {
        self.under.home(path)
    }
}

impl Changed<'_> {
    /// Makes repairs that do not touch each other.
    fn make(&self, program: &Program, findings: &[&Finding]) {
        let mut edits: Vec<&Edit> =
            findings.iter().filter_map(|finding| finding.fix.as_ref()).flat_map(|fix| &fix.edits).collect();
        edits.sort_by_key(|edit| edit.place);
        let mut texts = self.texts.borrow_mut();
        for edit in edits.into_iter().rev() {
            let Some(file) = program.files.get(edit.place.file) else { continue };
            let text = texts.entry(file.path.clone()).or_insert_with(|| file.text.clone());
            let span = edit.place.span;
            if text.get(span.start..span.end).is_some() {
                text.replace_range(span.start..span.end, &edit.replacement);
            }
        }
    }
}

/// Whether a finding has a repair that may be made here.
fn may_be_mended(program: &Program, finding: &Finding) -> bool {
    let Some(fix) = &finding.fix else { return false };
    let is_slip = program.files.get(finding.place.file).is_some_and(|file| {
        file.slips.iter().any(|slip| slip.rule == finding.rule && slip.span == finding.place.span)
    });
    !fix.edits.is_empty()
        && fix.edits.iter().all(|edit| {
            let file = program.files.get(edit.place.file);
            file.is_some_and(|file| {
                let own = is_slip && edit.place.file == finding.place.file;
                (file.root && (own || file.slips.is_empty())) || (own && finding.rule == "settings")
            })
        })
}

/// Of these findings as many of the first as do not touch each other.
fn apart<'f>(findings: &[&'f Finding]) -> Vec<&'f Finding> {
    let mut taken: Vec<&Edit> = Vec::new();
    let mut together = Vec::new();
    for finding in findings {
        let Some(fix) = &finding.fix else { continue };
        let free = fix.edits.iter().all(|edit| !taken.iter().any(|other| touch(edit, other)));
        if free {
            taken.extend(&fix.edits);
            together.push(*finding);
        }
    }
    together
}

/// Whether two edits meet; also where one ends at the place where the other begins.
fn touch(one: &Edit, other: &Edit) -> bool {
    one.place.file == other.place.file
        && one.place.span.start <= other.place.span.end
        && other.place.span.start <= one.place.span.end
}

/// Whether it is better now: more can be read, or more procedures can be walked through (then more may be seen that is
/// wrong), or else no rule has more errors than before, and there are fewer errors or fewer findings.
fn is_better(before: &Checked, after: &Checked) -> bool {
    let slips = |checked: &Checked| checked.program.files.iter().map(|file| file.slips.len()).sum::<usize>();
    let unwalked =
        |checked: &Checked| checked.procedures.iter().filter(|compiled| compiled.graph.is_none()).count();
    let hidden: [&dyn Fn(&Checked) -> usize; 2] = [&slips, &unwalked];
    for hidden in hidden {
        if hidden(after) != hidden(before) {
            return hidden(after) < hidden(before);
        }
    }
    let (was, is) = (errors(before), errors(after));
    let worse = is.iter().any(|(rule, count)| *count > was.get(rule).copied().unwrap_or(0));
    let fewer = is.values().sum::<usize>() < was.values().sum::<usize>();
    !worse && (fewer || after.findings.len() < before.findings.len())
}

/// How many errors each rule has.
fn errors(checked: &Checked) -> HashMap<&'static str, usize> {
    let mut counts = HashMap::new();
    for finding in checked.findings.iter().filter(|finding| finding.level == Level::Error) {
        *counts.entry(finding.rule).or_default() += 1;
    }
    counts
}

/// What a finding is known by from one pass to the next: its rule, and what it says of which file.
fn known_by(program: &Program, finding: &Finding) -> (String, String) {
    let path = program.files.get(finding.place.file).map_or("", |file| file.path.as_str());
    let fix = finding.fix.as_ref().map_or("", |fix| fix.title.as_str());
    (format!("{path} {}", finding.rule), format!("{} {fix}", finding.message))
}

fn told(program: &Program, finding: &Finding) -> Option<Done> {
    let file = program.files.get(finding.place.file)?;
    let title = finding.fix.as_ref()?.title.clone();
    Some(Done { rule: finding.rule, path: file.path.clone(), title })
}
