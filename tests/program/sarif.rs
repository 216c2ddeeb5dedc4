//! What SARIF promises beyond its schema, with the program itself: how many results, columns beyond the basic plane, paths, waivers.
//!
//! The sections are those of SARIF 2.1.0 (OASIS Standard, 2020). 25,000 results are the most that the large forge takes in a run,
//! by its documentation of uploads (from memory).

use super::bench::{Bench, GOOD, faulty, said};
use serde_json::Value;
use std::fs;
use std::path::Path;

/// The one run of the log.
fn run_of(log: &str) -> Value {
    let log: Value = serde_json::from_str(log).unwrap_or_else(|why| panic!("{why}: {log}"));
    log["runs"][0].clone()
}

fn of_rule<'a>(run: &'a Value, rule: &str) -> &'a Value {
    let mut results = run["results"].as_array().unwrap().iter();
    results.find(|one| one["ruleId"] == rule).unwrap_or_else(|| panic!("no {rule}: {run}"))
}

#[test]
fn the_gravest_25_000_results_are_in_a_run_and_a_notification_says_that_some_are_not() {
    let waiver = "        waive never-passes because \"Kept.\"\n".repeat(25_010);
    let many =
        faulty().replace("        remove belt-guard\n", &format!("{waiver}        remove belt-guard\n"));
    let said = Bench::new(&[("a.dwell", &many)]).run(&["check", "--format", "sarif"]);
    assert_eq!(said.status, 1);
    let run = run_of(&said.out);
    let results = run["results"].as_array().unwrap();
    assert_eq!(results.len(), 25_000);
    // The one error stands behind all the warnings in the text, and before them here.
    assert_eq!((&results[0]["ruleId"], &results[0]["level"]), (&"not-restored".into(), &"error".into()));
    assert!(results[1..].iter().all(|one| one["ruleId"] == "waiver-unused"), "{}", results[1]);
    let told = run["invocations"][0]["toolExecutionNotifications"].as_array().unwrap();
    assert_eq!(told.len(), 1);
    assert_eq!(told[0]["level"], "warning");
    let words = told[0]["message"]["text"].as_str().unwrap();
    assert!(words.starts_with("11 more findings are left out here"), "{words}");
    // Nothing went wrong: the log is whole as far as it goes, section 3.20.14.
    assert_eq!(run["invocations"][0]["executionSuccessful"], true);
}

#[test]
fn nothing_is_said_to_be_left_out_where_nothing_is() {
    let run = run_of(&Bench::new(&[("a.dwell", &faulty())]).run(&["check", "--format", "sarif"]).out);
    assert_eq!(run["invocations"][0]["toolExecutionNotifications"], serde_json::json!([]));
}

/// The text with all replacements of one repair made, as a program does that knows columns in UTF-16 code units only.
fn replaced(text: &str, changes: &Value) -> String {
    let mut lines: Vec<Vec<u16>> = text.split('\n').map(|line| line.encode_utf16().collect()).collect();
    let mut edits: Vec<&Value> = changes["replacements"].as_array().unwrap().iter().collect();
    edits.sort_by_key(|edit| std::cmp::Reverse(edit["deletedRegion"]["startColumn"].as_u64()));
    for edit in edits {
        let region = &edit["deletedRegion"];
        let number = |name: &str| usize::try_from(region[name].as_u64().unwrap()).unwrap() - 1;
        assert_eq!(region["startLine"], region["endLine"], "{region}");
        let new = edit["insertedContent"]["text"].as_str().unwrap().encode_utf16();
        lines[number("startLine")].splice(number("startColumn")..number("endColumn"), new);
    }
    lines.iter().map(|line| String::from_utf16(line).unwrap()).collect::<Vec<_>>().join("\n")
}

/// Before the finding stand characters of one, two and eleven code units, and a letter with a mark of its own.
#[test]
fn columns_count_utf_16_code_units_also_behind_characters_beyond_the_basic_plane() {
    let before =
        "hazard hot: caution \"\u{1F525} \u{1F468}\u{200D}\u{1F469}\u{200D}\u{1F467} \u{1D11E} e\u{301} µ\" ";
    let text = format!("{before}spec gap: length {{ check 1,5 .. 2.5 mm }}\n");
    let bench = Bench::new(&[("a.dwell", &text)]);
    let run = run_of(&bench.run(&["check", "--format", "sarif"]).out);
    assert_eq!(run["columnKind"], "utf16CodeUnits");
    let found = &run["results"][0];
    let line: Vec<u16> = text.encode_utf16().collect();
    let region = &found["locations"][0]["physicalLocation"]["region"];
    let column = |name: &str| usize::try_from(region[name].as_u64().unwrap()).unwrap();
    // Columns count from 1 and the end is one past the last, sections 3.30.6 and 3.30.8.
    let marked = String::from_utf16(&line[column("startColumn") - 1..column("endColumn") - 1]).unwrap();
    assert_eq!(marked, "1,5");
    let characters = text.chars().take_while(|letter| *letter != ',').count();
    assert!(column("startColumn") > characters, "as many code units as characters: the text tries nothing");
    let mended = replaced(&text, &found["fixes"][0]["artifactChanges"][0]);
    assert_eq!(mended, text.replace("1,5", "1.5"));
    bench.run(&["check", "--fix"]);
    assert_eq!(bench.get("a.dwell"), mended, "the repair of the log is the one that the program makes");
}

