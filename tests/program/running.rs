//! `dwell run`: results and their exit status, refusals before and at a reading, the record, and a person at the terminal.

use super::bench::{Bench, GOOD, Said, library};

/// The demo procedure with some readings.
fn charging(bench: &Bench, readings: &str, more: &[&str]) -> Said {
    bench.put("readings.csv", readings.as_bytes());
    let file = library().join("charging/belt-and-charging.dwell");
    let mut arguments = vec!["run", file.to_str().unwrap(), "--readings", "readings.csv"];
    arguments.extend(["--variant", "engine-family=k9", "--variant", "charging=single"]);
    arguments.extend(more);
    bench.run(&arguments)
}

/// The file of a folder of the library that has this procedure.
fn file_of(folder: &str, procedure: &str) -> std::path::PathBuf {
    let head = format!("procedure {procedure} ");
    let files = std::fs::read_dir(library().join(folder)).unwrap().map(|entry| entry.unwrap().path());
    let mut texts = files.filter(|file| file.extension().is_some_and(|ending| ending == "dwell"));
    let has = |file: &std::path::PathBuf| std::fs::read_to_string(file).unwrap().contains(&head);
    texts.find(has).unwrap_or_else(|| panic!("{folder} has no procedure {procedure}"))
}

#[test]
fn every_readings_file_of_the_library_ends_as_its_name_says() {
    let bench = Bench::new(&[]);
    let mut runs = 0;
    for folder in ["charging", "cooling", "steering"] {
        for entry in std::fs::read_dir(library().join(folder).join("readings")).unwrap() {
            let readings = entry.unwrap().path();
            let name = readings.file_stem().unwrap().to_str().unwrap();
            let (procedure, ends) = name.rsplit_once('-').unwrap();
            let (failed, unfinished) = ((1, "Result: FAILED\n"), (3, "Result: UNFINISHED\n"));
            let promised: &[(i32, &str)] = match ends {
                "good" => &[(0, "Result: PASSED\n")],
                "adjusted" => &[(0, "Result: ADJUSTED AND PASSED\n")],
                "refused" => &[failed, unfinished],
                "interrupted" => &[unfinished],
                other => panic!("a readings file for {other}?"),
            };
            let file = file_of(folder, procedure);
            let card = bench.run(&["build", file.to_str().unwrap(), "-o", "cards"]);
            assert_eq!(card.status, 0, "{}", card.out);
            let card =
                dwell_card::Card::from_json(&bench.get(&format!("cards/{procedure}.card.json"))).unwrap();
            let wanted = ["engine-family=k9", "charging=single", "wheelbase=short"];
            let variants =
                wanted.iter().filter(|given| card.axes.iter().any(|axis| given.starts_with(&axis.name)));
            let mut arguments = vec!["run", file.to_str().unwrap(), "--readings", readings.to_str().unwrap()];
            arguments.extend(variants.flat_map(|given| ["--variant", *given]));
            let said = bench.run(&arguments);
            let came = |(status, words): &(i32, &str)| said.status == *status && said.out.ends_with(words);
            assert!(promised.iter().any(came), "{name}: {}\n{}{}", said.status, said.out, said.err);
            assert!(said.out.contains("Local law and the vehicle maker's manual come first."));
            assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{name}\n{}", said.out);
            runs += 1;
        }
    }
    assert!(runs >= 9, "{runs}");
}

const SLACK: &str = "name,value,unit\nrest,12.62,V\ntension,49.2,Hz\ntension,50.1,Hz\ntension,49.5,Hz\n\
                     tension,61.9,Hz\ntension,62.3,Hz\ntension,62.1,Hz\ncharge,14.18,V\n";

