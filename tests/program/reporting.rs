//! The forms for other programs: SARIF by the schema of OASIS and by a second validator, JUnit XML by a reader of build servers.

use super::bench::{Bench, GOOD, faulty, idle, torn};
use serde_json::Value;
use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};

/// A text with a repair, a way to a finding, another place and a waiver.
fn rich() -> [(&'static str, String); 5] {
    let waived = GOOD.replace(
        "        measure tension",
        "        waive reading-unused because \"Kept for the record.\"\n        measure spare: frequency with belt-meter\n        \
         measure tension",
    );
    [
        ("a/good.dwell", GOOD.to_owned()),
        ("a/left off.dwell", faulty()),
        ("b#1é%.dwell", waived),
        ("b/idle.dwell", idle()),
        ("b/torn.dwell", torn()),
    ]
}

fn bench() -> Bench {
    let files = rich();
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (*path, text.as_str())).collect();
    Bench::new(&files)
}

fn sarif(bench: &Bench, arguments: &[&str]) -> Value {
    let said = bench.run(&[&["check", "--format", "sarif"], arguments].concat());
    serde_json::from_str(&said.out).unwrap_or_else(|why| panic!("{why}: {}{}", said.out, said.err))
}

fn schema() -> Value {
    let path = crate::root().join("tests/outside/data/sarif/sarif-2.1.0.schema.json");
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// Runs a few lines of Python with a text at their standard input, and gives what they print.
pub(crate) fn python(program: &str, input: &str) -> String {
    answer("python3", &["-c", program], input)
}

/// Runs a program with a text at its standard input, and gives what it prints.
pub(crate) fn answer(program: &str, arguments: &[&str], input: &str) -> String {
    let mut child = Command::new(program)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap_or_else(|why| panic!("{program} does not start: {why}"));
    // A program that ends before it has read all says why itself.
    _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    let output = child.wait_with_output().unwrap();
    assert!(
        output.status.success(),
        "{}\n`tests/run` installs what this needs",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn sarif_is_valid_by_the_schema_of_oasis() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let bench = bench();
    bench.put("b/bytes.dwell", b"\xFF\xFE\x00");
    for arguments in [&["."] as &[&str], &["--deny", "hint"], &["a/good.dwell"], &["nothing.dwell"]] {
        let log = sarif(&bench, arguments);
        let wrong: Vec<String> =
            validator.iter_errors(&log).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert!(wrong.is_empty(), "{arguments:?}: {}", wrong.join("\n"));
    }
    let mut log = sarif(&bench, &["."]);
    log["runs"][0]["results"][0]["level"] = "fatal".into();
    assert!(!validator.is_valid(&log), "the schema takes a level that SARIF does not have");
}

#[test]
fn a_second_validator_agrees() {
    let program = "import json, sys, jsonschema\n\
        log, schema = json.load(sys.stdin)\n\
        for error in jsonschema.Draft7Validator(schema).iter_errors(log): print(error.json_path, error.message)";
    let log = sarif(&bench(), &["."]);
    assert_eq!(python(program, &serde_json::to_string(&(log, schema())).unwrap()), "");
}

/// The validator of the SARIF SDK knows rules of good use beside the schema: relative addresses with a base, help for each
/// rule, messages that end with a full stop, what a large forge asks for. Only the long mode of `tests/run` installs it.
#[test]
fn the_validator_of_the_sarif_sdk_agrees() {
    let Some(validator) = std::env::var_os("DWELL_SARIF_VALIDATOR") else {
        let _ = writeln!(
            std::io::stderr(),
            "skipped: only `tests/run --long` installs the SARIF SDK's validator"
        );
        return;
    };
    let bench = bench();
    let said = bench.run(&["check", "--format", "sarif", "."]);
    bench.put("log.sarif", said.out.as_bytes());
    let validate = |file: &str| {
        let output = Command::new(&validator)
            .args(["validate", file, "--rule-kind", "Sarif;Ghas"])
            .current_dir(bench.path("."))
            .env("DOTNET_SYSTEM_GLOBALIZATION_INVARIANT", "1")
            .output()
            .expect("the validator starts");
        let told = String::from_utf8_lossy(&output.stdout).into_owned();
        assert!(told.contains("1 files scanned"), "{told}{}", String::from_utf8_lossy(&output.stderr));
        let found = told.lines().filter(|line| line.contains(": warning ") || line.contains(": error "));
        found.map(str::to_owned).collect::<Vec<_>>()
    };
    let mut found = validate("log.sarif");
    // The program has no address of its own in the net yet.
    found.retain(|line| !line.contains("'informationUri'"));
    assert!(found.is_empty(), "{}", found.join("\n"));
    bench.put("bad.sarif", said.out.replace("\"startLine\"", "\"startColumn\"").as_bytes());
    assert!(!validate("bad.sarif").is_empty(), "places without a line are not told of");
}

#[test]
fn sarif_refers_to_what_is_there() {
    let log = sarif(&bench(), &["."]);
    let run = &log["runs"][0];
    let rules = run["tool"]["driver"]["rules"].as_array().unwrap();
    let results = run["results"].as_array().unwrap();
    assert!(!results.is_empty());
    for result in results {
        let index = usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap();
        assert_eq!(rules[index]["id"], result["ruleId"]);
        let at = &result["locations"][0]["physicalLocation"];
        assert_eq!(at["artifactLocation"]["uriBaseId"], "SRCROOT");
        assert!(at["region"]["startLine"].as_u64().unwrap() >= 1);
        assert!(result["suppressions"].is_array(), "said of every result or of none, section 3.27.23");
    }
    let of =
        |rule: &str| results.iter().find(|one| one["ruleId"] == rule).unwrap_or_else(|| panic!("{rule}"));
    let waived = of("reading-unused");
    assert_eq!(waived["suppressions"][0]["kind"], "inSource");
    assert_eq!(waived["suppressions"][0]["justification"], "Kept for the record.");
    assert_eq!(waived["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], "b%231%C3%A9%25.dwell");
    let left_off = of("not-restored");
    assert_eq!(left_off["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], "a/left%20off.dwell");
    assert!(left_off["relatedLocations"].as_array().is_some_and(|places| !places.is_empty()));
    let steps = left_off["codeFlows"][0]["threadFlows"][0]["locations"].as_array().unwrap();
    let words: Vec<&str> =
        steps.iter().map(|step| step["location"]["message"]["text"].as_str().unwrap()).collect();
    let guard = words.iter().position(|words| *words == "Remove the belt guard.");
    let read = words.iter().position(|words| words.starts_with("Measure"));
    assert!(guard.is_some() && guard < read, "{words:?}");
    for rule in rules {
        let page = rule["help"]["markdown"].as_str().unwrap();
        assert!(page.starts_with(&format!("# {}", rule["id"].as_str().unwrap())));
        assert!(!rule["shortDescription"]["text"].as_str().unwrap().is_empty());
    }
}

#[test]
fn sarif_says_what_could_not_be_read() {
    let bench = Bench::new(&[("a.dwell", GOOD)]);
    bench.put("b.dwell", b"\xFF\xFE\x00");
    let said = bench.run(&["check", "--format", "sarif"]);
    assert_eq!(said.status, 2);
    let log: Value = serde_json::from_str(&said.out).unwrap();
    let invocation = &log["runs"][0]["invocations"][0];
    assert_eq!(invocation["executionSuccessful"], false);
    let told = &invocation["toolExecutionNotifications"][0];
    assert_eq!(told["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], "b.dwell");
    assert!(told["message"]["text"].as_str().unwrap().contains("UTF-16"), "{told}");
}

#[test]
fn sarif_paths_begin_at_the_top_of_the_repository() {
    let bench = bench();
    fs::create_dir(bench.path(".git")).unwrap();
    let output = bench
        .command(&["check", "--format", "sarif", "left off.dwell"])
        .current_dir(bench.path("a"))
        .output()
        .unwrap();
    let log: Value = serde_json::from_slice(&output.stdout).unwrap();
    let run = &log["runs"][0];
    let at = &run["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"];
    assert_eq!(at["uri"], "a/left%20off.dwell");
    assert!(run["originalUriBaseIds"]["SRCROOT"]["uri"].as_str().unwrap().ends_with('/'));
}

#[test]
fn a_reader_of_build_servers_counts_the_same() {
    let program = "import sys, json, junitparser\n\
        xml = junitparser.JUnitXml.fromstring(sys.stdin.buffer.read())\n\
        cases = [(suite.name, case.name, [type(one).__name__ for one in case.result]) for suite in xml for case in suite]\n\
        print(json.dumps([xml.tests, xml.failures, xml.errors, cases]))";
    let bench = bench();
    bench.put("b/bytes.dwell", b"\xFF\xFE\x00");
    let said = bench.run(&["check", "--format", "junit"]);
    assert_eq!(said.status, 2, "{}", said.err);
    let counted: Value = serde_json::from_str(&python(program, &said.out)).unwrap();
    let cases = counted[3].as_array().unwrap();
    let with =
        |kind: &str| cases.iter().filter(|case| case[2].as_array().unwrap().contains(&kind.into())).count();
    assert_eq!(counted[0], cases.len());
    assert_eq!((counted[1].clone(), counted[2].clone()), (with("Failure").into(), with("Error").into()));
    assert!(
        cases
            .iter()
            .any(|case| case[0] == "a/left off.dwell" && case[1] == "belt" && case[2][0] == "Failure")
    );
    assert!(
        cases
            .iter()
            .any(|case| case[0] == "a/good.dwell" && case[1] == "belt" && case[2] == serde_json::json!([]))
    );
    assert!(cases.iter().any(|case| case[0] == "b/bytes.dwell" && case[2][0] == "Error"));
}

#[test]
fn a_denied_level_is_a_failure_in_junit() {
    let bench = Bench::new(&[("a.dwell", &idle())]);
    assert!(bench.run(&["check", "--format", "junit"]).out.contains("failures=\"0\""));
    let denied = bench.run(&["check", "--format", "junit", "--deny", "warning"]);
    assert_eq!(denied.status, 1);
    assert!(
        denied.out.contains("failures=\"1\"") && denied.out.contains("<failure message="),
        "{}",
        denied.out
    );
}

#[test]
fn lines_can_be_found_by_a_problem_matcher() {
    let said = bench().run(&["check", "--format", "lines"]);
    assert!(said.out.contains(
        "a/left off.dwell:7:9: error: the belt guard may still be out at the end [not-restored]\n"
    ));
    for line in said.out.lines() {
        let parts: Vec<&str> = line.splitn(5, ':').collect();
        assert!(parts[1].parse::<usize>().is_ok() && parts[2].parse::<usize>().is_ok(), "{line}");
        assert!(["error", "warning", "information", "hint"].contains(&parts[3].trim()), "{line}");
        assert!(line.ends_with(']'), "{line}");
    }
    assert_eq!(Bench::new(&[("a.dwell", GOOD)]).run(&["check", "--format", "lines"]).out, "");
}
