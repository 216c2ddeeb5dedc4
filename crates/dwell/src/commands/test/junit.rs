//! What came of the cases as JUnit XML: a suite for each procedure, a test case for each case.

use crate::drawing::Drawing;
use crate::screen::Style;
use anyhow::Context;
use dwell_check::check::Checked;
use dwell_check::finding::{Finding, Level};
use dwell_check::rules::branch_without_case;
use dwell_trial::{CaseTested, ProcedureTested, Tested};
use quick_junit::{NonSuccessKind, Report, TestCase, TestCaseStatus, TestSuite};

/// The whole file.
pub(super) fn report(checked: &Checked, tested: &Tested) -> anyhow::Result<String> {
    let mut report = Report::new("dwell test");
    let mut drawing = Drawing::new(&checked.program, Style { colour: false, ascii: true });
    for procedure in tested.procedures.iter().filter(|procedure| !procedure.cases.is_empty()) {
        let mut suite = TestSuite::new(procedure.name.as_str());
        for case in &procedure.cases {
            let mut made = TestCase::new(case.title.as_str(), status(case, procedure, &mut drawing));
            made.set_classname(procedure.name.as_str());
            let file = checked.program.files.get(case.place.file);
            if let Some(file) = file {
                made.extra.insert("file".into(), file.path.as_str().into());
                let line = file.lines.line(case.place.span.start) + 1;
                made.extra.insert("line".into(), line.to_string().as_str().into());
            }
            suite.add_test_case(made);
        }
        if let Some(file) = checked.program.files.get(procedure.file) {
            suite.extra.insert("file".into(), file.path.as_str().into());
        }
        report.add_test_suite(suite);
    }
    let errors = tested.findings.iter().filter(|finding| finding.level == Level::Error);
    let open: Vec<&Finding> = errors.filter(|finding| branch_without_case::is_one(finding)).collect();
    if !open.is_empty() {
        let mut suite = TestSuite::new("branches without a case");
        for finding in open {
            let status = failure(finding, &mut drawing);
            suite.add_test_case(TestCase::new(finding.message.as_str(), status));
        }
        report.add_test_suite(suite);
    }
    dwell_report::junit_text(&report).context("cannot write JUnit XML")
}

fn failure(finding: &Finding, drawing: &mut Drawing<'_>) -> TestCaseStatus {
    let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
    status.set_type(finding.rule);
    status.set_message(finding.message.as_str());
    status.set_description(drawing.of(finding));
    status
}

fn status(case: &CaseTested, procedure: &ProcedureTested, drawing: &mut Drawing<'_>) -> TestCaseStatus {
    match &case.failure {
        Some(finding) => failure(finding, drawing),
        None if !procedure.has_card => {
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Error);
            status.set_type("not tried");
            status.set_message("not carried out: an error is open in the text; see `dwell check`");
            status
        }
        None => TestCaseStatus::success(),
    }
}
