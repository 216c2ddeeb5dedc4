//! `dwell paths`: the ways through a procedure in text, JSON and as cases, and that those cases end as they say.

use super::bench::{Bench, library};
use crate::merle::Merle;
use serde_json::Value;

const TYRE: &str = r#"variant wheel: steel, alloy

tool gauge: hand-held "pressure gauge" { measures gauge-pressure 0 .. 10 bar resolution 0.02 bar accuracy ± 0.02 bar }
spec front-tyre: gauge-pressure { check 2.6 ± 0.2 bar  adjust 2.6 ± 0.1 bar }

procedure tyre "Front tyre" {
    step read "Read it" {
        ask cold "Are the tyres cold?" one of yes, no
        if cold is no { end unfinished "Let them cool." }
        if wheel is alloy { note "The valve is of metal." }
        read caps: count from "the box of the caps" expected 0 .. 4
        expect caps exactly 4
        otherwise { end failed "Look for the cap." }
        measure pressure: gauge-pressure with gauge 2 times take mean
        expect pressure meets front-tyre
        otherwise {
            adjust pressure to front-tyre up to 2 times by { do "Let air in or out." }
            otherwise { end failed "Look for the leak." }
        }
    }
}
"#;

#[test]
fn the_ways_are_listed_with_what_leads_there() {
    let bench = Bench::new(&[("tyre.dwell", TYRE)]);
    let said = bench.run(&["paths", "tyre", "--variant", "wheel=steel"]);
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    expect_test::expect![[r#"
        tyre, wheel steel: 5 ways
          tyre.dwell:6:11
            1  unfinished
               cold is no
               it ends unfinished: “Let them cool”
               steps: read
            2  passed
               cold is yes
               caps is 4, in band
               pressure is 2.60 bar, in band
               steps: read
            3  failed
               cold is yes
               caps is 2, low by 2 of exactly 4
               it ends failed: “Look for the cap”
               steps: read
            4  passed
               cold is yes
               caps is 4, in band
               pressure is 2.20 bar, low by 0.20 bar of 2.4 .. 2.8 bar
               pressure is 2.20 bar, low by 0.30 bar of 2.5 .. 2.7 bar
               pressure is 2.60 bar, in band
               steps: read
            5  failed
               cold is yes
               caps is 4, in band
               pressure is 2.20 bar, low by 0.20 bar of 2.4 .. 2.8 bar
               pressure is 2.20 bar, low by 0.30 bar of 2.5 .. 2.7 bar
               pressure is 2.30 bar, low by 0.20 bar of 2.5 .. 2.7 bar
               it ends failed: “Look for the leak”
               steps: read

        5 ways, enough for every branch; the runner went each of them
    "#]]
    .assert_eq(&said.out);
}

#[test]
fn each_way_is_a_case_that_ends_as_it_says_and_every_branch_then_has_one() {
    let bench = Bench::new(&[("tyre.dwell", TYRE)]);
    let cases = bench.run(&["paths", "tyre.dwell", "--as-cases"]).out;
    let text = format!("{}{cases}}}\n", TYRE.strip_suffix("}\n").unwrap());
    bench.put("tyre.dwell", text.as_bytes());
    let said = bench.run(&["test", "tyre.dwell"]);
    assert_eq!(said.status, 0, "{cases}{}", said.out);
    assert!(said.out.contains("all end as they say\n"), "{}", said.out);
    assert!(!said.out.contains("no case:"), "{}", said.out);
    assert_eq!(bench.run(&["check", "tyre.dwell"]).status, 0);
}

#[test]
fn json_has_the_answers_and_whether_the_runner_went_the_way() {
    let bench = Bench::new(&[("tyre.dwell", TYRE)]);
    let every = |arguments: &[&str]| -> Vec<Value> {
        let said = bench.run(arguments);
        let json: Value = serde_json::from_str(&said.out).unwrap();
        let all = json["procedures"].as_array().unwrap().iter();
        all.flat_map(|of| of["ways"].as_array().unwrap().clone()).collect()
    };
    let some = every(&["paths", "--format", "json"]);
    let all = every(&["paths", "--format", "json", "--all"]);
    assert!(some.len() >= 8 && all.len() >= some.len(), "{} of {}", some.len(), all.len());
    assert!(some.iter().chain(&all).all(|way| way["confirmed"] == true));
    let ends: std::collections::BTreeSet<&str> =
        some.iter().map(|way| way["ends"].as_str().unwrap()).collect();
    assert_eq!(ends, ["failed", "passed", "unfinished"].into());
}

#[test]
fn what_is_not_there_is_said() {
    let bench = Bench::new(&[("tyre.dwell", TYRE)]);
    for arguments in [
        ["paths", "tire", "--all"],
        ["paths", "--variant", "wheel=brass"],
        ["paths", "--variant", "door=left"],
    ] {
        let said = bench.run(&arguments);
        assert_eq!(said.status, 2, "{}", said.out);
        assert!(said.says("no "), "{}", said.err);
    }
    let broken = TYRE.replace("bar  adjust", "rpm  adjust");
    bench.put("tyre.dwell", broken.as_bytes());
    assert_eq!(bench.run(&["paths"]).status, 1);
}

#[test]
fn checker_and_runner_agree_on_the_ways_of_a_part_of_the_library() {
    let bench = Bench::new(&[]);
    for file in [
        "charging/belt-and-charging.dwell",
        "high-voltage/bring-back.dwell",
        "wheels/wheel-bolts.dwell",
        // Formulas, a row of readings, tables, samples.
        "engine/compression.dwell",
        "high-voltage/insulation-by-voltmeter.dwell",
        "charging/regulated-voltage.dwell",
        "steering/steering-play.dwell",
        "exhaust/two-speed-idle.dwell",
    ] {
        let path = library().join(file);
        let said = bench.run(&["paths", path.to_str().unwrap()]);
        assert_eq!(said.status, 0, "{file}: {}", said.err);
        assert!(said.out.contains("the runner went each of them\n"), "{file}: {}", said.out);
    }
}

#[test]
fn the_ways_of_a_part_of_the_library_are_cases_that_end_as_they_say() {
    let library = Merle::read();
    for file in ["engine/compression.dwell", "high-voltage/insulation.dwell", "exhaust/two-speed-idle.dwell"]
    {
        let bench = Bench::new(&[]);
        library.files.iter().for_each(|(path, text)| bench.put(path, text.as_bytes()));
        let cases = bench.run(&["paths", file, "--as-cases"]).out;
        assert!(cases.contains(" not ") && cases.contains("case \"way 5"), "{file}: {cases}");
        let text = format!("{}{cases}}}\n", library.files[file].strip_suffix("}\n").unwrap());
        bench.put(file, text.as_bytes());
        let said = bench.run(&["test", file]);
        assert_eq!(said.status, 0, "{file}: {}", said.out);
        assert!(said.out.contains("all end as they say"), "{file}: {}", said.out);
    }
}
