//! What makes a finding the same finding after the text around it has moved.
//!
//! A fingerprint is a SHA-256 over the rule, the procedure, the message and the marked line without its blanks. It knows no
//! path and no line number, so it survives a renamed file and lines put in above. Findings that are alike in all of that
//! are told apart by counting.

use crate::owner;
use dwell_check::finding::Finding;
use dwell_check::program::Program;
use sha2::{Digest, Sha256};
use std::collections::HashMap;

/// The fingerprint of one finding, 64 hexadecimal digits.
pub fn fingerprint(program: &Program, finding: &Finding) -> String {
    let mut sum = Sha256::new();
    let line = marked_line(program, finding);
    for part in
        [finding.rule, owner(program, finding.place).unwrap_or_default(), &finding.message, line.as_str()]
    {
        sum.update(part.len().to_be_bytes());
        sum.update(part.as_bytes());
    }
    sum.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The fingerprints of these findings, in their order, each with how many like it came before: `…:1`, `…:2`.
pub fn counted<'a>(program: &Program, findings: impl IntoIterator<Item = &'a Finding>) -> Vec<String> {
    let mut seen: HashMap<String, usize> = HashMap::new();
    findings
        .into_iter()
        .map(|finding| {
            let print = fingerprint(program, finding);
            let count = seen.entry(print.clone()).or_default();
            *count += 1;
            format!("{print}:{count}")
        })
        .collect()
}

/// The first line that the finding marks, without blanks.
fn marked_line(program: &Program, finding: &Finding) -> String {
    let Some(file) = program.files.get(finding.place.file) else { return String::new() };
    let line = file.lines.line(finding.place.span.start);
    let start = file.lines.start(line);
    let end = if line + 1 < file.lines.count() { file.lines.start(line + 1) } else { file.text.len() };
    let text = file.text.get(start..end).unwrap_or_default();
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}
