//! Findings as SARIF 2.1.0 (OASIS, 2020): one run, with the rules' pages as help, repairs, waivers and the way to each finding.

mod flow;
mod place;
mod result;
mod rule;

use crate::{Report, fingerprint};
use dwell_check::check::Waived;
use dwell_check::finding::Finding;
use result::Results;
use serde_json::{Value, json};

/// The most results in one run: what the large forge takes in one upload.
pub const MOST_RESULTS: usize = 25_000;

/// The log of one run. Where there are more than [`MOST_RESULTS`] findings, the gravest are in it, and a notification
/// says how many are not.
pub fn sarif(report: &Report) -> Value {
    let checked = report.checked;
    let all: Vec<(&Finding, Option<&Waived>)> = checked
        .findings
        .iter()
        .map(|finding| (finding, None))
        .chain(checked.waived.iter().map(|waived| (&waived.finding, Some(waived))))
        .collect();
    let prints = fingerprint::counted(&checked.program, all.iter().map(|(finding, _)| *finding));
    let mut all: Vec<_> = all.into_iter().zip(prints).collect();
    // The gravest first, what is waived after what stands; otherwise the order stays.
    all.sort_by_key(|((finding, waived), _)| (waived.is_some(), finding.level));
    let left_out = all.len().saturating_sub(MOST_RESULTS);
    let results = Results::new(report);
    let results: Vec<Value> = all
        .iter()
        .take(MOST_RESULTS)
        .map(|((finding, waived), print)| results.of(finding, *waived, print))
        .collect();
    json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": "dwell",
                "version": report.version,
                "semanticVersion": report.version,
                "rules": rule::all(),
            } },
            "columnKind": "utf16CodeUnits",
            "originalUriBaseIds": { place::TOP: { "uri": report.base.top_uri() } },
            "invocations": [invocation(report, left_out)],
            "results": results,
        }],
    })
}

/// How the check went: what could not be read, and what there was no room for.
fn invocation(report: &Report, left_out: usize) -> Value {
    let mut told: Vec<Value> = report
        .unreadable
        .iter()
        .map(|file| {
            json!({
                "level": "error",
                "message": { "text": format!("cannot be read: {}", file.why) },
                "locations": [{ "physicalLocation": { "artifactLocation": place::artifact(report.base, &file.path) } }],
            })
        })
        .collect();
    if left_out > 0 {
        told.push(json!({
            "level": "warning",
            "message": { "text": format!(
                "{left_out} more findings are left out here, none of them graver than those that are shown: \
                 one run holds at most {MOST_RESULTS}; `dwell check --all` shows all of them"
            ) },
        }));
    }
    json!({ "executionSuccessful": report.unreadable.is_empty(), "toolExecutionNotifications": told })
}
