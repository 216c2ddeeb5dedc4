//! The three main procedures of the library, each broken once for each rule: the rule meant finds it, where a person would look.

pub(crate) mod table;
mod witness;

use std::collections::{BTreeMap, BTreeSet};

use crate::merle::{Merle, all_told, told};
use table::{Break, breaks};

/// The rules that every main procedure is broken for.
const RULES: [&str; 52] = [
    "kind-mismatch",
    "unit-unknown",
    "unit-missing",
    "unit-ambiguous",
    "look-alike-character",
    "band-reversed",
    "adjust-outside-check",
    "impossible-value",
    "band-empty",
    "bare-nominal",
    "adjust-equals-check",
    "limit-stated-twice",
    "variant-overlap",
    "variant-unknown",
    "tool-too-coarse",
    "reading-unused",
    "name-unused",
    "unreachable",
    "endless",
    "out-unhandled",
    "need-not-met",
    "need-lost",
    "wrong-state",
    "kept-broken",
    "not-restored",
    "no-recheck",
    "fastener-left-loose",
    "restored-untouched",
    "stale-reading",
    "as-found-lost",
    "no-way-out",
    "not-adjustable",
    "tool-cannot-measure",
    "tool-out-of-range",
    "tool-not-connected",
    "caution-missing",
    "caution-late",
    "caution-too-weak",
    "single-use-refitted",
    "variant-uncovered",
    "withdrawn",
    "not-found",
    "import-cycle",
    "limits-disagree",
    "limit-copied",
    "target-on-edge",
    "vague-limit",
    "number-in-prose",
    "part-not-listed",
    "steps-left-out",
    "sentence-long",
    "abbreviation-unexplained",
];

/// The rules that only some main procedures can be broken for.
const SOME: [(&str, &str); 10] = [
    ("settle-missing", "steering/front-toe.dwell"),
    ("side-missing", "cooling/pressure-test.dwell"),
    ("stored-energy", "cooling/pressure-test.dwell"),
    ("proof-missing", "charging/belt-and-charging.dwell"),
    ("proof-missing", "cooling/pressure-test.dwell"),
    ("never-passes", "cooling/pressure-test.dwell"),
    ("never-passes", "steering/front-toe.dwell"),
    ("sign-unsaid", "steering/front-toe.dwell"),
    ("approach-unsaid", "steering/front-toe.dwell"),
    ("name-says-difference", "cooling/pressure-test.dwell"),
];

/// The main procedures.
const PROCEDURES: [&str; 3] =
    ["charging/belt-and-charging.dwell", "cooling/pressure-test.dwell", "steering/front-toe.dwell"];

#[test]
fn every_rule_breaks_every_main_procedure_once() {
    let mut found: BTreeMap<(String, String), usize> = BTreeMap::new();
    for case in breaks() {
        *found.entry((case.rule, case.procedure)).or_default() += 1;
    }
    let asked: BTreeSet<(String, String)> = RULES
        .iter()
        .flat_map(|rule| PROCEDURES.iter().map(|procedure| ((*rule).to_owned(), (*procedure).to_owned())))
        .chain(SOME.iter().map(|(rule, procedure)| ((*rule).to_owned(), (*procedure).to_owned())))
        .collect();
    assert_eq!(found.keys().cloned().collect::<BTreeSet<_>>(), asked);
    assert!(found.values().all(|count| *count == 1), "one break each: {found:?}");
}

#[test]
fn the_rule_meant_finds_each_break_where_a_person_would_look() {
    let library = Merle::read();
    let wrong: Vec<String> = breaks().iter().filter_map(|case| missed(&library, case)).collect();
    assert!(
        wrong.is_empty(),
        "{} breaks are not found as they should be:\n\n{}",
        wrong.len(),
        wrong.join("\n\n")
    );
}

/// What is wrong with what was found; nothing where the rule finds the break on its line.
fn missed(library: &Merle, case: &Break) -> Option<String> {
    let broken = match case.made_in(library) {
        Ok(broken) => broken,
        Err(why) => return Some(format!("{}: {why}", case.title())),
    };
    let line = match case.line_in(&broken) {
        Ok(line) => line,
        Err(why) => return Some(format!("{}: {why}", case.title())),
    };
    let checked = broken.checked_at(&case.procedure);
    let hit = checked.findings.iter().any(|finding| {
        let file = &checked.program.files[finding.place.file];
        finding.rule == case.rule && file.path == case.on && file.lines.line(finding.place.span.start) == line
    });
    (!hit).then(|| {
        let same: Vec<String> = checked
            .findings
            .iter()
            .filter(|finding| finding.rule == case.rule)
            .map(|finding| told(&checked, finding))
            .collect();
        let said = if same.is_empty() {
            format!("not at all; instead:\n{}", all_told(&checked))
        } else {
            same.join("\n")
        };
        format!("{}: expected on {}:{}, found {said}", case.title(), case.on, line + 1)
    })
}
