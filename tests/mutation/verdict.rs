//! Whether the rule meant finds a break, and near enough.

use dwell_check::check::check;
use dwell_check::finding::Finding;
use dwell_check::program::Sources;
use dwell_syntax::tree::{DeclarationKind, Span};

use super::broken::{Broken, Near};
use super::ground::Ground;
use crate::merle::told;

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-04-12T09:05:00+02:00";

/// What came of one break.
pub(super) enum Verdict {
    /// The rule meant found it.
    Found,
    /// It did not; what was found instead, in words.
    Missed(String),
}

/// Checks the broken library.
pub(super) fn verdict(ground: &Ground, rule: &str, broken: &Broken) -> Verdict {
    let (library, touched) = broken.made_in(ground);
    let roots = if broken.roots.is_empty() { roots(ground, broken) } else { broken.roots.clone() };
    let checked = check(&roots, &library);
    let near = |finding: &Finding| {
        let file = &checked.program.files[finding.place.file];
        let at = finding.place.span.start;
        match broken.near {
            Near::Use => true,
            _ if file.path != broken.file => false,
            Near::Declaration => {
                let mut all = file.tree.declarations.iter().map(|declaration| declaration.span);
                let holds = |span: &Span, at: usize| span.start <= at && at <= span.end;
                all.any(|span| holds(&span, broken.start()) && holds(&span, at))
            }
            Near::Line => touched.iter().any(|touched| touched.abs_diff(file.lines.line(at)) <= 1),
        }
    };
    // What only carrying out the cases can find is found by carrying them out.
    let tested = match rule {
        "case-fails" | "branch-without-case" => dwell_trial::test(&checked, None, AT).findings,
        _ => Vec::new(),
    };
    let findings = || checked.findings.iter().chain(&tested);
    let same: Vec<&Finding> = findings().filter(|finding| finding.rule == rule).collect();
    if same.iter().any(|finding| near(finding)) {
        return Verdict::Found;
    }
    let instead: Vec<String> = findings().map(|finding| told(&checked, finding)).collect();
    Verdict::Missed(match instead.as_slice() {
        [] => "nothing is found".to_owned(),
        all => format!("instead: {}", all.iter().take(4).cloned().collect::<Vec<_>>().join("\n    ")),
    })
}

/// What has to be checked to see a break: its file, and where it is seen only in use, some that use the file.
fn roots(ground: &Ground, broken: &Broken) -> Vec<String> {
    let users = ground.sources.iter().filter(|source| {
        source.tree.declarations.iter().any(|declaration| match &declaration.kind {
            DeclarationKind::Use(used) => ground.merle.join(&source.path, &used.text) == broken.file,
            _ => false,
        })
    });
    let users = users.map(|source| source.path.clone()).take(if broken.near == Near::Use { 2 } else { 0 });
    std::iter::once(broken.file.clone()).chain(users).collect()
}
