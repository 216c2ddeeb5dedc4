//! What came of the cases of one procedure, for people: in a few lines, or all of it.

use crate::commands::check::counted;
use crate::drawing::{shown_place, visible};
use crate::screen::{Ink, Screen, wrapped};
use dwell_check::check::Checked;
use dwell_check::finding::{Finding, Place};
use dwell_check::rules::branch_without_case;
use dwell_trial::{Branch, Coverage, LimitTried, ProcedureTested};

/// How many branches without a case are named in the short form.
const MOST: usize = 3;

/// Tells of one procedure. In the short form one of which every branch and side has a case is one line.
pub(super) fn procedure(
    screen: &mut Screen,
    checked: &Checked,
    findings: &[Finding],
    tested: &ProcedureTested,
    all: bool,
) -> anyhow::Result<()> {
    let place = shown_place(&checked.program, tested.place);
    let failed = tested.cases.iter().filter(|case| case.failure.is_some()).count();
    let cases = counted(tested.cases.len(), "case", "cases");
    let (ink, came) = match (tested.has_card, tested.cases.len(), failed) {
        (false, ..) => (Ink::Red, "not tried: an error is open in its text".to_owned()),
        (_, 0, _) => (Ink::Yellow, "no case".to_owned()),
        (_, 1, 0) => (Ink::Green, "1 case, ends as it says".to_owned()),
        (_, _, 0) => (Ink::Green, format!("{cases}, all end as they say")),
        (_, _, failed) => (Ink::Red, format!("{failed} of {cases} not as said")),
    };
    let name = screen.style.ink(Ink::Bold, &tested.name);
    screen.line(&format!("{name}  {}", screen.style.ink(ink, &came)))?;
    screen.line(&screen.style.ink(Ink::Faint, &format!("  {place}")))?;
    match (&tested.coverage, all) {
        (Some(coverage), true) => full(screen, checked, tested, coverage)?,
        (Some(coverage), false) if !tested.cases.is_empty() => short(screen, checked, findings, coverage)?,
        _ => {}
    }
    Ok(())
}

/// What no case comes to, in a few lines.
fn short(
    screen: &mut Screen,
    checked: &Checked,
    findings: &[Finding],
    coverage: &Coverage,
) -> anyhow::Result<()> {
    let variants = coverage.variants.iter().filter(|variant| variant.cases == 0);
    let mut without: Vec<String> =
        variants.map(|variant| format!("{} {}", variant.axis, variant.value)).collect();
    // What is waived, or off in the settings, was not found.
    let open = coverage.branches.iter().filter(|branch| branch.cases == 0);
    let is_found = |branch: &&Branch| {
        let found = branch_without_case::finding(branch.place, &branch.what);
        findings.iter().any(|one| one.place == found.place && one.message == found.message)
    };
    let open: Vec<&Branch> = open.filter(is_found).collect();
    let told = open.iter().take(MOST);
    without.extend(told.map(|branch| format!("{} ({})", branch.what, line(checked, branch.place))));
    if open.len() > MOST {
        without.push(format!("{} more", open.len() - MOST));
    }
    if !without.is_empty() {
        say(screen, "  no case: ", &without.join("; "))?;
    }
    let sides: Vec<String> = coverage
        .limits
        .iter()
        .filter_map(|limit| {
            let missing = limit.sides.missing();
            (!missing.is_empty()).then(|| format!("{} never {}", name(limit), missing.join(", never ")))
        })
        .collect();
    if !sides.is_empty() {
        say(screen, "  limits: ", &sides.join("; "))?;
    }
    Ok(())
}

fn say(screen: &mut Screen, head: &str, words: &str) -> anyhow::Result<()> {
    for line in wrapped(head, 4, &visible(words)) {
        screen.line(&line)?;
    }
    Ok(())
}

/// Everything, with how many cases come to it.
fn full(
    screen: &mut Screen,
    checked: &Checked,
    tested: &ProcedureTested,
    coverage: &Coverage,
) -> anyhow::Result<()> {
    if !tested.cases.is_empty() {
        heading(screen, "cases")?;
    }
    for case in &tested.cases {
        let (ink, mark) = match case.failure {
            None => (Ink::Green, "as said"),
            Some(_) => (Ink::Red, "not so "),
        };
        let ends = case.ends.map(|ends| format!(", ends {ends}")).unwrap_or_default();
        screen.line(&format!("    {}  {}{ends}", screen.style.ink(ink, mark), visible(&case.title)))?;
    }
    if !coverage.steps.is_empty() {
        heading(screen, "steps")?;
    }
    for step in &coverage.steps {
        count(screen, step.cases, &format!("{} ({})", step.name, line(checked, step.place)))?;
    }
    if !coverage.branches.is_empty() {
        heading(screen, "branches")?;
    }
    for branch in &coverage.branches {
        count(screen, branch.cases, &format!("{} ({})", branch.what, line(checked, branch.place)))?;
    }
    if !coverage.variants.is_empty() {
        heading(screen, "variants")?;
    }
    for variant in &coverage.variants {
        count(screen, variant.cases, &format!("{} {}", variant.axis, variant.value))?;
    }
    if !coverage.limits.is_empty() {
        heading(screen, "limits: values on each side              in   low  high    at  none")?;
    }
    for limit in &coverage.limits {
        let side = |count: Option<usize>| count.map_or("-".to_owned(), |count| count.to_string());
        let sides = &limit.sides;
        let columns =
            [Some(sides.inside), sides.low, sides.high, Some(sides.at_the_limit), Some(sides.no_reading)];
        let columns: String = columns.into_iter().map(|count| format!("{:>6}", side(count))).collect();
        let words = format!("    {:<34}{columns}", visible(&name(limit)));
        let ink = if limit.sides.are_all_tried() { Ink::Green } else { Ink::Yellow };
        screen.line(&screen.style.ink(ink, &words))?;
    }
    Ok(())
}

fn heading(screen: &mut Screen, words: &str) -> anyhow::Result<()> {
    screen.line(&format!("  {words}"))?;
    Ok(())
}

fn count(screen: &mut Screen, cases: usize, words: &str) -> anyhow::Result<()> {
    let ink = if cases == 0 { Ink::Yellow } else { Ink::Green };
    let number = screen.style.ink(ink, &format!("{cases:>7}"));
    for (place, line) in wrapped("", 9, &visible(words)).into_iter().enumerate() {
        screen.line(&if place == 0 { format!("{number}  {line}") } else { line })?;
    }
    Ok(())
}

fn name(limit: &LimitTried) -> String {
    if limit.adjusting { format!("{} (set to)", limit.name) } else { limit.name.clone() }
}

/// "line 31".
fn line(checked: &Checked, place: Place) -> String {
    let file = checked.program.files.get(place.file);
    file.map_or_else(String::new, |file| format!("line {}", file.lines.line(place.span.start) + 1))
}
