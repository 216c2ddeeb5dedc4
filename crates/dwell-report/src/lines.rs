//! One line for each finding, `path:line:column: level: message [rule]`, for editors' problem matchers and for grep.

use crate::{Report, one_line};

/// All findings, a line each, by file and place; then a line for each path that could not be read, at line 1 column 1.
/// Lines count from 1, columns from 1 in characters. Nothing is written where nothing was found.
pub fn lines(report: &Report) -> String {
    let mut all = String::new();
    for finding in &report.checked.findings {
        let Some(file) = report.checked.program.files.get(finding.place.file) else { continue };
        let (line, column) = file.lines.place(&file.text, finding.place.span.start);
        all.push_str(&format!(
            "{}:{line}:{column}: {}: {} [{}]\n",
            one_line(&file.path),
            finding.level.word(),
            one_line(&finding.message),
            finding.rule
        ));
    }
    for file in report.unreadable {
        all.push_str(&format!("{}:1:1: error: {} [unreadable]\n", one_line(&file.path), one_line(&file.why)));
    }
    all
}
