//! A vehicle's number at the command line: into the record and the report, refused or doubted with a reason.

use super::bench::{Bench, Said, library};

const RIGHT: &str = "1G4AH59H45G118341";
const ROWS: &str =
    "name,value,unit\nrest,12.62,V\ntension,62.2,Hz\ntension,62.1,Hz\ntension,62.5,Hz\ncharge,14.18,V\n";

fn at(bench: &Bench, number: &str) -> Said {
    bench.put("readings.csv", ROWS.as_bytes());
    let file = library().join("charging/belt-and-charging.dwell");
    let variants = ["--variant", "engine-family=k9", "--variant", "charging=single"];
    let mut arguments = vec!["run", file.to_str().unwrap(), "--readings", "readings.csv"];
    arguments.extend(variants);
    arguments.extend(["--record", "record.jsonl", "--vehicle", number]);
    bench.run(&arguments)
}

#[test]
fn the_number_stands_in_the_first_event_and_in_the_report() {
    let bench = Bench::new(&[]);
    let said = at(&bench, &RIGHT.to_lowercase());
    assert_eq!((said.status, said.err.as_str()), (0, ""), "{}", said.out);
    assert!(said.out.contains(&format!("vehicle {RIGHT}\n")), "{}", said.out);
    let record = dwell_record::read(bench.get("record.jsonl").as_bytes()).unwrap();
    let report = dwell_record::Report::of(&record.events);
    let vehicle = report.begun.as_ref().unwrap().vehicle.clone().unwrap();
    assert_eq!(vehicle.to_string(), RIGHT);
    assert!(report.to_string().contains(&format!("\nNumber     {RIGHT}\n")), "{report}");
}

#[test]
fn a_check_digit_that_does_not_fit_is_told_and_noted_and_the_job_goes_on() {
    let bench = Bench::new(&[]);
    let said = at(&bench, &RIGHT.replace("H45", "H75"));
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    for part in ["position 9, the check digit, is `7`", "should be `4`", "Outside North America"] {
        assert!(said.says(part), "{part}: {}", said.err);
    }
    let record = bench.get("record.jsonl");
    assert!(record.lines().next().unwrap().contains("\"check-digit\":\"wrong\""), "{record}");
    assert!(said.out.contains("check digit does not fit"), "{}", said.out);
}

#[test]
fn what_is_no_number_is_refused_before_the_run() {
    let bench = Bench::new(&[]);
    for (number, words) in [("1G4OH59H45G118341", "position 4 is `O`"), ("1G4AH59H45G", "this has 11")] {
        let said = at(&bench, number);
        assert!(said.status == 2 && said.says(words), "{}{}", said.out, said.err);
        assert!(!bench.path("record.jsonl").exists());
    }
}
