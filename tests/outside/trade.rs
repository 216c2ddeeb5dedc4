//! Facts of the trade as check values, each a small procedure of its own. Common practice, no source: no standard says them,
//! every workshop knows them.
//!
//! Beside each procedure stands a file of what must come of it: `run RESULT: reading value; …` is executed, `told READING: words`
//! must be said, and a `break RULE` is one edit (`was`, `is`) that the rule must find.

use std::collections::BTreeSet;
use std::fs;

use dwell_card::Card;
use dwell_check::check::{Checked, check};
use dwell_check::program::Sources;
use dwell_record::{Outcome, What};
use dwell_run::{Row, Rows, Session, drive};

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-05-02T09:05:00+02:00";

/// One text in the place of a file.
struct One<'a>(&'a str);

impl Sources for One<'_> {
    fn read(&self, _: &str) -> Result<String, String> {
        Ok(self.0.to_owned())
    }
    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }
}

/// A fact: its name, the procedure, and what must come of it.
struct Fact {
    name: String,
    text: String,
    expected: String,
}

fn facts() -> Vec<Fact> {
    let folder = crate::root().join("tests/outside/trade");
    let mut all = Vec::new();
    for entry in fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "dwell") {
            all.push(Fact {
                name: path.file_stem().unwrap().to_string_lossy().into_owned(),
                text: fs::read_to_string(&path).unwrap(),
                expected: fs::read_to_string(path.with_extension("txt")).unwrap(),
            });
        }
    }
    all.sort_by(|one, other| one.name.cmp(&other.name));
    assert!(all.len() >= 8, "the facts are not where they should be");
    all
}

fn checked(text: &str) -> Checked {
    check(&["fact.dwell".to_owned()], &One(text))
}

fn card(fact: &Fact) -> Card {
    let checked = checked(&fact.text);
    let named = fact.expected.lines().find_map(|line| line.strip_prefix("procedure "));
    let compiled = checked
        .procedures
        .iter()
        .find(|compiled| named.is_none_or(|name| compiled.name == name))
        .unwrap_or_else(|| panic!("{}: the procedure is not there", fact.name));
    compiled.card.clone().unwrap_or_else(|| panic!("{}: no card", fact.name))
}

/// `pressure 3.7 bar`, `current (1, 2) mA`, `faults yes`: the rows of one reading.
fn rows((list, said): (usize, &str)) -> Vec<Row> {
    let (name, value) = said.trim().split_once(' ').unwrap();
    let row = |value: &str, unit: Option<&str>| Row {
        name: name.to_owned(),
        place: None,
        value: value.trim().to_owned(),
        unit: unit.map(|unit| unit.trim().to_owned()),
        // On, beside and far outside a limit on purpose: nothing is asked back.
        kept: true,
        ..Row::default()
    };
    if let Some((series, unit)) = value.strip_prefix('(').and_then(|rest| rest.split_once(')')) {
        let list = Some(list);
        return series.split(',').map(|value| Row { list, ..row(value, Some(unit)) }).collect();
    }
    match value.rsplit_once(' ') {
        Some((number, unit)) if unit != "reading" => vec![row(number, Some(unit))],
        _ => vec![row(value, None)],
    }
}

fn run(card: &Card, readings: &str) -> Result<(Outcome, Vec<String>), String> {
    let mut session = Session::start(card.clone(), &[], AT).map_err(|why| why.to_string())?;
    let mut all = Rows::new(readings.split(';').enumerate().flat_map(rows).collect());
    let result = drive(&mut session, &mut all, &mut || AT.to_owned(), &mut |_| ());
    let result = result.map_err(|why| why.to_string())?;
    if !all.left_over().is_empty() {
        return Err("a reading that nobody asked for".to_owned());
    }
    let told = session
        .events()
        .iter()
        .filter_map(|event| match &event.what {
            What::Cause(cause) => cause.text.clone(),
            What::Ended(ended) => ended.text.clone(),
            _ => None,
        })
        .collect();
    Ok((result, told))
}

#[test]
fn facts_check_clean() {
    for fact in facts() {
        let said: Vec<String> = checked(&fact.text)
            .findings
            .iter()
            .map(|found| format!("{}: {}", found.rule, found.message))
            .collect();
        assert!(said.is_empty(), "{}: {said:#?}", fact.name);
        assert!(
            fact.text.starts_with("# Common practice, no source"),
            "{} does not say where it is from",
            fact.name
        );
    }
}

#[test]
fn values_on_beside_and_outside_each_limit_come_out_as_the_trade_says() {
    let mut wrong = Vec::new();
    let mut run_all = 0;
    for fact in facts() {
        let card = card(&fact);
        for line in fact.expected.lines() {
            let came = |readings: &str| run(&card, readings);
            if let Some((word, readings)) = line.strip_prefix("run ").and_then(|rest| rest.split_once(':')) {
                run_all += 1;
                let wanted = match word {
                    "passed" => Outcome::Passed,
                    "adjusted" => Outcome::AdjustedAndPassed,
                    "failed" => Outcome::Failed,
                    "unfinished" => Outcome::Unfinished,
                    other => panic!("{}: nobody ends `{other}`", fact.name),
                };
                match came(readings) {
                    Ok((result, _)) if result == wanted => {}
                    other => wrong.push(format!("{}: {line}\n    {other:?}", fact.name)),
                }
            } else if let Some((readings, words)) =
                line.strip_prefix("told ").and_then(|rest| rest.split_once(": "))
            {
                run_all += 1;
                match came(readings) {
                    Ok((_, told)) if told.iter().any(|said| said == words) => {}
                    other => wrong.push(format!("{}: {line}\n    {other:?}", fact.name)),
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(run_all >= 50, "only {run_all} runs");
}

#[test]
fn each_fact_broken_is_found_by_its_rule() {
    let mut wrong = Vec::new();
    for fact in facts() {
        let mut rules = BTreeSet::new();
        for part in fact.expected.split("\nbreak ").skip(1) {
            let mut lines = part.lines();
            let rule = lines.next().unwrap().trim();
            let line = |word: &str| {
                let found = part.lines().find_map(|line| line.strip_prefix(word)).unwrap();
                found.replace("\\n", "\n")
            };
            let (was, is) = (line("was "), line("is "));
            let (was, is) = (was.trim_end(), is.trim_end());
            assert_eq!(fact.text.matches(was).count(), 1, "{}: `{was}` must stand there once", fact.name);
            let broken = checked(&fact.text.replacen(was, is, 1));
            if !broken.findings.iter().any(|found| found.rule == rule) {
                let said: Vec<String> = broken
                    .findings
                    .iter()
                    .map(|found| format!("{}: {}", found.rule, found.message))
                    .collect();
                wrong.push(format!("{}: {rule} does not find `{is}`, but: {said:#?}", fact.name));
            }
            rules.insert(rule.to_owned());
        }
        assert!(!rules.is_empty(), "{} is never broken", fact.name);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
