//! What came of the cases as JSON; the shape is described in `grammar/JSON.md` and has the version of findings.

use crate::work::Work;
use dwell_check::check::Checked;
use dwell_check::finding::Level;
use dwell_report::{Base, Report, json};
use dwell_trial::{Coverage, ProcedureTested, Tested};
use serde_json::{Value, json};

/// All of it.
pub(super) fn tested(work: &Work, tested: &Tested) -> Value {
    let checked = &work.checked;
    let procedures: Vec<Value> = tested.procedures.iter().map(|one| procedure(checked, one)).collect();
    let mut all = dwell_report::json(&Report {
        checked,
        unreadable: &work.unreadable,
        failing: Level::Error,
        version: env!("CARGO_PKG_VERSION"),
        base: &Base::default(),
    });
    if let Some(all) = all.as_object_mut() {
        all.insert("cases".into(), json!(tested.cases().count()));
        all.insert("failed".into(), json!(tested.failed()));
        all.insert("tested".into(), Value::Array(procedures));
        let more = tested.findings.iter().map(|one| json::finding(&checked.program, one));
        if let Some(found) = all.get_mut("findings").and_then(Value::as_array_mut) {
            found.extend(more);
        }
        let levels = [Level::Error, Level::Warning, Level::Information, Level::Hint];
        for (name, level) in ["errors", "warnings", "information", "hints"].into_iter().zip(levels) {
            let more = tested.findings.iter().filter(|one| one.level == level).count();
            let known = all.get(name).and_then(Value::as_u64).unwrap_or_default();
            all.insert(name.into(), json!(known + more as u64));
        }
        let waived = tested.waived.iter().map(|one| json::waived(&checked.program, one));
        if let Some(known) = all.get_mut("waived").and_then(Value::as_array_mut) {
            known.extend(waived);
        }
    }
    all
}

fn procedure(checked: &Checked, tested: &ProcedureTested) -> Value {
    let cases: Vec<Value> = tested
        .cases
        .iter()
        .map(|case| {
            json!({
                "title": case.title,
                "at": json::place(&checked.program, case.place),
                "ends": case.ends,
                "as-said": tested.has_card.then_some(case.failure.is_none()),
                "failure": case.failure.as_ref().map(|finding| json::finding(&checked.program, finding)),
            })
        })
        .collect();
    json!({
        "procedure": tested.name,
        "at": json::place(&checked.program, tested.place),
        "tried": tested.has_card,
        "cases": cases,
        "coverage": tested.coverage.as_ref().map(|coverage| covered(checked, coverage)),
    })
}

fn covered(checked: &Checked, coverage: &Coverage) -> Value {
    let program = &checked.program;
    let steps: Vec<Value> = coverage
        .steps
        .iter()
        .map(|step| json!({ "step": step.name, "at": json::place(program, step.place), "cases": step.cases }))
        .collect();
    let branches: Vec<Value> = coverage
        .branches
        .iter()
        .map(|branch| {
            json!({ "where": branch.what, "at": json::place(program, branch.place), "cases": branch.cases })
        })
        .collect();
    let variants: Vec<Value> = coverage
        .variants
        .iter()
        .map(|variant| json!({ "variant": variant.axis, "value": variant.value, "cases": variant.cases }))
        .collect();
    let limits: Vec<Value> = coverage
        .limits
        .iter()
        .map(|limit| {
            json!({
                "limit": limit.name,
                "set-to": limit.adjusting,
                "at": json::place(program, limit.place),
                "in": limit.sides.inside,
                "low": limit.sides.low,
                "high": limit.sides.high,
                "at-the-limit": limit.sides.at_the_limit,
                "no-reading": limit.sides.no_reading,
            })
        })
        .collect();
    json!({ "steps": steps, "branches": branches, "variants": variants, "limits": limits })
}
