//! Registers, good and refused: every example of the description, and what a hurried hand does to one.

use crate::{Fault, Misfit, Register, Standing, Tool, day, read};
use dwell_card::Num;
use dwell_card::limit::{self, Ability};
use dwell_card::number::{End, Range};
use dwell_quantity::Exact;
use expect_test::{Expect, expect};

fn register(text: &str) -> Register {
    read(text).unwrap_or_else(|faults| panic!("{}", shown(&faults)))
}

fn shown(faults: &[Fault]) -> String {
    faults.iter().map(|fault| format!("{fault}\n")).collect()
}

fn refused(text: &str, expected: Expect) {
    expected.assert_eq(&shown(&read(text).unwrap_err()));
}

#[test]
fn every_example_of_the_description_is_read_or_refused_as_it_says() {
    let page = include_str!("../../../grammar/TOOLS.md");
    let (mut good, mut bad) = (0, 0);
    for block in page.split("```toml").skip(1) {
        let (fence, rest) = block.split_once('\n').unwrap();
        let (text, _) = rest.split_once("```").unwrap();
        if fence.is_empty() {
            assert!(!register(text).tools.is_empty());
            good += 1;
        } else {
            assert!(read(text).is_err(), "{text}");
            bad += 1;
        }
    }
    assert_eq!((good, bad), (2, 1));
}

const WRENCH: &str = r#"
[[tool]]
number = "TW-07"
serves-as = "torque-wrench"
sets.torque = { range = "10 .. 100 lb·ft", resolution = "0.25 lb·ft", accuracy = "± 3 % of reading" }
calibrated = 2030-11-04
due = 2031-10-31

[[tool]]
number = "DMM-2"
serves-as = ["multimeter", "hv-meter"]
measures.dc-voltage = { range = "-60 .. 60 V", resolution = "0.01 V", accuracy = "± 0.1 % of reading ± 2 digits" }
calibrated = 2031-01-31
"#;

fn num(text: &str) -> Num {
    Num(text.parse().unwrap())
}

/// A tool of a card that sets or measures one kind, in base units.
fn asked(
    kind: &str,
    ends: (&str, &str),
    step: Option<&str>,
    accuracy: (Option<&str>, Option<&str>),
) -> Ability {
    let end = |text| Some(End { value: num(text), included: true });
    Ability {
        quantity: kind.to_owned(),
        kind: kind.to_owned(),
        unit: "V".to_owned(),
        range: Range { low: end(ends.0), high: end(ends.1) },
        resolution: step.map(num),
        accuracy: accuracy.0.map(num),
        accuracy_of_reading: accuracy.1.map(num),
    }
}

fn tool(measures: Vec<Ability>, sets: Vec<Ability>) -> limit::Tool {
    let (name, label) = ("tool".to_owned(), "tool".to_owned());
    limit::Tool { name, label, slots: Vec::new(), measures, sets, impedance: None, calibrated_months: None }
}

fn numbered<'a>(register: &'a Register, number: &str) -> &'a Tool {
    register.numbered(number).unwrap()
}

/// 1 lb·ft is 1.355 817 948 331 400 4 N·m exactly (NIST SP 811, 2008, appendix B.8).
#[test]
fn what_is_written_is_taken_exactly() {
    let register = register(WRENCH);
    let wrench = numbered(&register, " tw-07 ");
    let torque = &wrench.sets[0];
    assert_eq!(torque.range.1, "135.58179483314004".parse::<Exact>().unwrap());
    assert_eq!(torque.resolution, Some("0.3389544870828501".parse().unwrap()));
    assert_eq!(torque.accuracy.as_ref().unwrap().at(&Exact::whole(-100)), Exact::whole(3));
    let meter = &numbered(&register, "DMM-2").measures[0];
    assert_eq!(meter.accuracy.as_ref().unwrap().at(&Exact::whole(20)), "0.04".parse().unwrap());
    let serving: Vec<&str> = register.serving("hv-meter").map(|tool| tool.number.as_str()).collect();
    assert_eq!(serving, ["DMM-2"]);
    assert!(register.numbered("TW-08").is_none());
}

#[test]
fn a_tool_serves_only_where_it_is_good_enough() {
    let register = register(WRENCH);
    let meter = numbered(&register, "DMM-2");
    let fits = |ability: Ability| meter.misfits(&tool(vec![ability], Vec::new()));
    // At 20 V: ± 0.02 V ± 0.02 V. A procedure that allows just that is served, one that allows less is not.
    assert_eq!(fits(asked("dc-voltage", ("0", "20"), Some("0.01"), (Some("0.04"), None))), []);
    let kind = || "dc voltage".to_owned();
    assert_eq!(
        fits(asked("dc-voltage", ("0", "20"), None, (Some("0.039"), None))),
        [Misfit::Accuracy { kind: kind(), said: true }]
    );
    // ± 0.2 % allows nothing at 0 V, where the meter may be off by two digits.
    assert_eq!(
        fits(asked("dc-voltage", ("-20", "20"), None, (None, Some("0.002")))),
        [Misfit::Accuracy { kind: kind(), said: true }]
    );
    assert_eq!(fits(asked("dc-voltage", ("20", "60"), None, (None, Some("0.002")))), []);
    assert_eq!(
        fits(asked("dc-voltage", ("0", "61"), Some("0.005"), (None, None))),
        [Misfit::Range { has: "-60 .. 60 V".to_owned(), kind: kind() }, Misfit::Resolution { kind: kind() }]
    );
    assert_eq!(
        fits(asked("resistance", ("0", "1"), None, (None, None))),
        [Misfit::Kind { kind: "resistance".to_owned() }]
    );
    // What a wrench sets is not what it measures.
    let wrench = numbered(&register, "TW-07");
    let torque = || asked("torque", ("20", "120"), None, (None, Some("0.04")));
    assert_eq!(wrench.misfits(&tool(Vec::new(), vec![torque()])), []);
    assert_eq!(
        wrench.misfits(&tool(vec![torque()], Vec::new())),
        [Misfit::Kind { kind: "torque".to_owned() }]
    );
}

