//! Findings as JUnit XML, the form that build servers show: a suite for each file, a case for each procedure.

use crate::{Report, Unreadable, owner};
use dwell_check::finding::Finding;
use quick_junit::{NonSuccessKind, SerializeError, TestCase, TestCaseStatus, TestSuite};

/// The name of the case for what stands in no procedure of a file.
const FILE: &str = "(file)";

/// All suites as one text.
///
/// Findings as grave as [`Report::failing`] are the failure of the procedure that they stand in, or of the file where they
/// stand in none; milder ones are its output. A path that could not be read is a suite with an error. Characters that XML 1.0
/// cannot write (section 2.2) are left out.
///
/// # Errors
/// None that a text in memory gives; what the writer of XML says is passed on.
pub fn junit(report: &Report) -> Result<String, SerializeError> {
    let mut all = quick_junit::Report::new("dwell check");
    let program = &report.checked.program;
    for (place, file) in program.files.iter().enumerate().filter(|(_, file)| file.root) {
        all.add_test_suite(suite(report, place, &file.path));
    }
    for file in report.unreadable {
        all.add_test_suite(unreadable(file));
    }
    junit_text(&all)
}

/// Suites as a text that the schema of the xUnit plugin for Jenkins takes.
///
/// That schema, like every published one, knows `skipped` at a suite, but not at the list of all suites, where the writer puts
/// it too. Dwell never skips a test, so that one is cut off and nothing is lost.
///
/// # Errors
/// None that a text in memory gives; what the writer of XML says is passed on.
pub fn junit_text(suites: &quick_junit::Report) -> Result<String, SerializeError> {
    let text = suites.to_string()?;
    let first_suite = text.find("<testsuite ").unwrap_or(text.len());
    let (head, rest) = text.split_at(first_suite);
    Ok(format!("{}{rest}", head.replacen(" skipped=\"0\"", "", 1)))
}

/// One file with its cases.
fn suite(report: &Report, place: usize, path: &str) -> TestSuite {
    let program = &report.checked.program;
    let here = report.checked.findings.iter().filter(|finding| finding.place.file == place);
    let here: Vec<(&Finding, Option<&str>)> =
        here.map(|finding| (finding, owner(program, finding.place))).collect();
    let procedures = report.checked.procedures.iter().filter(|known| known.file == place);
    let mut names: Vec<Option<&str>> = vec![None];
    names.extend(procedures.map(|known| Some(known.name.as_str())));
    // Procedures that could not be compiled have findings all the same.
    for (_, whose) in &here {
        if !names.contains(whose) {
            names.push(*whose);
        }
    }
    let mut suite = TestSuite::new(path);
    for name in names {
        let own: Vec<&Finding> =
            here.iter().filter(|(_, whose)| *whose == name).map(|(one, _)| *one).collect();
        let mut made = case(report, name.unwrap_or(FILE), &own);
        made.set_classname(path);
        suite.add_test_case(made);
    }
    suite
}

/// One procedure, or a file outside its procedures.
fn case(report: &Report, name: &str, findings: &[&Finding]) -> TestCase {
    let (grave, mild): (Vec<&Finding>, Vec<&Finding>) =
        findings.iter().copied().partition(|finding| finding.level <= report.failing);
    let text = |findings: &[&Finding]| {
        findings.iter().map(|finding| told(report, finding)).collect::<Vec<_>>().join("\n\n")
    };
    let status = match grave.split_first() {
        Some((first, rest)) => {
            let more = if rest.is_empty() { String::new() } else { format!(" (and {} more)", rest.len()) };
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
            status.set_type(first.rule);
            status.set_message(format!("{}{more}", first.message));
            status.set_description(text(&grave));
            status
        }
        None => TestCaseStatus::success(),
    };
    let mut case = TestCase::new(name, status);
    if !mild.is_empty() {
        case.set_system_out(text(&mild));
    }
    case
}

fn unreadable(file: &Unreadable) -> TestSuite {
    let mut status = TestCaseStatus::non_success(NonSuccessKind::Error);
    status.set_type("unreadable");
    status.set_message(file.why.as_str());
    let mut case = TestCase::new(FILE, status);
    case.set_classname(file.path.as_str());
    let mut suite = TestSuite::new(file.path.as_str());
    suite.add_test_case(case);
    suite
}

/// Place, level, message and rule; then why, the way there, and help, a line each.
fn told(report: &Report, finding: &Finding) -> String {
    let place = match report.checked.program.files.get(finding.place.file) {
        Some(file) => {
            let (line, column) = file.lines.place(&file.text, finding.place.span.start);
            format!("{}:{line}:{column}: ", file.path)
        }
        None => String::new(),
    };
    let mut lines = vec![format!("{place}{}: {} [{}]", finding.level.word(), finding.message, finding.rule)];
    lines.extend(Some(finding.why.clone()).filter(|why| !why.is_empty()));
    lines
        .extend(finding.witness.as_ref().map(|witness| witness.says.clone()).filter(|says| !says.is_empty()));
    lines.extend(finding.help.as_ref().map(|help| format!("help: {help}")));
    lines.join("\n")
}
