//! `dwell test`: what it says of cases, in text, JSON and JUnit XML, and how it ends.

use super::bench::{Bench, library};
use std::process::Command;

const TYRE: &str = r#"tool gauge: hand-held "pressure gauge" { measures gauge-pressure 0 .. 10 bar resolution 0.02 bar accuracy ± 0.02 bar }
spec front-tyre: gauge-pressure { check 2.6 ± 0.2 bar  adjust 2.6 ± 0.1 bar }

procedure tyre "Front tyre" {
    step read "Read it" {
        measure pressure: gauge-pressure with gauge
        expect pressure meets front-tyre
        otherwise {
            adjust pressure to front-tyre up to 2 times by { do "Let air in or out." }
            otherwise { end failed "Look for the leak." }
        }
    }
    case "right <at> once & \"well\"" { pressure 2.60 bar  ends passed }
    case "low, then set" { pressure 2.10 bar, 2.60 bar  ends passed }
}
"#;

fn failing() -> String {
    TYRE.replace("2.10 bar, 2.60 bar  ends passed", "2.10 bar, 2.20 bar, 2.20 bar  ends passed")
}

#[test]
fn cases_that_end_as_they_say_are_well() {
    let bench = Bench::new(&[("tyre.dwell", TYRE)]);
    let said = bench.run(&["test"]);
    assert_eq!(said.status, 0, "{}", said.out);
    expect_test::expect![[r#"
        tyre  2 cases, all end as they say
          tyre.dwell:4:11
          no case: the adjusting of `pressure to front-tyre` is given up (line 9)
          limits: front-tyre never high; front-tyre (set to) never high
        1 procedure, 2 cases: all end as they say; 1 branch without a case
    "#]]
    .assert_eq(&said.out);
}

#[test]
fn a_case_that_ends_otherwise_is_drawn_with_its_way() {
    let bench = Bench::new(&[("tyre.dwell", &failing())]);
    let said = bench.run(&["test", "tyre.dwell"]);
    assert_eq!(said.status, 1);
    expect_test::expect![[r#"
        error: the case “low, then set” ends failed, not passed               case-fails
            ╭─[ tyre.dwell:14:72 ]
            │
          9 │             adjust pressure to front-tyre up to 2 times by { do "Let air in or out." }
            │                    ┬─────────────────────
            │                    ╰─────────────────────── pressure is 2.10 bar, low by 0.40 bar of 2.5 .. 2.7 bar
            │                    │
            │                    ╰─────────────────────── pressure is 2.20 bar, low by 0.30 bar of 2.5 .. 2.7 bar
         10 │             otherwise { end failed "Look for the leak." }
            │                         ┬──────────────────────────────
            │                         ╰──────────────────────────────── it ends failed: “Look for the leak”
            │
         14 │     case "low, then set" { pressure 2.10 bar, 2.20 bar, 2.20 bar  ends passed }
            │                                                                        ┬─────
            │                                                                        ╰─────── it ends failed
        ────╯
          With these readings a technician would come to another end than the writer has
          in mind. Its way: pressure is 2.10 bar, low by 0.30 bar of 2.4 .. 2.8 bar;
          pressure is 2.10 bar, low by 0.40 bar of 2.5 .. 2.7 bar; pressure is 2.20 bar,
          low by 0.30 bar of 2.5 .. 2.7 bar; it ends failed: “Look for the leak”.
          help: follow that way: where the procedure is right, write `ends failed`,
                otherwise mend the procedure

        tyre  1 of 2 cases not as said
          tyre.dwell:4:11
          no case: `pressure to front-tyre` is met (line 9)
          limits: front-tyre never high; front-tyre (set to) never in, never high
        1 procedure, 2 cases: 1 does not end as it says; 1 branch without a case
    "#]].assert_eq(&said.out);
}

#[test]
fn everything_that_cases_come_to_is_counted() {
    let bench = Bench::new(&[("tyre.dwell", TYRE)]);
    let said = bench.run(&["test", "--coverage"]);
    expect_test::expect![[r#"
        tyre  2 cases, all end as they say
          tyre.dwell:4:11
          cases
            as said  right <at> once & "well", ends passed
            as said  low, then set, ends passed
          steps
              2  read (line 5)
          branches
              1  `pressure meets front-tyre` does not hold (line 7)
              1  `pressure meets front-tyre` holds (line 7)
              1  `pressure to front-tyre` is adjusted (line 9)
              1  `pressure to front-tyre` is met (line 9)
              0  the adjusting of `pressure to front-tyre` is given up (line 9)
          limits: values on each side              in   low  high    at  none
            front-tyre                             1     1     0     0     0
            front-tyre (set to)                    1     1     0     0     0
        1 procedure, 2 cases: all end as they say; 1 branch without a case
    "#]]
    .assert_eq(&said.out);
}

#[test]
fn only_some_cases_are_asked_for() {
    let bench = Bench::new(&[("tyre.dwell", &failing())]);
    let said = bench.run(&["test", "--only", "Right"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(said.out.contains("1 procedure, 1 case: all end as they say\n"), "{}", said.out);
    let said = bench.run(&["test", "--only", "TYRE"]);
    assert!(said.out.contains("1 procedure, 2 cases: 1 does not end as it says\n"), "{}", said.out);
    let said = bench.run(&["test", "--only", "nobody"]);
    assert_eq!(said.status, 2);
    assert!(said.out.contains("no case to carry out"), "{}", said.out);
}

#[test]
fn what_has_an_error_is_not_tried() {
    let bench = Bench::new(&[("tyre.dwell", &TYRE.replace("2.6 ± 0.2 bar", "2.6 ± 0.2 rpm"))]);
    let said = bench.run(&["test"]);
    assert_eq!(said.status, 1);
    assert!(said.out.contains("kind-mismatch"), "{}", said.out);
    assert!(said.out.contains("2 cases: none was carried out; 1 procedure was not tried"), "{}", said.out);
    assert_eq!(bench.run(&["test", "nowhere"]).status, 2);
    assert_eq!(Bench::new(&[]).run(&["test"]).status, 2);
}

#[test]
fn json_has_each_case_and_all_that_cases_come_to() {
    let bench = Bench::new(&[("tyre.dwell", &failing())]);
    let said = bench.run(&["test", "--format", "json"]);
    assert_eq!(said.status, 1);
    let json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!((json["cases"].as_u64(), json["failed"].as_u64()), (Some(2), Some(1)));
    let procedure = &json["tested"][0];
    assert_eq!(procedure["cases"][0]["as-said"], true);
    assert_eq!(procedure["cases"][1]["ends"], "failed");
    assert_eq!(procedure["cases"][1]["failure"]["rule"], "case-fails");
    let limits = procedure["coverage"]["limits"].as_array().unwrap();
    let check = limits.iter().find(|limit| limit["set-to"] == false).unwrap();
    assert_eq!(
        (check["in"].as_u64(), check["low"].as_u64(), check["high"].as_u64()),
        (Some(1), Some(1), Some(0))
    );
    let rules = json["findings"].as_array().unwrap().iter().map(|finding| finding["rule"].as_str().unwrap());
    assert_eq!(rules.filter(|rule| *rule == "case-fails").count(), 1);
}

/// What junitparser, a library that reads JUnit XML, makes of a text: for each suite its counts as written and as counted, and
/// each test case with what is said of it.
fn read_back(bench: &Bench, xml: &str) -> String {
    bench.put("junit.xml", xml.as_bytes());
    let program = "import sys, junitparser\n\
        for suite in junitparser.JUnitXml.fromfile(sys.argv[1]):\n    \
            print(suite.name, suite.tests, suite.failures, suite.errors, len(list(suite)))\n    \
            for case in suite:\n        \
                print(' ', case.classname, '|', case.name, '|', [(type(one).__name__, one.type, one.message) for one in case.result])\n";
    let output =
        Command::new("python3").args(["-c", program]).arg(bench.path("junit.xml")).output().expect("python3");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The reader is the Python library junitparser (PyPI, version 5.0.3), which knows nothing of Dwell.
#[test]
fn junit_is_read_back_by_another_program() {
    let bench = Bench::new(&[("tyre.dwell", &failing())]);
    let said = bench.run(&["test", "--format", "junit"]);
    assert_eq!(said.status, 1);
    expect_test::expect![[r#"
        tyre 2 1 0 2
          tyre | right <at> once & "well" | []
          tyre | low, then set | [('Failure', 'case-fails', 'the case “low, then set” ends failed, not passed')]
    "#]].assert_eq(&read_back(&bench, &said.out));
    let said = bench.run(&["test", "--format", "junit", library().to_str().unwrap()]);
    assert_eq!(said.status, 0);
    let read = read_back(&bench, &said.out);
    let suites = read.lines().filter(|line| !line.starts_with(' '));
    for suite in suites {
        let counts: Vec<&str> = suite.split(' ').skip(1).collect();
        assert!(matches!(counts.as_slice(), [tests, "0", "0", counted] if tests == counted), "{suite}");
    }
    assert!(read.lines().count() > 100, "{read}");
}
