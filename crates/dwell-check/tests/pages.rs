//! The rules' pages executed: every mark in a wrong example is found, nothing else is, and the right ones are clean. What is
//! found in an example is what the checker finds and what carrying out its cases finds.

pub(crate) mod example;
mod reference;

use dwell_check::check::check_with;
use dwell_check::finding::{Finding, Level};
use dwell_check::program::Program;
use dwell_check::rules::{self, Rule};
use example::{Example, Mark, examples};
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src/rules")
}

#[test]
fn every_file_of_a_rule_is_listed_with_its_page() -> Result<(), std::io::Error> {
    let mut listed: Vec<String> = rules::all().iter().map(|rule| rule.name.replace('-', "_")).collect();
    listed.sort();
    for extension in ["rs", "md"] {
        let mut found = Vec::new();
        for entry in std::fs::read_dir(folder())? {
            let path = entry?.path();
            if path.extension().is_some_and(|known| known == extension) {
                found.extend(path.file_stem().map(|stem| stem.to_string_lossy().into_owned()));
            }
        }
        found.sort();
        assert_eq!(
            found,
            listed,
            "the .{extension} files in {} and the list of rules differ",
            folder().display()
        );
    }
    Ok(())
}

#[test]
fn every_page_has_its_parts() {
    for rule in rules::all() {
        let mut lines = rule.page.lines();
        assert_eq!(lines.next(), Some(format!("# {}", rule.name).as_str()), "first line of {}", rule.name);
        assert_eq!(lines.next(), Some(""), "second line of {}", rule.name);
        assert_eq!(
            lines.next(),
            Some(format!("Level: {}", rule.level.word()).as_str()),
            "third line of {}",
            rule.name
        );
        let headings: Vec<&str> = rule.page.lines().filter(|line| line.starts_with("## ")).collect();
        assert_eq!(headings, ["## Wrong", "## Right", "## When to waive"], "headings of {}", rule.name);
        let about: Vec<&str> =
            rule.page.split("\n## Wrong").next().unwrap_or_default().split("\n\n").collect();
        let first = about.get(2).map_or("", |first| first.trim());
        assert!(
            first.ends_with('.') && !first.contains(". ") && first.lines().count() <= 2,
            "{}: what is wrong is said first, in one sentence: {first}",
            rule.name
        );
        assert!(
            about.iter().any(|part| part.starts_with("What to do: ")),
            "{}: one paragraph before the examples begins with `What to do: `",
            rule.name
        );
        let waive = section(rule, "## When to waive").trim();
        assert_eq!(
            !waive.starts_with("Never"),
            rule.waivable,
            "{}: what the page says of waiving: {waive}",
            rule.name
        );
    }
}