#[test]
fn the_earlier_of_two_last_days_counts() {
    let register = register(WRENCH);
    let on =
        |number: &str, moment: &str, months| numbered(&register, number).on(day(moment).unwrap(), months);
    let until = |text: &str| Standing::Good { until: day(text).unwrap() };
    // On the last day it is still good.
    assert_eq!(on("TW-07", "2031-10-31T23:59:59Z", None), until("2031-10-31"));
    assert_eq!(on("TW-07", "2031-10-31T09:00:00Z", Some(12)), until("2031-10-31"));
    assert_eq!(
        on("TW-07", "2031-11-01T00:00:00Z", None),
        Standing::Overdue { since: day("2031-10-31").unwrap() }
    );
    assert_eq!(
        on("TW-07", "2031-05-05T09:00:00Z", Some(6)),
        Standing::Overdue { since: day("2031-05-04").unwrap() }
    );
    // A check on the last of January is due on the last of February.
    assert_eq!(on("DMM-2", "2031-02-28T09:00:00Z", Some(1)), until("2031-02-28"));
    assert_eq!(on("DMM-2", "2031-02-28T09:00:00Z", Some(13)), until("2032-02-29"));
    assert_eq!(on("DMM-2", "2031-02-28T09:00:00Z", None), Standing::Unknown);
    assert_eq!(
        on("DMM-2", "2030-02-28T09:00:00Z", None),
        Standing::NotYet { calibrated: day("2031-01-31").unwrap() }
    );
    assert_eq!(day("2031-02-30T00:00:00Z"), None);
    assert_eq!(day("yesterday"), None);
}

#[test]
fn each_fault_says_where_and_what_to_write() {
    refused(
        r#"
[[tool]]
number = "TW-07"
serves-as = "torque-wrench"
sets.torque = { range = "10 .. 100 lbf" }

[[tool]]
number = "tw-07"
serves-as = []
measures.voltage = { range = "0 .. 10 V" }
calibrated = "2031-01-01"

[[tool]]
serves-as = "multimeter"
measures.dc-voltage = { range = "60 .. 0 V", accuracy = "0.1 V" }
measures.temperature = { range = "-30 .. 150 °C", accuracy = "± 1 % of reading" }
measures.length = { range = "0 .. 10 mm", accuracy = "± 2 digits" }
measures.angle = { resolution = "1 °" }
due = 2031-01-01
calibrated = 2031-06-01
adress = "192.0.2.7"
patience-ms = 5

[[tool]]
number = "DMM-9"
serves-as = "multimeter"
measures.dc-voltage = { range = "0 .. 60 V", ask = "MEASure:VOLTage:DC?", step = "1 V" }
"#,
        expect![[r#"
            line 5: `lbf` does not measure torque
              help: write a unit of torque, such as N·m
            line 7: nothing says what the tool `tw-07` is used as
              help: write the tool of the procedures that it is: `serves-as = "torque-wrench"`
            line 7: the number `tw-07` stands in line 2 as well
              help: each tool has a number of its own, on its label
            line 10: `voltage` is no kind of quantity
              help: write a kind such as torque, dc-voltage, length or pressure
            line 11: a day belongs here
              help: write year, month and day without quotes: `2031-04-12`
            line 13: this tool has no number
              help: write the number on its label: `number = "TW-07"`
            line 13: this tool is due on 2031-01-01, which is not after its check on 2031-06-01
              help: look at its certificate: which of the two days is wrong?
            line 15: the range `60 .. 0 V` ends where it begins, or before
              help: write the lower end first
            line 16: a part of a reading means nothing for temperature
              help: write it as `± 1 °C`
            line 17: `± 2 digits` counts digits, and nothing says how large one is
              help: write its `resolution` as well: a digit is the step that can be read
            line 18: its range is missing
              help: write `range = "0 .. 100 °"`
            line 21: `adress` is nothing that is known of a tool
              help: known: number, serves-as, measures, sets, calibrated, due, address, patience-ms, note
            line 22: this is no time to wait
              help: write a whole number of milliseconds, 10 to 60000
            line 24: `DMM-9` has a question but no address
              help: write where it is reached: `address = "192.0.2.7:5025"`
            line 27: `step` is nothing that is known of a quantity of a tool
              help: known: range, resolution, accuracy, ask
        "#]],
    );
    refused(
        "[[tool]\nnumber = 1",
        expect![[r#"
        line 1: this is no TOML: unclosed array table, expected `]`
          help: mend this line: `key = "value"`
    "#]],
    );
    refused(
        "tool = 7\ntools = []\n",
        expect![[r#"
        line 1: `tool` is nothing that a register has
          help: begin each tool with `[[tool]]`
        line 2: `tools` is nothing that a register has
          help: begin each tool with `[[tool]]`
    "#]],
    );
}
