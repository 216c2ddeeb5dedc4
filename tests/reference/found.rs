//! The page of what is found: each kind of fault once, each rule somewhere, and every row says what becomes of its fault.

use std::collections::BTreeSet;

use dwell_check::rules;

use super::{grammar, read};

/// The groups of the page, and how many kinds of fault each has.
const GROUPS: [(char, usize); 12] = [
    ('U', 15),
    ('T', 16),
    ('S', 16),
    ('E', 12),
    ('B', 12),
    ('R', 10),
    ('H', 11),
    ('P', 7),
    ('V', 8),
    ('X', 10),
    ('D', 9),
    ('L', 10),
];

/// How a row begins that names no rule.
const WITHOUT_A_RULE: [&str; 4] = ["cannot be written: ", "at the vehicle: ", "at the desk: ", "not found: "];

fn page() -> String {
    read(&grammar("reference/what-is-found.md"))
}

/// The rows of the tables: id, grade, fault, what becomes of it.
fn rows(page: &str) -> Vec<[&str; 4]> {
    let lines = page.lines().filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |"));
    let cells = lines.filter_map(|line| <[&str; 4]>::try_from(line.split(" | ").collect::<Vec<_>>()).ok());
    cells.filter(|[id, ..]| id.starts_with(|c: char| c.is_ascii_uppercase())).collect()
}

/// The rules that a text links to, each link checked.
fn linked(text: &str) -> BTreeSet<&str> {
    let parts = text.split("](../RULES.md#").collect::<Vec<_>>();
    let names = parts.windows(2).map(|pair| {
        let name = pair[0].rsplit('[').next().unwrap();
        let anchor = pair[1].split(')').next().unwrap();
        assert_eq!(name, anchor, "a link says one rule and leads to another");
        name
    });
    names.collect()
}

#[test]
fn every_kind_of_fault_has_its_row() {
    let page = page();
    let ids: Vec<String> = rows(&page).iter().map(|[id, ..]| (*id).to_owned()).collect();
    let asked: Vec<String> = GROUPS
        .iter()
        .flat_map(|(group, count)| (1..=*count).map(move |one| format!("{group}{one}")))
        .collect();
    assert_eq!(asked.len(), 136);
    assert_eq!(ids, asked);
}

#[test]
fn every_rule_named_is_a_rule_and_every_rule_is_named() {
    let page = page();
    let named = linked(&page);
    let known: BTreeSet<&str> = rules::all().iter().map(|rule| rule.name).collect();
    assert_eq!(named, known, "the rules that the page links to, and those that there are");
    let reference = read(&grammar("RULES.md"));
    for name in named {
        assert!(reference.contains(&format!("\n## {name}\n")), "RULES.md has no heading {name}");
    }
}

#[test]
fn every_row_says_what_becomes_of_its_fault() {
    let page = page();
    for [id, grade, fault, becomes] in rows(&page) {
        assert!(["A", "B", "C", "D"].contains(&grade), "{id} is of grade {grade}");
        assert!(fault.len() > 10, "{id} says nothing of its fault");
        let says = WITHOUT_A_RULE.iter().any(|begin| becomes.starts_with(begin));
        let found = becomes.starts_with('[') && !linked(becomes).is_empty();
        assert!(says != found, "{id}: a rule, or one of {WITHOUT_A_RULE:?}, and not both: {becomes}");
    }
}