#[test]
fn every_mark_is_found_and_nothing_unmarked() {
    let mut wrong = Vec::new();
    for rule in rules::all() {
        let all = examples(section(rule, "## Wrong"));
        assert!(!all.is_empty(), "{}: no wrong example", rule.name);
        let own =
            all.iter().flat_map(|example| example.marks(rule.name)).filter(|mark| mark.rule == rule.name);
        if own.count() == 0 {
            wrong.push(format!("{}: no wrong example marks this rule", rule.name));
        }
        for example in &all {
            let (found, program) = found_in(example);
            let marks = example.marks(rule.name);
            for mark in &marks {
                if !found.iter().any(|finding| mark.fits(finding, &program)) {
                    wrong.push(format!("{}: marked, but not found: {mark:?}", rule.name));
                }
            }
            // What a small example leaves over is only hinted at.
            let told = found.iter().filter(|known| known.level != Level::Hint || known.rule == rule.name);
            for finding in told {
                if !marks.iter().any(|mark| mark.fits(finding, &program)) {
                    wrong.push(format!("{}: found, but not marked: {}", rule.name, shown(finding, &program)));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn right_examples_are_clean() {
    let mut wrong = Vec::new();
    for rule in rules::all() {
        let all = examples(section(rule, "## Right"));
        assert!(!all.is_empty(), "{}: no right example", rule.name);
        for example in &all {
            let (found, program) = found_in(example);
            let grave =
                found.iter().filter(|finding| finding.level <= Level::Warning || finding.rule == rule.name);
            wrong.extend(grave.map(|finding| format!("{}: {}", rule.name, shown(finding, &program))));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn every_finding_says_why_it_matters_and_how_to_mend_it() {
    let mut wrong = Vec::new();
    for rule in rules::all() {
        for example in &examples(section(rule, "## Wrong")) {
            let (found, program) = found_in(example);
            for finding in &found {
                let ends = finding.why.ends_with(['.', '?']);
                let plain = !finding.message.ends_with('.')
                    && !finding.message.is_empty()
                    && !finding.label.is_empty();
                if !(ends && plain && finding.help.is_some()) {
                    wrong.push(format!("{} {finding:?}", shown(finding, &program)));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn every_repair_mends_its_finding() {
    for rule in rules::all() {
        for example in &examples(section(rule, "## Wrong")) {
            let (found, program) = found_in(example);
            for finding in &found {
                let Some(fix) = &finding.fix else { continue };
                let mended = example.with(fix, &program);
                let slips = slips_in(&program);
                let (after, program) = found_in(&mended);
                // What could not be read hid the rest; else nothing may be worse than before.
                if slips_in(&program) == slips {
                    for rule in rules::all() {
                        let errors = |found: &[Finding]| {
                            found
                                .iter()
                                .filter(|one| one.rule == rule.name && one.level == Level::Error)
                                .count()
                        };
                        assert!(
                            errors(&after) <= errors(&found),
                            "{}: after {fix:?} {} finds more than before",
                            finding.rule,
                            rule.name
                        );
                    }
                }
                assert!(slips_in(&program) <= slips, "{}: {fix:?} cannot be read", finding.rule);
                let left = after.iter().filter(|after| after.rule == finding.rule).count();
                let before = found.iter().filter(|before| before.rule == finding.rule).count();
                assert!(
                    left < before,
                    "{}: {:?} mends nothing: {}",
                    rule.name,
                    fix,
                    shown(finding, &program)
                );
            }
        }
    }
}

/// The text of a page under a heading.
pub(crate) fn section<'a>(rule: &Rule, heading: &str) -> &'a str {
    let page: &'static str = rule.page;
    let after = page.split_once(&format!("{heading}\n")).map_or("", |(_, after)| after);
    after.split_once("\n## ").map_or(after, |(section, _)| section)
}

/// How much of an example cannot be read.
fn slips_in(program: &Program) -> usize {
    program.files.iter().map(|file| file.slips.len()).sum()
}

/// All findings of an example.
fn found_in(example: &Example) -> (Vec<Finding>, Program) {
    let checked = check_with(&example.roots(), example, &example.options());
    let tested = dwell_trial::test(&checked, None, "2031-04-12T09:05:00+02:00");
    let findings = checked.findings.into_iter().chain(tested.findings).collect();
    (findings, checked.program)
}

/// A finding as a mark would say it.
fn shown(finding: &Finding, program: &Program) -> String {
    let file = program.files.get(finding.place.file);
    let path = file.map_or("", |file| file.path.as_str());
    let (line, column) = file.map_or((0, 0), |file| file.lines.place(&file.text, finding.place.span.start));
    let text = file.and_then(|file| file.text.get(finding.place.span.start..finding.place.span.end));
    let first = text.and_then(|text| text.lines().next()).unwrap_or_default();
    let (level, rule) = (finding.level.word(), finding.rule);
    format!("{path}:{line}:{column} `{first}` {level}({rule}): {}", finding.message)
}

impl Mark {
    /// Whether this mark means that finding: rule, level, the columns of its first line, the beginning of its words.
    fn fits(&self, finding: &Finding, program: &Program) -> bool {
        let Some(file) = program.files.get(finding.place.file) else { return false };
        let (line, column) = file.lines.place(&file.text, finding.place.span.start);
        let text = file.text.get(finding.place.span.start..finding.place.span.end).unwrap_or_default();
        let width = text.lines().next().unwrap_or_default().trim_end().chars().count().max(1);
        file.path == self.file
            && (line, column, width) == (self.line, self.column, self.width)
            && finding.rule == self.rule
            && finding.level.word() == self.level
            && finding.message.starts_with(&self.words)
    }
}
