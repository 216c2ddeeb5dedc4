//! `dwell records trace`: what rests on a tool that was found out of tolerance.

use super::bench::{Bench, Said};

const REGISTER: &str = r#"
[[tool]]
number = "DG-2"
serves-as = "depth-gauge"
measures.length = { range = "0 .. 300 mm", resolution = "0.01 mm", accuracy = "± 0.02 mm" }
calibrated = 2001-01-01
due = 2999-01-01

[[tool]]
number = "DG-3"
serves-as = "depth-gauge"
measures.length = { range = "0 .. 300 mm", resolution = "0.01 mm", accuracy = "± 0.02 mm" }
calibrated = 2001-01-01
due = 2999-01-01

[[tool]]
number = "TW-07"
serves-as = "torque-wrench"
sets.torque = { range = "5 .. 120 N·m", resolution = "0.5 N·m", accuracy = "± 3 % of reading" }
calibrated = 2001-01-01
due = 2999-01-01
"#;

const TEXT: &str = r#"item clamp: fastener "clamp bolt" { torque clamp-torque }
tool depth-gauge: hand-held "depth gauge" { measures length 0 .. 200 mm resolution 0.01 mm accuracy ± 0.02 mm }
tool torque-wrench: hand-held "torque wrench" { sets torque 10 .. 60 N·m resolution 0.5 N·m accuracy ± 4 % of reading }
spec clamp-torque: torque { check 20 ± 3 N·m source "Invented." condition "Thread clean and dry." }
spec slope-limit: length { check 0.20 ± 0.30 mm not adjustable }
spec height-limit: length { check 12.00 .. 13.00 mm not adjustable }
procedure shim "Shim" {
    step look "Height" {
        measure height: length with depth-gauge
        expect height meets height-limit
        otherwise { end failed "Renew the shim." }
        measure second: length with depth-gauge
        let slope: length = height - second
        expect slope meets slope-limit
        otherwise { end failed "Clean the clamp." }
    }
    step tighten "Clamp" {
        loosen clamp
        tighten clamp to clamp-torque with torque-wrench
    }
    restore { tighten clamp to clamp-torque with torque-wrench }
}
"#;

const VIN: &str = "1G4AH59H45G118341";

fn bench() -> Bench {
    let bench = Bench::new(&[("shim.dwell", TEXT), ("tools.toml", REGISTER)]);
    let run = |more: &[&str], input: &str| -> Said {
        bench.fed(&[&["run", "shim.dwell", "--store", "kept"], more].concat(), input)
    };
    let first = run(
        &["--vehicle", VIN, "--tool", "depth-gauge=DG-2", "--tool", "torque-wrench=TW-07"],
        "12.62\n11.90\n",
    );
    assert!(first.out.contains("FAILED"), "{}{}", first.out, first.err);
    let second = run(&["--tool", "depth-gauge=DG-3", "--tool", "torque-wrench=TW-07"], "12.40\n12.30\n\n\n");
    assert!(second.out.contains("PASSED"), "{}{}", second.out, second.err);
    let third = run(&[], "none\nnone\n12.50\ncorrect\n1\nslip\n12.55\n12.50\n\n\n");
    assert!(third.out.contains("PASSED"), "{}{}", third.out, third.err);
    bench
}

fn wide(said: &Said) -> bool {
    said.out.lines().any(|line| line.chars().count() > 80)
}

#[test]
fn every_verdict_of_a_tool_is_listed_with_its_vehicle() {
    let bench = bench();
    let said = bench.run(&["records", "trace", "--tool", "dg-2", "--store", "kept"]);
    assert_eq!(said.status, 0, "{}", said.err);
    for part in [
        "what rests on it, from 2001-01-01 on",
        "Vehicle 1G4AH59H45G118341",
        "height, as found and left: 12.62 mm, in band, band 12.00 .. 13.00 mm",
        "second, as found and left: 11.90 mm, not judged",
        "slope: 0.72 mm, HIGH by 0.22 mm",
        "worked out from what",
        "NOT KNOWN: it may have been used here as well",
        "Nobody noted which depth-gauge was used.",
        "height: 12.50 mm, in band, band 12.00 .. 13.00 mm, counts no more",
        "2 values measured with it, 1 worked out from these, 0 things set with it",
        "3 jobs looked through.",
    ] {
        assert!(said.out.contains(part), "{part}: {}", said.out);
    }
    assert!(!said.out.contains("12.40 mm") && !wide(&said), "{}", said.out);
    let wrench = bench.run(&["records", "trace", "--tool", "TW-07", "--store", "kept"]);
    assert!(wrench.out.contains("Tighten the clamp bolt"), "{}", wrench.out);
    assert!(wrench.out.contains("1 thing set with it"), "{}", wrench.out);
}

#[test]
fn other_programs_get_the_same() {
    let bench = bench();
    let asked = ["records", "trace", "--tool", "DG-2", "--store", "kept", "--store", "kept", "--format"];
    let csv = bench.run(&[&asked[..], &["csv"]].concat());
    assert!(csv.out.starts_with("store,job,vehicle,variants,procedure,"), "{}", csv.out);
    let rows: Vec<Vec<String>> = csv::Reader::from_reader(csv.out.as_bytes())
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect())
        .collect();
    let slope = rows.iter().find(|row| row[11] == "slope").expect("the slope");
    assert_eq!(
        (slope[10].as_str(), slope[13].as_str(), slope[14].as_str()),
        ("worked-out", "0.72 mm", "high")
    );
    let json = bench.run(&[&asked[..], &["json"]].concat());
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["version"], 1);
    // The same store was given twice: every use stands there twice.
    let uses: usize =
        json["jobs"].as_array().unwrap().iter().map(|job| job["uses"].as_array().unwrap().len()).sum();
    assert_eq!((uses, json["jobs-looked-through"].as_u64()), (rows.len(), Some(6)));
}

#[test]
fn the_day_is_asked_for_where_nobody_knows_it() {
    let bench = bench();
    let unknown = bench.run(&["records", "trace", "--tool", "DG-9", "--store", "kept"]);
    assert!(unknown.status == 2 && unknown.says("neither"), "{}", unknown.err);
    bench.put("tools.toml", b"[[tool]]\nnumber = \"DG-9\"\nserves-as = \"depth-gauge\"\nmeasures.length = { range = \"0 .. 300 mm\" }\n");
    let unknown = bench.run(&["records", "trace", "--tool", "DG-9", "--store", "kept"]);
    assert!(
        unknown.status == 2 && unknown.says("nobody knows when DG-9 was last found good"),
        "{}",
        unknown.err
    );
    let noted = bench.run(&["records", "trace", "--tool", "DG-3", "--store", "kept"]);
    let words = noted.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("the last good check that a record noted"), "{}{}", noted.out, noted.err);
    let late = bench.run(&["records", "trace", "--tool", "DG-3", "--store", "kept", "--since", "2998-01-01"]);
    assert!(late.status == 0 && late.out.contains("Nothing is noted of DG-3 in that time."), "{}", late.out);
    for (since, until) in
        [("2031-02-30", "2031-03-01"), ("31-02-03", "2031-03-01"), ("2031-03-01", "2031-02-01")]
    {
        let days = ["--since", since, "--until", until];
        let said =
            bench.run(&[&["records", "trace", "--tool", "DG-3", "--store", "kept"], &days[..]].concat());
        assert_eq!(said.status, 2, "{since} {until}: {}", said.out);
    }
}