/// Address and base of the place of the first finding, and the address of the top.
fn address(bench: &Bench, within: &str, path: &str) -> (String, bool, String) {
    let output = bench
        .command(&["check", "--format", "sarif", path])
        .current_dir(bench.path(within))
        .output()
        .unwrap();
    let run = run_of(&said(output).out);
    let at = &of_rule(&run, "not-restored")["locations"][0]["physicalLocation"]["artifactLocation"];
    let top = run["originalUriBaseIds"]["SRCROOT"]["uri"].as_str().unwrap();
    (at["uri"].as_str().unwrap().to_owned(), at["uriBaseId"] == "SRCROOT", top.to_owned())
}

fn uri(path: &Path) -> String {
    format!("file://{}/", path.canonicalize().unwrap().display())
}

#[test]
fn paths_count_from_the_top_of_the_repository_from_wherever_it_is_run() {
    let bench = Bench::new(&[("repo/wheels/a.dwell", &faulty()), ("repo/brakes/b.dwell", GOOD)]);
    bench.put("elsewhere/b.dwell", GOOD.as_bytes());
    fs::create_dir(bench.path("repo/.git")).unwrap();
    let whole = bench.path("repo/wheels/a.dwell").display().to_string();
    let folder = bench.path("repo").display().to_string();
    let top = uri(&bench.path("repo"));
    for (within, path) in [
        ("repo", "."),
        ("repo", "wheels/a.dwell"),
        ("repo/wheels", "a.dwell"),
        ("repo/wheels", ".."),
        ("repo/brakes", "../wheels"),
        ("repo/brakes", &whole),
        ("repo", &folder),
        ("elsewhere", &whole),
        ("elsewhere", "../repo"),
    ] {
        let found = address(&bench, within, path);
        assert_eq!(found, ("wheels/a.dwell".to_owned(), true, top.clone()), "in {within}: {path}");
    }
}

#[test]
fn what_lies_outside_of_the_repository_has_its_whole_address() {
    let bench = Bench::new(&[("repo/b.dwell", GOOD), ("elsewhere/a.dwell", &faulty())]);
    fs::create_dir(bench.path("repo/.git")).unwrap();
    let (found, inside, top) = address(&bench, "repo", "../elsewhere/a.dwell");
    assert_eq!((found, inside), (format!("{}a.dwell", uri(&bench.path("elsewhere"))), false));
    assert_eq!(top, uri(&bench.path("repo")));
}

#[cfg(unix)]
#[test]
fn a_way_through_a_link_is_the_same_repository() {
    let bench = Bench::new(&[("repo/wheels/a.dwell", &faulty()), ("elsewhere/b.dwell", GOOD)]);
    fs::create_dir(bench.path("repo/.git")).unwrap();
    std::os::unix::fs::symlink(bench.path("repo"), bench.path("link")).unwrap();
    std::os::unix::fs::symlink(bench.path("repo/wheels"), bench.path("wheels")).unwrap();
    let through = bench.path("link/wheels/a.dwell").display().to_string();
    let top = uri(&bench.path("repo"));
    for (within, path) in [
        ("repo", &*through),
        ("repo/wheels", &through),
        ("elsewhere", &through),
        ("repo", "../link/wheels"),
        ("link/wheels", "."),
        ("elsewhere", "../wheels"),
    ] {
        let found = address(&bench, within, path);
        assert_eq!(found, ("wheels/a.dwell".to_owned(), true, top.clone()), "in {within}: {path}");
    }
}

/// A reason of its own letters, word for word; the suppression says where the waiver stands, section 3.27.23 and 3.35.
#[test]
fn what_is_waived_is_suppressed_with_its_reason_and_nothing_else_is() {
    let reason = "Kept for the record: \u{1F527} release 118, “sheet 3”.";
    let waived = GOOD.replace(
        "        measure tension",
        &format!(
            "        waive reading-unused because \"{reason}\"\n        measure spare: frequency with belt-meter\n        \
             measure tension"
        ),
    );
    let bench = Bench::new(&[("a.dwell", &waived), ("b.dwell", &faulty())]);
    let said = bench.run(&["check", "--format", "sarif", "a.dwell"]);
    assert_eq!(said.status, 0, "what is waived is no failure");
    let run = run_of(&said.out);
    let [suppression] = of_rule(&run, "reading-unused")["suppressions"].as_array().unwrap().as_slice() else {
        panic!("not one suppression: {run}");
    };
    assert_eq!(suppression["kind"], "inSource");
    assert_eq!(suppression["justification"], reason);
    let line = waived.lines().position(|line| line.contains("waive ")).unwrap() + 1;
    assert_eq!(suppression["location"]["physicalLocation"]["region"]["startLine"], line);
    let run = run_of(&bench.run(&["check", "--format", "sarif", "a.dwell", "b.dwell"]).out);
    // Said of every result where it is said of one.
    assert_eq!(of_rule(&run, "not-restored")["suppressions"], serde_json::json!([]));
    let run = run_of(&bench.run(&["check", "--format", "sarif", "b.dwell"]).out);
    assert!(of_rule(&run, "not-restored").get("suppressions").is_none(), "nothing is waived: {run}");
}
