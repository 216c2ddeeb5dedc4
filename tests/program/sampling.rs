//! `dwell run` with sampled readings: typed at the terminal in one line, and from a file with their times.

use super::bench::{Bench, Said};

/// A charging voltage that is sampled and must be steady, and two gases until both are low.
const SAMPLED: &str = r#"item cap: removable "cap"
tool meter: hand-held "meter" { measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V }
tool analyser: hand-held "analyser" {
    measures hc-content 0 .. 2000 ppm resolution 1 ppm accuracy ± 5 ppm
}
spec low: hc-content { check at most 220 ppm }

procedure charge "Charging voltage" {
    step watch "Watch the voltage" {
        remove cap
        measure charge: dc-voltage with meter every 2 s over 6 s take mean
        expect charge is steady within 0.2 V
        otherwise no reading { end unfinished "Measure again." }
        otherwise { end failed "It moves." }
        measure one: hc-content, two: hc-content with analyser every 1 s over at most 9 s
            until one meets low and two meets low
        expect one meets low and two meets low
        otherwise { end failed "Too much." }
    }
    restore { refit cap }
}
"#;

fn sampled() -> Bench {
    Bench::new(&[("a.dwell", SAMPLED)])
}

fn from_file(rows: &str) -> Said {
    let bench = sampled();
    bench.put("r.csv", format!("name,value,unit,time\n{rows}").as_bytes());
    bench.run(&["run", "a.dwell", "--readings", "r.csv"])
}

const STILL: &str = "charge,14.1,V,0\ncharge,14.2,V,2\ncharge,14.1,V,4\ncharge,14.1,V,6\n";
const GASES: &str =
    "one,300,ppm,0\ntwo,100,ppm,0\none,220,ppm,1\ntwo,90,ppm,1\none,900,ppm,2\ntwo,900,ppm,2\n";

#[test]
fn a_file_with_times_is_one_measurement_while_they_rise() {
    let said = from_file(&format!("{STILL}{GASES}"));
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    for part in [
        "mean of 4, 0 s to 6 s",
        "charge steady",
        "spread 0.10 V",
        "last of 2 of 3, 0 s to 1 s, ended by its until",
        "Result: PASSED",
    ] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
    // The time falls: a second measurement of it, which nobody asked for.
    let said = from_file(&format!("{STILL}charge,9,V,0\n{GASES}"));
    assert!(said.out.contains("left over: r.csv: nothing asked for row 6 (`charge`)"), "{}", said.out);
}

#[test]
fn a_gap_is_no_reading_and_never_passes() {
    let said = from_file("charge,14.1,V,0\ncharge,14.1,V,4.5\ncharge,14.1,V,6\n");
    assert_eq!(said.status, 3, "{}{}", said.out, said.err);
    assert!(said.out.contains("gap of 4.5 s at 0 s"), "{}", said.out);
}

#[test]
fn unequal_samples_and_times_where_none_belong_are_refused() {
    let said = from_file(&format!("{STILL}one,300,ppm,0\none,220,ppm,1\ntwo,90,ppm,1\n"));
    assert_eq!(said.status, 2, "{}", said.out);
    assert!(said.out.contains("1 values here, and 2 of one"), "{}", said.out);
}

#[test]
fn a_person_types_all_values_in_one_line() {
    let bench = sampled();
    let said = bench.fed(
        &["run", "a.dwell", "--record", "r.jsonl"],
        "\n14.1\n?\n14.1 14.2 14.1\n300 220 900\n100 90\n100 90 900 ppm\n\n",
    );
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    for part in [
        "type at least 3 values with blanks between, one every 2 s: 12 12 12 V",
        "1 value was given, and 3 are needed",
        "All values come in one line.",
        "2 values here, and 3 of one",
        "spread 0.10 V",
    ] {
        assert!(said.out.contains(part), "{part} is missing in\n{}", said.out);
    }
    let record = dwell_record::read(bench.get("r.jsonl").as_bytes()).unwrap();
    assert!(record.torn.is_none() && record.events.len() > 10);
}
