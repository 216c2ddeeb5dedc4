//! `dwell format`: in place, at standard input, as a check, and hands off a text with mistakes.

use super::bench::{Bench, GOOD, torn};
use std::fs;
use std::time::{Duration, SystemTime};

/// The small procedure as somebody in a hurry types it.
fn untidy() -> String {
    GOOD.replace("    step", "step").replace(" ± ", " +- ")
}

/// One limit in each of several units, and a file that uses another one for its quantity.
const LIMITS: &str = r#"use "b.dwell"

spec rail: fuel { check 430 .. 510 kPa }
spec lash: length { check 0.22 .. 0.28 mm }
spec plug: torque {
    check 25 ± 3 N·m
    adjust 24 .. 26 N·m target 25 N·m
}
spec cap: torque { check at most 2.5 N·m }
spec coolant: temperature { check at least 85 °C }
spec idle: rotational-speed { check 800 ± 50 rpm }
spec rod: total-length { check 0.13 ± 0.06 in (1.8 .. 4.8 mm) }
"#;

#[test]
fn the_second_unit_is_written_and_taken_away() {
    let bench = Bench::new(&[
        ("a.dwell", LIMITS),
        ("b.dwell", "quantity fuel: gauge-pressure { never below 0 kPa }\n"),
    ]);
    bench.run(&["format", "."]);
    let plain = bench.get("a.dwell");
    let said = bench.run(&["format", "--second-unit", "us", "--check", "."]);
    assert_eq!((said.status, said.out.as_str()), (1, "would change: a.dwell\n"), "{}", said.err);
    assert_eq!(bench.run(&["format", "--second-unit", "us", "."]).status, 0);
    let both = bench.get("a.dwell");
    for limit in [
        "430 .. 510 kPa (62.4 .. 73.9 psi)",
        "0.22 .. 0.28 mm (0.0087 .. 0.0110 in)",
        "25 ± 3 N·m (16.3 .. 20.6 lbf·ft)",
        "24 .. 26 N·m (17.8 .. 19.1 lbf·ft) target 25 N·m (18.4 lbf·ft)",
        "at most 2.5 N·m (at most 22 lbf·in)",
        "at least 85 °C (at least 185 °F)",
        "800 ± 50 rpm }",
        "0.13 ± 0.06 in (1.8 .. 4.8 mm)",
    ] {
        assert!(both.contains(limit), "{limit} in\n{both}");
    }
    let found = bench.run(&["check", "--format", "json", "."]).out;
    assert!(!found.contains("pair-"), "what is written is right: {found}");
    assert_eq!(bench.run(&["format", "--second-unit", "us", "--check", "."]).status, 0, "once is enough");
    assert_eq!(bench.run(&["format", "--second-unit", "none", "--rewrite", "."]).status, 0);
    assert_eq!(bench.get("a.dwell"), plain.replace(" (1.8 .. 4.8 mm)", ""));
    bench.run(&["format", "--second-unit", "metric", "."]);
    assert!(bench.get("a.dwell").contains("0.13 ± 0.06 in (1.8 .. 4.8 mm)"), "{}", bench.get("a.dwell"));
    assert_eq!(bench.fed(&["format", "--second-unit", "us"], LIMITS).status, 2);
}

/// The small procedure as the formatter sets it.
const AMOUNTS: &str = r#"quantity drop: gauge-pressure { never outside 0 .. 300 kPa }
series shims: length 2.20 .. 3.20 mm steps of 0.02 mm
tool gauge: hand-held "gauge" { measures gauge-pressure 0 .. 300 kPa resolution 1 kPa accuracy ± 2 kPa }
table opening: gauge-pressure by temperature {
    at 20 °C: 90 .. 110 kPa
    at 0 °C: 95 .. 115 kPa
    between rows linear
    outside rows refuse
}

procedure look "Look" {
    step look "Look" {
        measure p: gauge-pressure with gauge
        let top: gauge-pressure = at most p + 20 kPa never above 250 kPa
        wait 2 min
        expect p meets top otherwise { end failed "Renew it." }
    }
}
"#;

#[test]
fn single_amounts_get_the_second_unit_of_the_house() {
    let bench = Bench::new(&[("a.dwell", AMOUNTS)]);
    bench.run(&["format", "."]);
    let plain = bench.get("a.dwell");
    let said = bench.run(&["format", ".", "--second-unit"]);
    assert!(said.status == 2 && said.says("no `dwell.toml` above these files"), "{}", said.err);
    bench.put("dwell.toml", b"decide = \"simple\"\n");
    let said = bench.run(&["format", ".", "--second-unit"]);
    assert!(said.status == 2 && said.says("says no `units`"), "{}", said.err);
    bench.put("dwell.toml", b"units = \"us\"\n");
    assert_eq!(bench.run(&["format", ".", "--second-unit"]).status, 0);
    let both = bench.get("a.dwell");
    for amount in [
        "never outside 0 .. 300 kPa (0 .. 43 psi)",
        "2.20 .. 3.20 mm (0.087 .. 0.125 in) steps of 0.02 mm (0.0008 in)",
        "0 .. 300 kPa (0 .. 43 psi) resolution 1 kPa (0.15 psi)",
        "accuracy ± 2 kPa (0.29 psi)",
        "at 20 °C (68 °F): 90 .. 110 kPa (13.1 .. 15.9 psi)",
        "at 0 °C (32 °F): ",
        "p + 20 kPa (2.9 psi) never above 250 kPa (36 psi)",
        "wait 2 min\n",
    ] {
        assert!(both.contains(amount), "{amount} in\n{both}");
    }
    let found = bench.run(&["check", "--format", "json", "."]).out;
    assert!(!found.contains("pair-"), "what is written is right: {found}\n{both}");
    assert_eq!(bench.run(&["format", "--second-unit", "house", "--check", "."]).status, 0, "once is enough");
    assert_eq!(bench.run(&["format", "--second-unit", "none", "--rewrite", "."]).status, 0);
    assert_eq!(bench.get("a.dwell"), plain);
}

