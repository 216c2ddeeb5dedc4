//! Findings as JSON, for other programs; the shape is described in `grammar/JSON.md` and has a version number.

use crate::{Report, Unreadable};
use dwell_check::check::Waived;
use dwell_check::finding::{Edit, Finding, Level, Place, Reply, Witness};
use dwell_check::mend::Done;
use dwell_check::program::Program;
use serde_json::{Value, json};

/// The version of the shape.
pub const VERSION: u32 = 2;

/// All that a check found.
pub fn json(report: &Report) -> Value {
    let checked = report.checked;
    let program = &checked.program;
    let count = |level: Level| checked.findings.iter().filter(|finding| finding.level == level).count();
    let findings: Vec<Value> = checked.findings.iter().map(|one| finding(program, one)).collect();
    let let_pass: Vec<Value> = checked.waived.iter().map(|one| waived(program, one)).collect();
    let unreadable: Vec<Value> = report.unreadable.iter().map(unreadable_file).collect();
    json!({
        "version": VERSION,
        "program": format!("dwell {}", report.version),
        "files": program.files.iter().filter(|file| file.root).count(),
        "procedures": checked.procedures.len(),
        "errors": count(Level::Error),
        "warnings": count(Level::Warning),
        "information": count(Level::Information),
        "hints": count(Level::Hint),
        "findings": findings,
        "waived": let_pass,
        "unreadable": unreadable,
    })
}

fn unreadable_file(file: &Unreadable) -> Value {
    json!({ "file": file.path, "why": file.why })
}

/// The same with the repairs that were made before.
pub fn mended(report: &Report, done: &[Done]) -> Value {
    let mut value = json(report);
    let done: Vec<Value> = done
        .iter()
        .map(|done| json!({ "rule": done.rule, "file": done.path, "title": done.title }))
        .collect();
    if let Some(members) = value.as_object_mut() {
        members.insert("mended".to_owned(), Value::Array(done));
    }
    value
}

/// What was found and waived.
pub fn waived(program: &Program, waived: &Waived) -> Value {
    json!({
        "finding": finding(program, &waived.finding),
        "because": waived.because,
        "at": place(program, waived.place),
    })
}

/// One finding.
pub fn finding(program: &Program, finding: &Finding) -> Value {
    let related: Vec<Value> = finding
        .related
        .iter()
        .map(|(at, words)| json!({ "at": place(program, *at), "message": words }))
        .collect();
    let fix = finding.fix.as_ref().map(|fix| {
        let edit = |edit: &Edit| json!({ "at": place(program, edit.place), "replacement": edit.replacement });
        json!({ "title": fix.title, "edits": fix.edits.iter().map(edit).collect::<Vec<_>>() })
    });
    json!({
        "rule": finding.rule,
        "level": finding.level.word(),
        "message": finding.message,
        "at": place(program, finding.place),
        "label": finding.label,
        "why": finding.why,
        "help": finding.help,
        "related": related,
        "witness": finding.witness.as_ref().map(witness),
        "fix": fix,
    })
}

/// A place: bytes from 0, lines and columns from 1, columns in characters; the end is the first place after it.
pub fn place(program: &Program, at: Place) -> Value {
    let Some(file) = program.files.get(at.file) else { return Value::Null };
    let end = |byte: usize| {
        let (line, column) = file.lines.place(&file.text, byte);
        json!({ "byte": byte, "line": line, "column": column })
    };
    json!({ "file": file.path, "start": end(at.span.start), "end": end(at.span.end) })
}

fn witness(witness: &Witness) -> Value {
    let variants: serde_json::Map<String, Value> =
        witness.variants.iter().map(|(axis, value)| (axis.clone(), json!(value))).collect();
    let answers: Vec<Value> = witness.answers.iter().map(reply).collect();
    json!({
        "procedure": witness.procedure,
        "says": witness.says,
        "variants": variants,
        "answers": answers,
    })
}

/// One answer of a way.
pub fn reply(answer: &Reply) -> Value {
    match answer {
        Reply::Signature(by) => json!({ "signature": by }),
        Reply::Lost(name) => json!({ "lost": name }),
        Reply::Need { holds, .. } => json!({ "need": holds }),
        Reply::Value { name, number, unit } => json!({ "reading": name, "value": number, "unit": unit }),
        Reply::NoReading(name) => json!({ "reading": name, "value": null }),
        Reply::Choice(question, word) => json!({ "question": question, "answer": word }),
    }
}
