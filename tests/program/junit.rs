//! JUnit XML held against a published schema: junit-10.xsd of the xUnit plugin for Jenkins (tests/outside/data/junit/SOURCE.md).

use super::bench::{Bench, GOOD, faulty, idle, library, torn};
use super::reporting::python;

/// What the schema has against a text, a line each; the validator is libxml2, by the Python package lxml.
fn against(xml: &str) -> Vec<String> {
    let program = "import sys\n\
        from lxml import etree\n\
        schema = etree.XMLSchema(etree.parse('outside/data/junit/junit-10.xsd'))\n\
        schema.validate(etree.fromstring(sys.stdin.buffer.read()))\n\
        for error in schema.error_log: print(error.line, error.message)";
    python(program, xml).lines().map(str::to_owned).collect()
}

/// Of `dwell test`: cases that end as they say, one that does not, procedures that were not tried, a branch without a case that
/// is an error, and texts that XML must escape.
fn tested() -> String {
    let tyre = r#"tool gauge: hand-held "pressure gauge" { measures gauge-pressure 0 .. 10 bar resolution 0.02 bar accuracy ± 0.02 bar }
spec front-tyre: gauge-pressure { check 2.6 ± 0.2 bar  not adjustable }

procedure tyre "Front tyre" {
    step read "Read it" {
        measure pressure: gauge-pressure with gauge
        expect pressure meets front-tyre
        otherwise low { end failed "Look for the leak." }
        otherwise { end failed "Let air out." }
    }
    case "right <at> once & \"well\" ]]>" { pressure 2.60 bar  ends passed }
    case "low" { pressure 2.10 bar  ends passed }
}
"#;
    let bench = Bench::new(&[
        ("tyre.dwell", tyre),
        ("open.dwell", &tyre.replace("± 0.2 bar", "± 0.2 rpm").replace("procedure tyre", "procedure other")),
        ("dwell.toml", "[levels]\nbranch-without-case = \"error\"\n"),
    ]);
    let said = bench.run(&["test", "--format", "junit"]);
    assert_eq!(said.status, 1, "{}", said.err);
    for part in ["<failure ", "<error ", "branches without a case", " line=\"11\""] {
        assert!(said.out.contains(part), "no {part}: {}", said.out);
    }
    said.out
}

/// Of `dwell check`: an error, a warning, a text that cannot be read as Dwell, bytes that are none.
fn checked() -> String {
    let bench = Bench::new(&[
        ("a/good.dwell", GOOD),
        ("a/left off.dwell", &faulty()),
        ("b/idle.dwell", &idle()),
        ("b/torn.dwell", &torn()),
    ]);
    bench.put("b/bytes.dwell", b"\xFF\xFE\x00");
    let said = bench.run(&["check", "--format", "junit"]);
    assert_eq!(said.status, 2, "{}", said.err);
    for part in ["<failure ", "<error ", "<system-out>"] {
        assert!(said.out.contains(part), "no {part}: {}", said.out);
    }
    said.out
}

#[test]
fn it_is_valid_by_the_schema() {
    assert_eq!(against(&tested()), [""; 0]);
    assert_eq!(against(&checked()), [""; 0]);
    let library = library();
    for command in ["test", "check"] {
        let said = Bench::new(&[]).run(&[command, "--format", "junit", library.to_str().unwrap()]);
        assert_eq!(said.status, 0, "{}", said.err);
        assert_eq!(against(&said.out), [""; 0], "dwell {command}");
    }
    let nothing = Bench::new(&[("parts.dwell", "variant trim: plain, rich\n")]);
    assert_eq!(against(&nothing.run(&["check", "--format", "junit"]).out), [""; 0]);
}

/// The schema is no stub: each of these is wrong, and is told.
#[test]
fn what_is_broken_is_told() {
    let xml = tested();
    let breaks = [
        ("<testsuites ", "<testsuites skipped=\"0\" ", "'skipped' is not allowed"),
        ("<testsuite name=", "<testsuite title=", "'title' is not allowed"),
        ("<testcase name=", "<testcase nmae=", "'nmae' is not allowed"),
        (" classname=", " class-name=", "'class-name' is not allowed"),
        (" line=", " row=", "'row' is not allowed"),
        ("<failure message=", "<failure text=", "'text' is not allowed"),
        ("<error ", "<error line=\"1\" ", "'line' is not allowed"),
    ];
    for (right, wrong, told) in breaks {
        assert!(xml.contains(right), "{right}: {xml}");
        let found = against(&xml.replacen(right, wrong, 1));
        assert!(found.iter().any(|line| line.contains(told)), "{wrong}: {found:?}");
    }
    let counts = xml.find(" tests=\"2\"").expect("the count of a suite");
    let (before, after) = xml.split_at(counts);
    let found = against(&format!("{before}{}", after.replacen(" tests=\"2\"", "", 1)));
    assert!(found.iter().any(|line| line.contains("'tests' is required")), "{found:?}");
}
