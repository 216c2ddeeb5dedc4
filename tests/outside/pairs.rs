//! Limits that public documents print in two units, right and wrong: what is said of each.

use super::rows;
use crate::one::One;
use dwell_check::check::check;

/// The rules of printed pairs.
const RULES: [&str; 3] = ["pair-disagrees", "pair-rounds-outward", "pair-too-narrow"];

#[test]
fn printed_pairs_are_judged_as_they_should_be() {
    for row in &rows(include_str!("data/pairs.csv")) {
        let (kind, limit) = (row.get("kind"), row.get("limit"));
        let text = format!("spec printed: {kind} {{ check {limit} }}\n");
        let checked = check(&["pair.dwell".to_owned()], &One(&text));
        let read = checked
            .findings
            .iter()
            .find(|finding| finding.rule != "name-unused" && !RULES.contains(&finding.rule));
        assert_eq!(read.map(|finding| &finding.message), None, "{limit}");
        let found: Vec<_> = checked.findings.iter().filter(|finding| RULES.contains(&finding.rule)).collect();
        let names: Vec<&str> = found.iter().map(|finding| finding.rule).collect();
        let wanted: Vec<&str> = Some(row.get("rule")).filter(|rule| !rule.is_empty()).into_iter().collect();
        assert_eq!(names, wanted, "{limit}: {found:?}");
        for finding in found {
            let help = finding.help.clone().unwrap_or_default();
            let all = format!("{} | {} | {help}", finding.message, finding.label);
            assert!(row.get("says").split('|').any(|words| all.contains(words)), "{limit}: {all}");
            let fixed = finding.fix.as_ref().map(|fix| fix.edits[0].replacement.clone());
            assert!(fixed.is_some() || finding.rule != "pair-rounds-outward", "{limit}");
            if let Some(fixed) = fixed {
                let (before, _) = text.split_once('(').unwrap();
                let mended = format!("{before}({fixed}) }}\n");
                let again = check(&["pair.dwell".to_owned()], &One(&mended));
                // A second unit that belongs to another limit may still be wider than the first when it is put right.
                let still = again.findings.iter().find(|again| match finding.rule {
                    "pair-disagrees" => again.rule == finding.rule,
                    _ => again.rule != "name-unused",
                });
                assert_eq!(still.map(|finding| &finding.message), None, "{mended}");
            }
        }
    }
}
