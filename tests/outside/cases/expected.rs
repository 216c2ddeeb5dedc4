//! What must be found in a page: the lines of its `findings.txt`, held against what the checker says.

use dwell_check::check::Checked;
use dwell_check::finding::{Finding, Level};
use dwell_check::rules;

/// One line of `findings.txt`.
pub(super) struct Expected {
    level: String,
    rule: String,
    /// A piece of the line on which the marked text begins.
    line: String,
    /// What the finding must say, in its message, label, reason, help or at its other places.
    words: Vec<String>,
}

/// One finding, as it is compared.
pub(super) struct Said {
    pub(super) level: String,
    pub(super) rule: String,
    pub(super) line: String,
    pub(super) words: String,
}

/// The lines of a file, and what is wrong with them. A line that awaits a rule which is not there is left out.
pub(super) fn read(text: &str) -> (Vec<Expected>, Vec<String>) {
    let (mut all, mut slips) = (Vec::new(), Vec::new());
    for line in text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#')) {
        let mut parts = line.split(" | ").map(str::trim);
        let head = parts.next().unwrap_or_default();
        let (awaited, head) = match head.strip_prefix("awaits ") {
            Some(rest) => (true, rest),
            None => (false, head),
        };
        let Some((level, rule)) = head.split_once(' ') else {
            slips.push(format!("`{line}` has no level or no rule"));
            continue;
        };
        let there = rules::named(rule);
        match (awaited, there) {
            (true, Some(_)) => slips.push(format!("`{rule}` is a rule now: take out `awaits` in `{line}`")),
            (true, None) => continue,
            (false, None) => slips.push(format!("there is no rule `{rule}`: `{line}`")),
            (false, Some(_)) => {}
        }
        all.push(Expected {
            level: level.to_owned(),
            rule: rule.to_owned(),
            line: parts.next().unwrap_or_default().to_owned(),
            words: parts.map(str::to_owned).collect(),
        });
    }
    (all, slips)
}

/// What the checker says, hints apart.
pub(super) fn said(checked: &Checked) -> Vec<Said> {
    let shown = checked.findings.iter().filter(|finding| finding.level < Level::Hint);
    shown.map(|finding| one(checked, finding)).collect()
}

fn one(checked: &Checked, finding: &Finding) -> Said {
    let file = &checked.program.files[finding.place.file];
    let line = file.lines.line(finding.place.span.start);
    let mut words = vec![finding.message.clone(), finding.label.clone(), finding.why.clone()];
    words.extend(finding.help.clone());
    words.extend(finding.related.iter().map(|(_, text)| text.clone()));
    Said {
        level: finding.level.word().to_owned(),
        rule: finding.rule.to_owned(),
        line: file.text.lines().nth(line).unwrap_or_default().trim().to_owned(),
        words: words.join(" / "),
    }
}

/// What was said and not expected, and what was expected and not said.
pub(super) fn apart(expected: &[Expected], said: &[Said]) -> Vec<String> {
    let mut left: Vec<&Said> = said.iter().collect();
    let mut wrong = Vec::new();
    for one in expected {
        let fits = |said: &&Said| {
            said.level == one.level
                && said.rule == one.rule
                && said.line.contains(&one.line)
                && one.words.iter().all(|words| said.words.contains(words))
        };
        match left.iter().position(fits) {
            Some(place) => drop(left.swap_remove(place)),
            None => {
                wrong.push(format!("not found: {} {} | {} | {:?}", one.level, one.rule, one.line, one.words))
            }
        }
    }
    wrong.extend(
        left.iter().map(|said| {
            format!("not expected: {} {} | {} | {}", said.level, said.rule, said.line, said.words)
        }),
    );
    wrong
}