#[test]
fn side_and_amount_as_found_and_as_left_and_cautions_before_their_step_are_shown() {
    let bench = Bench::new(&[]);
    let said = charging(&bench, SLACK, &[]);
    for part in
        ["LOW by 6.4 Hz", "as found", "as left", "in band", "band 56 .. 68 Hz", "Result: ADJUSTED AND PASSED"]
    {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
    let warned = said.out.find("─ WARNING ─").unwrap();
    assert!(warned < said.out.find("Start the engine").unwrap(), "{}", said.out);
}

#[test]
fn low_voltage_refers_to_the_next_procedure() {
    let bench = Bench::new(&[]);
    let said = charging(&bench, &SLACK.replace("14.18", "12.9"), &[]);
    assert_eq!(said.status, 4, "{}", said.out);
    assert!(
        said.out.contains("LOW by 0.90 V") && said.out.contains("REFERRED to charging-faults"),
        "{}",
        said.out
    );
}

#[test]
fn a_need_that_is_not_met_leaves_the_job_unfinished() {
    let bench = Bench::new(&[]);
    let said = charging(&bench, &format!("{SLACK}gearbox,no,\n"), &[]);
    assert_eq!(said.status, 3, "{}", said.out);
    assert!(
        said.out.contains("Result: UNFINISHED") && said.out.contains("left over: readings.csv"),
        "{}",
        said.out
    );
}

#[test]
fn a_readings_file_is_refused_before_the_run_with_row_and_column() {
    let bench = Bench::new(&[]);
    for (from, to, words) in [
        ("12.62,V", "12.62,bar", "row 2, column `unit`: `bar` does not measure dc voltage"),
        ("12.62,V", "12.62,", "row 2, column `unit`: empty"),
        ("12.62", "", "row 2, column `value`: empty"),
        ("12.62", "nan", "row 2, column `value`: `nan` is no value"),
        ("12.62", "\"12,62\"", "row 2, column `value`: `12,62` cannot be read as a number"),
        ("rest", "rset", "row 2, column `name`: `rset` is nothing that this procedure asks for"),
        (
            "rest,12.62,V",
            "gearbox,maybe,",
            "row 2, column `value`: `maybe` does not say whether the need is met",
        ),
        ("rest,12.62,V", "rest,12,62,V", "row 2: this row has 4 cells"),
    ] {
        let said = charging(&bench, &SLACK.replace(from, to), &["--record", "record.jsonl"]);
        let one_line = said.out.replace("\n  ", " ");
        assert!(said.status == 2 && one_line.contains(words), "{words}\n{}{}", said.out, said.err);
        assert!(!said.out.contains("Before you begin") && !bench.path("record.jsonl").exists());
    }
}

#[test]
fn a_missing_row_ends_unfinished_with_everything_put_back() {
    let bench = Bench::new(&[]);
    let short: String = SLACK.lines().take(6).map(|line| format!("{line}\n")).collect();
    let said = charging(&bench, &short, &["--record", "record.jsonl"]);
    assert_eq!(said.status, 2, "{}", said.out);
    for part in [
        "missing: readings.csv: there is no row left for the reading `tension`",
        "Refit the belt guard.",
        "Result: UNFINISHED",
    ] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
    let record = dwell_record::read(bench.get("record.jsonl").as_bytes()).unwrap();
    assert_eq!(dwell_record::Report::of(&record.events).result, Some(dwell_record::Outcome::Unfinished));
}

#[test]
fn variants_are_asked_for_by_name() {
    let bench = Bench::new(&[]);
    for (variants, words) in [
        (&["charging=single"][..], "add `--variant engine-family=k9`"),
        (&["engine-family=k9", "charging=single", "doors=5"], "`doors` makes no difference"),
        (&["engine-family=k10", "charging=single"], "not written for engine-family k10, only for k9 or k9h"),
        (&["engine-family"], "engine-family=k9"),
    ] {
        let file = library().join("charging/belt-and-charging.dwell");
        let mut arguments = vec!["run", file.to_str().unwrap()];
        arguments.extend(variants.iter().flat_map(|given| ["--variant", given]));
        let said = bench.run(&arguments);
        assert!(said.status == 2 && said.says(words), "{words}\n{}", said.err);
    }
    let file = library().join("charging/belt-and-charging.dwell");
    let said = bench.run(&["run", file.to_str().unwrap()]);
    expect_test::expect![[r#"
        dwell: the card does not know the vehicle's engine-family, and what is done
          depends on it: give engine-family as k9 or k9h
          help: add `--variant engine-family=k9`, if that is what stands at the vehicle
    "#]]
    .assert_eq(&said.err);
}

#[test]
fn the_record_is_whole_and_never_written_over() {
    let bench = Bench::new(&[]);
    let said = charging(&bench, SLACK, &["--record", "record.jsonl"]);
    assert_eq!(said.status, 0, "{}", said.out);
    let written = bench.get("record.jsonl");
    let record = dwell_record::read(written.as_bytes()).unwrap();
    assert!(record.torn.is_none());
    let report = dwell_record::Report::of(&record.events);
    assert_eq!(report.result, Some(dwell_record::Outcome::AdjustedAndPassed));
    let again = charging(&bench, SLACK, &["--record", "record.jsonl"]);
    assert!(again.status == 2 && again.says("never written over"), "{}", again.err);
    assert_eq!(bench.get("record.jsonl"), written);
}

#[test]
fn a_card_runs_as_its_text_does_and_a_damaged_one_is_refused() {
    let bench = Bench::new(&[("a.dwell", GOOD), ("r.csv", "name,value,unit\ntension,62,Hz\n")]);
    assert_eq!(bench.run(&["build", "a.dwell", "-o", "."]).status, 0);
    let card = bench.run(&["run", "belt.card.json", "--readings", "r.csv"]);
    assert_eq!((card.status, card.out), (0, bench.run(&["run", "a.dwell", "--readings", "r.csv"]).out));
    let said = bench.run(&["run", "belt.card.json", "--procedure", "other"]);
    assert!(said.status == 2 && said.says("card of `belt`"), "{}", said.err);
    let text = bench.get("belt.card.json");
    bench.put("cut.card.json", &text.as_bytes()[..text.len() / 2]);
    bench.put("new.card.json", text.replacen("\"format\": 1", "\"format\": 9", 1).as_bytes());
    for (file, words) in [("cut.card.json", "this is no card"), ("new.card.json", "this card has format 9")] {
        let said = bench.run(&["run", file]);
        assert!(said.status == 2 && said.says(words), "{}", said.err);
    }
}

#[test]
fn one_of_several_procedures_is_chosen_by_name() {
    let second = GOOD.split("procedure belt ").nth(1).unwrap();
    let bench = Bench::new(&[
        ("a.dwell", &format!("{GOOD}\nprocedure second {second}")),
        ("r.csv", "name,value,unit\ntension,50,Hz\n"),
    ]);
    let said = bench.run(&["run", "a.dwell", "--readings", "r.csv"]);
    assert!(said.status == 2 && said.says("`belt`, `second`"), "{}", said.err);
    assert_eq!(bench.run(&["run", "a.dwell", "--readings", "r.csv", "--procedure", "third"]).status, 2);
    let said = bench.run(&["run", "a.dwell", "--readings", "r.csv", "--procedure", "second"]);
    assert!(said.status == 1 && said.out.contains("LOW by 6.0 Hz"), "{}", said.out);
}

#[test]
fn a_person_answers_line_by_line() {
    let bench = Bench::new(&[("a.dwell", GOOD)]);
    let said = bench.fed(&["run", "a.dwell", "--record", "r.jsonl"], "\n?\n1,234\n5 bar\n61,9\n\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    for part in [
        "Remove the belt guard.",
        "Open just now:",
        "`1,234` can be read in two ways",
        "taken as 61.9 Hz",
        "bar measures",
        "in band",
        "Refit the belt guard.",
        "Result: PASSED",
    ] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
    assert!(dwell_record::read(bench.get("r.jsonl").as_bytes()).unwrap().torn.is_none());
    let said = bench.fed(&["run", "a.dwell"], "\nnone\n\n");
    assert!(said.status == 1 && said.out.contains("no reading"), "{}", said.out);
}

#[test]
fn tools_stand_at_the_beginning_and_a_condition_beside_its_band() {
    let text = r#"
item bolt: fastener "bolt" { torque bolt-torque }
item post: port "post"
tool wrench: hand-held "torque wrench" {
    sets torque 10 .. 60 N·m resolution 0.5 N·m accuracy ± 4 % of reading
    calibrated every 12 months
}
tool meter: hand-held "volt meter" {
    measures dc-voltage -60 .. 60 V resolution 0.01 V accuracy ± 0.02 V
    impedance at least 10 MΩ
    calibrated every 1 month
}
spec bolt-torque: torque { check 30 ± 3 N·m  condition "Thread lightly oiled." }
spec rest: dc-voltage { check 12.4 .. 13.0 V  condition "Two hours after the last charge." }
procedure p "P" {
    step s "S" {
        loosen bolt
        tighten bolt with wrench
        measure volts: dc-voltage with meter
        expect volts meets rest
        otherwise { end failed "Charge it." }
    }
    restore { tighten bolt with wrench }
}
"#;
    let bench = Bench::new(&[("a.dwell", text)]);
    let said = bench.fed(&["run", "a.dwell"], "\n\n12.6\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    let tools = "  Tools\n    torque wrench: calibrated every 12 months\n    volt meter: impedance at least 10 MΩ, \
                 calibrated every month\n";
    let torque = "  Tighten the bolt to 30 ± 3 N·m with the torque wrench.\n    Thread lightly oiled.\n";
    let volts = "    band 12.4 .. 13.0 V\n    Two hours after the last charge.\n";
    for part in [tools, torque, volts] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
}

// Common practice, no source: who reads a minus, and who turns a screw with lost motion, has to know the side while doing it.
#[test]
fn what_minus_means_and_from_which_side_to_come_are_told_where_they_are_needed() {
    let text = r#"
quantity dip: slope { positive "falls" negative "rises" }
item height-screw: turnable "height screw" {
    turn moves dip
    turn has play "Come to it from below."
}
tool aim-box: hand-held "aim box" { measures slope -5 .. 5 % resolution 0.01 % accuracy ± 0.02 % }
spec beam: dip { check -1.2 ± 0.5 %  adjust -1.2 ± 0.2 % }
procedure p "P" {
    step s "S" {
        measure dip with aim-box
        expect dip meets beam
        otherwise {
            adjust dip to beam up to 4 times by { turn height-screw "Clockwise raises it." }
            otherwise { end failed "Bent." }
        }
    }
}
"#;
    let bench = Bench::new(&[("a.dwell", text)]);
    let said = bench.fed(&["run", "a.dwell"], "-0.2\n\n-1.2\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    for part in ["    plus is falls, minus is rises\n", "    Clockwise raises it. Come to it from below.\n"] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
}

// NIST SP 811 (2008), appendix B.8: 1 ft·lbf is 1.355 818 N·m, 1 psi is 6.894 757 kPa. So 27 N·m is 19.914 lbf·ft and 33 N·m is
// 24.340 lbf·ft; 430 kPa is 62.366 psi and 510 kPa is 73.969 psi. Inwards: up at the low end, down at the high end.
#[test]
fn a_band_is_shown_in_the_unit_of_the_tool_too_rounded_inwards() {
    let text = r#"
item bolt: fastener "bolt" { torque bolt-torque }
tool wrench: hand-held "torque wrench" {
    sets torque 8 .. 60 lbf·ft resolution 0.5 lbf·ft accuracy ± 4 % of reading
}
tool gauge: hand-held "gauge" {
    measures gauge-pressure 0 .. 100 psi resolution 0.5 psi accuracy ± 0.5 psi
}
spec bolt-torque: torque { check 30 ± 3 N·m }
spec fuel: gauge-pressure { check 430 .. 510 kPa }
procedure p "P" {
    step s "S" {
        loosen bolt
        tighten bolt with wrench
        measure pressure: gauge-pressure with gauge
        expect pressure meets fuel
        otherwise { end failed "Look." }
    }
    restore { tighten bolt with wrench }
}
"#;
    let bench = Bench::new(&[("a.dwell", text)]);
    let said = bench.fed(&["run", "a.dwell"], "\n\n68\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    for part in [
        "    to 30 ± 3 N·m (20.0 .. 24.3 lbf·ft) with the torque wrench\n",
        "    band 430 .. 510 kPa (62.4 .. 73.9 psi)\n",
    ] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
}

#[test]
fn stop_puts_back_and_an_end_of_input_says_what_is_open() {
    let bench = Bench::new(&[("a.dwell", GOOD)]);
    let said = bench.fed(&["run", "a.dwell"], "\nstop\nthe customer is waiting\n\n");
    assert_eq!(said.status, 3, "{}", said.out);
    assert!(
        said.out.contains("STOP (the customer is waiting)") && said.out.contains("Refit the belt guard."),
        "{}",
        said.out
    );
    let said = bench.fed(&["run", "a.dwell"], "\n");
    assert_eq!(said.status, 3, "{}", said.out);
    assert!(said.out.contains("Still open") && said.out.contains("The belt guard is"), "{}", said.out);
    assert!(said.out.contains("Result: UNFINISHED: interrupted"), "{}", said.out);
}

#[test]
fn a_step_is_signed_at_the_terminal_and_from_a_file() {
    let signed = GOOD.replace("restore {", "restore signed twice {");
    assert_ne!(signed, GOOD);
    let bench = Bench::new(&[("a.dwell", &signed)]);
    let said = bench.fed(&["run", "a.dwell"], "\n61.9\n\nA. Weber\na weber\nB. Adler\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    for part in ["two persons sign", "has signed here already", "What was put back: B. Adler (2 of 2)"] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
    let rows = "name,value,unit,at\ntension,61.9,Hz,\nSIGNATURE,A. Weber,,restore\n";
    bench.put("r.csv", rows.as_bytes());
    let said = bench.run(&["run", "a.dwell", "--readings", "r.csv"]);
    assert_eq!(said.status, 2, "{}", said.out);
    assert!(said.out.contains("the signature of a second person"), "{}", said.out);
    bench.put("r.csv", format!("{rows}SIGNATURE,B. Adler,,\n").as_bytes());
    let said = bench.run(&["run", "a.dwell", "--readings", "r.csv"]);
    assert_eq!(said.status, 0, "{}", said.out);
    bench.put("r.csv", format!("{rows}SIGNATURE,B. Adler,,tension\n").as_bytes());
    let said = bench.run(&["run", "a.dwell", "--readings", "r.csv"]);
    assert!(said.out.contains("signed here: restore"), "{}", said.out);
}

#[test]
fn what_is_held_is_shown_and_may_be_lost() {
    let held = GOOD.replace(
        "        measure tension: frequency with belt-meter\n",
        "        keep belt-guard out \"A helper holds it.\" {\n            measure tension: frequency with belt-meter\n        }\n\
         \u{20}       otherwise { end unfinished \"It slipped back.\" }\n",
    );
    assert_ne!(held, GOOD);
    let bench = Bench::new(&[("a.dwell", &held)]);
    let said = bench.fed(&["run", "a.dwell"], "lost\n\n?\nlost\n");
    assert_eq!(said.status, 3, "{}{}", said.out, said.err);
    for part in [
        "press Enter when it is done",
        "The belt guard stays out. A helper holds it.",
        "meanwhile: The belt guard stays out. Type lost",
        "Not held: the belt guard stays out",
        "It slipped back.",
    ] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
    bench.put("r.csv", b"name,value,unit\nbelt-guard,lost,\n");
    let said = bench.run(&["run", "a.dwell", "--readings", "r.csv", "--record", "r.jsonl"]);
    assert!(said.status == 3 && said.out.contains("Not held"), "{}", said.out);
    assert!(bench.get("r.jsonl").contains("\"lost\""), "{}", bench.get("r.jsonl"));
    bench.put("r.csv", b"name,value,unit\ntension,62,Hz\n");
    assert_eq!(bench.run(&["run", "a.dwell", "--readings", "r.csv"]).status, 0);
}