fn tidy(bench: &Bench) -> String {
    let said = bench.fed(&["format"], GOOD);
    assert_eq!(said.status, 0, "{}", said.err);
    said.out
}

#[test]
fn a_file_is_set_in_place_and_then_left_alone() {
    let bench = Bench::new(&[("a.dwell", &untidy())]);
    let tidy = tidy(&bench);
    let said = bench.run(&["format", "--check", "."]);
    assert_eq!((said.status, said.out.as_str()), (1, "would change: a.dwell\n"));
    assert_eq!(bench.get("a.dwell"), untidy(), "a check changes nothing");
    let said = bench.run(&["format", "a.dwell"]);
    assert_eq!((said.status, said.out.as_str()), (0, "set: a.dwell\n"));
    assert_eq!(bench.get("a.dwell"), tidy);
    let said = bench.run(&["format", "--check"]);
    assert_eq!(said.status, 0, "standard input is empty, and an empty text is as it should be");
    let said = bench.run(&["format", "--check", "a.dwell"]);
    assert_eq!((said.status, said.out.as_str()), (0, ""));
}

#[test]
fn a_text_with_mistakes_keeps_its_bytes_and_its_time() {
    let text = torn().replace('\n', "\r\n");
    let bench = Bench::new(&[("a.dwell", &text), ("b.dwell", &untidy())]);
    let old = SystemTime::UNIX_EPOCH + Duration::from_secs(1_900_000_000);
    fs::File::options().write(true).open(bench.path("a.dwell")).unwrap().set_modified(old).unwrap();
    let said = bench.run(&["format", "."]);
    assert_eq!(said.status, 2);
    assert!(said.out.contains("left as it is: a.dwell") && said.out.contains("error: "), "{}", said.out);
    assert_eq!(bench.get("a.dwell"), text);
    assert_eq!(fs::metadata(bench.path("a.dwell")).unwrap().modified().unwrap(), old);
    assert_eq!(bench.get("b.dwell"), tidy(&bench), "the other file is set all the same");
}

#[test]
fn a_file_that_is_as_it_should_be_is_not_written() {
    let bench = Bench::new(&[]);
    bench.put("a.dwell", tidy(&bench).as_bytes());
    let old = SystemTime::UNIX_EPOCH + Duration::from_secs(1_900_000_000);
    fs::File::options().write(true).open(bench.path("a.dwell")).unwrap().set_modified(old).unwrap();
    assert_eq!(bench.run(&["format", "a.dwell"]).status, 0);
    assert_eq!(fs::metadata(bench.path("a.dwell")).unwrap().modified().unwrap(), old);
}

#[test]
fn line_ends_and_rights_are_kept() {
    let bench = Bench::new(&[("a.dwell", &untidy().replace('\n', "\r\n"))]);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(bench.path("a.dwell"), fs::Permissions::from_mode(0o664)).unwrap();
    }
    assert_eq!(bench.run(&["format", "a.dwell"]).status, 0);
    assert_eq!(bench.get("a.dwell"), tidy(&bench).replace('\n', "\r\n"));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(fs::metadata(bench.path("a.dwell")).unwrap().permissions().mode() & 0o777, 0o664);
    }
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link() {
    let bench = Bench::new(&[("real/a.dwell", &untidy())]);
    std::os::unix::fs::symlink("real/a.dwell", bench.path("link.dwell")).unwrap();
    assert_eq!(bench.run(&["format", "link.dwell"]).status, 0);
    assert!(fs::symlink_metadata(bench.path("link.dwell")).unwrap().is_symlink());
    assert_eq!(bench.get("real/a.dwell"), tidy(&bench));
}

#[test]
fn standard_input_goes_to_standard_output() {
    let bench = Bench::new(&[]);
    let said = bench.fed(&["format", "-"], &untidy());
    assert_eq!((said.status, said.out), (0, tidy(&bench)));
    let said = bench.fed(&["format", "-"], &torn());
    assert_eq!((said.status, said.out.as_str()), (2, ""), "no half text");
    assert!(said.says("<standard input>:"), "{}", said.err);
    assert_eq!(bench.fed(&["format", "--check"], &untidy()).status, 1);
    assert_eq!(bench.fed(&["format", "-", "a.dwell"], "").status, 2);
}
