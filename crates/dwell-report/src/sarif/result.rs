//! One finding as a SARIF result.

use super::place::{artifact, physical, region};
use super::{flow, rule};
use crate::{Base, Report, owner};
use dwell_check::check::{Checked, Waived};
use dwell_check::finding::{Edit, Finding, Fix};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Makes the results of one run.
pub(super) struct Results<'a> {
    checked: &'a Checked,
    base: &'a Base,
    /// SARIF wants suppressions said of every result or of none.
    some_waived: bool,
}

impl<'a> Results<'a> {
    pub(super) fn new(report: &Report<'a>) -> Results<'a> {
        Results { checked: report.checked, base: report.base, some_waived: !report.checked.waived.is_empty() }
    }

    /// The result of a finding.
    pub(super) fn of(&self, finding: &Finding, waived: Option<&Waived>, print: &str) -> Value {
        let program = &self.checked.program;
        let mut location = json!({});
        if let Some(physical) = physical(self.base, program, finding.place) {
            put(&mut location, "physicalLocation", physical);
        }
        if let Some(name) = owner(program, finding.place) {
            put(
                &mut location,
                "logicalLocations",
                json!([{ "name": name, "fullyQualifiedName": name, "kind": "procedure" }]),
            );
        }
        let mut result = json!({
            "ruleId": finding.rule,
            "level": rule::level(finding.level),
            "message": { "text": message(finding) },
            "locations": [location],
            "partialFingerprints": { "dwell/v1": print },
        });
        if let Some(index) = rule::place(finding.rule) {
            put(&mut result, "ruleIndex", json!(index));
        }
        let related = self.related(finding);
        if !related.is_empty() {
            put(&mut result, "relatedLocations", json!(related));
        }
        if let Some(flow) = flow::of(self.checked, self.base, finding) {
            put(&mut result, "codeFlows", json!([flow]));
        }
        if let Some(fix) = &finding.fix {
            put(&mut result, "fixes", json!([self.fix(fix)]));
        }
        if self.some_waived {
            let suppressions: Vec<Value> =
                waived.into_iter().map(|waived| self.suppression(waived)).collect();
            put(&mut result, "suppressions", json!(suppressions));
        }
        result
    }

    fn related(&self, finding: &Finding) -> Vec<Value> {
        let known = finding
            .related
            .iter()
            .filter_map(|(at, words)| Some((physical(self.base, &self.checked.program, *at)?, words)));
        known
            .enumerate()
            .map(|(id, (physical, words))| {
                json!({ "id": id + 1, "physicalLocation": physical, "message": { "text": some(words) } })
            })
            .collect()
    }

    /// All edits of a repair, by file.
    fn fix(&self, fix: &Fix) -> Value {
        let mut files: BTreeMap<usize, Vec<&Edit>> = BTreeMap::new();
        for edit in &fix.edits {
            files.entry(edit.place.file).or_default().push(edit);
        }
        let changes: Vec<Value> = files
            .into_iter()
            .filter_map(|(file, edits)| {
                let file = self.checked.program.files.get(file)?;
                let replacements: Vec<Value> = edits
                    .into_iter()
                    .map(|edit| {
                        json!({
                            "deletedRegion": region(file, edit.place),
                            "insertedContent": { "text": edit.replacement },
                        })
                    })
                    .collect();
                Some(json!({ "artifactLocation": artifact(self.base, &file.path), "replacements": replacements }))
            })
            .collect();
        json!({ "description": { "text": fix.title }, "artifactChanges": changes })
    }

    fn suppression(&self, waived: &Waived) -> Value {
        let mut suppression = json!({ "kind": "inSource", "justification": waived.because });
        if let Some(at) = physical(self.base, &self.checked.program, waived.place) {
            put(&mut suppression, "location", json!({ "physicalLocation": at }));
        }
        suppression
    }
}

/// What is wrong, why it matters, the way there, and how to mend it, a paragraph each.
fn message(finding: &Finding) -> String {
    let says = finding.witness.as_ref().map_or("", |witness| &witness.says);
    let help = finding.help.as_ref().map(|help| format!("Help: {help}")).unwrap_or_default();
    let parts = [finding.message.as_str(), &finding.why, says, &help];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n\n")
}

/// A text that may not be empty.
fn some(words: &str) -> &str {
    if words.is_empty() { "here" } else { words }
}

/// Puts a member into an object.
fn put(object: &mut Value, name: &str, value: Value) {
    if let Some(members) = object.as_object_mut() {
        members.insert(name.to_owned(), value);
    }
}
