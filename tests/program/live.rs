//! `dwell run` with readings that nobody types: an instrument that is asked over the network, and a file that another program writes.

use super::bench::{Bench, Said};
use super::simulated::{Does, Simulated};
use std::fs::OpenOptions;
use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

/// A voltage over a second, two gases until both are low, a single voltage.
const SAMPLED: &str = r#"tool meter: hand-held "meter" { measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V }
tool analyser: hand-held "analyser" {
    measures hc-content 0 .. 2000 ppm resolution 1 ppm accuracy ± 5 ppm
}
spec low: hc-content { check at most 220 ppm }
spec rest-limit: dc-voltage { check 12.4 .. 12.9 V  not adjustable  source "Invented." }

procedure charge "Charging voltage" {
    step watch "Watch the voltage" {
        measure charge: dc-voltage with meter every 0.2 s over 1 s take mean
        expect charge is steady within 0.2 V
        otherwise no reading { end unfinished "Measure again." }
        otherwise { end failed "It moves." }
    }
}

procedure gases "Gases" {
    step watch "Watch the gases" {
        measure one: hc-content, two: hc-content with analyser every 0.2 s over at most 30 s
            until one meets low and two meets low
        expect one meets low and two meets low
        otherwise { end failed "Too much." }
    }
}

procedure rest "At rest" {
    step once "Once" {
        measure rest: dc-voltage with meter
        expect rest meets rest-limit
        otherwise { end failed "Charge it." }
    }
}
"#;

/// Another program, which writes rows into a file until it is dropped, or until there are so many.
struct Logger {
    on: Arc<AtomicBool>,
    writes: Option<thread::JoinHandle<()>>,
}

impl Logger {
    fn begin(
        path: PathBuf,
        every: u64,
        most: usize,
        row: impl Fn(usize) -> String + Send + 'static,
    ) -> Logger {
        let on = Arc::new(AtomicBool::new(true));
        let goes = Arc::clone(&on);
        let writes = thread::spawn(move || {
            let mut file = OpenOptions::new().append(true).open(path).unwrap();
            for number in 0..most {
                if !goes.load(Ordering::Relaxed) {
                    return;
                }
                file.write_all(row(number).as_bytes()).unwrap();
                thread::sleep(Duration::from_millis(every));
            }
        });
        Logger { on, writes: Some(writes) }
    }
}

impl Drop for Logger {
    fn drop(&mut self) {
        self.on.store(false, Ordering::Relaxed);
        self.writes.take().unwrap().join().unwrap();
    }
}

/// Carries a procedure out with a file that grows, and Enter as every answer.
fn logged(
    procedure: &str,
    every: u64,
    most: usize,
    row: impl Fn(usize) -> String + Send + 'static,
) -> (Bench, Said) {
    let bench =
        Bench::new(&[("a.dwell", SAMPLED), ("log.csv", "name,value,unit,time\ncharge,99,V,0\nrest,99,V,\n")]);
    let logger = Logger::begin(bench.path("log.csv"), every, most, row);
    let arguments = ["run", "a.dwell", "--procedure", procedure, "--live", "log.csv", "--store", "kept"];
    let said = bench.fed(&arguments, "\n\n\n\n");
    drop(logger);
    (bench, said)
}

fn record(bench: &Bench) -> String {
    assert_eq!(bench.run(&["records", "verify", "--store", "kept"]).status, 0);
    bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]).out
}

#[test]
fn a_measurement_is_taken_from_a_file_that_grows_with_its_own_times() {
    let row = |number: usize| format!("charge,14.{},V,{}.{}\n", number % 2 + 1, number / 5, number % 5 * 2);
    let (bench, said) = logged("charge", 20, 10_000, row);
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    // 0 s to 1 s every 0.2 s are six values, three of each: (3 × 14.1 + 3 × 14.2) / 6 = 14.15.
    assert!(said.out.contains("(mean of 6") && said.out.contains(", 0 s to 1 s)"), "{}", said.out);
    let record = record(&bench);
    assert!(record.contains(r#""source":"log.csv""#), "{record}");
    assert!(!record.contains(r#""text":"99""#), "what stood there before does not count: {record}");
}

#[test]
fn a_file_with_a_gap_is_no_reading_and_never_a_pass() {
    // Wherever the measurement begins: after three rows five seconds are missing.
    let row = |number: usize| format!("charge,14.1,V,{}.{}\n", number / 5 + number / 3 * 5, number % 5 * 2);
    let (_, said) = logged("charge", 20, 10_000, row);
    assert!(
        ["(gap of 5.2 s at", "(the samples end at"]
            .iter()
            .any(|why| said.out.contains(&format!("no reading {why}"))),
        "{}{}",
        said.out,
        said.err
    );
    assert_eq!(said.status, 3, "{}", said.out);
}

#[test]
fn values_that_are_cut_short_are_told_and_not_taken() {
    let (bench, said) = logged("rest", 30, 10_000, |_| "rest,12.6\n".to_owned());
    assert!(said.out.contains("this row has 2 cells, the first row has 4"), "{}{}", said.out, said.err);
    assert!(!record(&bench).contains("measured"), "nothing was taken");
    let (_, said) = logged("rest", 30, 10_000, |_| "rest,12.6,V,\n".to_owned());
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("log.csv shows 12.6 V"), "{}", said.out);
}

/// A register that has the simulated instrument, as meter and as analyser.
pub(crate) fn register(simulated: &Simulated) -> String {
    format!(
        r#"[[tool]]
number = "DMM-9"
serves-as = ["meter", "analyser"]
measures.dc-voltage = {{ range = "0 .. 60 V", resolution = "0.001 V", accuracy = "± 0.01 V", ask = "MEASure:VOLTage:DC?" }}
measures.hc-content = {{ range = "0 .. 2000 ppm", resolution = "1 ppm", accuracy = "± 5 ppm", ask = "MEASure:VOLTage:DC?" }}
address = "{}"
patience-ms = 400
calibrated = 2001-01-01
due = 2999-01-01
"#,
        simulated.address
    )
}

/// A bench with that register.
fn wired(simulated: &Simulated) -> Bench {
    let register = register(simulated);
    Bench::new(&[("a.dwell", SAMPLED), ("tools.toml", &register)])
}

fn asked(bench: &Bench, procedure: &str, tool: &str, input: &str) -> Said {
    let tool = format!("{tool}=DMM-9");
    bench.fed(&["run", "a.dwell", "--procedure", procedure, "--tool", &tool, "--store", "kept"], input)
}

#[test]
fn an_instrument_gives_its_value_with_all_digits() {
    let bench = wired(&Simulated::that(&[Does::Answers("+1.26040000E+01")]));
    let said = asked(&bench, "rest", "meter", "\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("(Enter: from DMM-9)"), "{}", said.out);
    assert!(said.out.contains("DMM-9 shows 12.6040000 V"), "{}", said.out);
    let record = record(&bench);
    for part in [r#""source":"DMM-9""#, r#""tool-number":"DMM-9""#, "12.6040000"] {
        assert!(record.contains(part), "{part}: {record}");
    }
}

#[test]
fn an_instrument_beyond_its_range_is_told_and_a_person_says_what_that_means() {
    let bench = wired(&Simulated::that(&[Does::Answers("+9.90000000E+37")]));
    let said = asked(&bench, "rest", "meter", "\nnone\n");
    assert!(said.out.contains("shows that nothing can be read: type none where it stays so"), "{}", said.out);
    assert_eq!(said.status, 1, "{}", said.out);
}

#[test]
fn a_value_that_looks_like_a_slip_is_asked_back() {
    let bench = wired(&Simulated::that(&[Does::Answers("126")]));
    let said = asked(&bench, "rest", "meter", "\n\n");
    assert!(said.out.contains("yes keeps it as it is"), "{}{}", said.out, said.err);
    assert_eq!(said.status, 3, "it is not taken: {}", said.out);
    let kept = asked(&bench, "rest", "meter", "\nyes\n");
    assert_eq!(kept.status, 1, "it is kept, and is too high: {}{}", kept.out, kept.err);
}

#[test]
fn a_measurement_ends_at_the_first_moment_at_which_it_holds() {
    let falls = ["900", "900", "600", "500", "210", "220"].map(Does::Answers);
    let bench = wired(&Simulated::that(&falls));
    let said = asked(&bench, "gases", "analyser", "\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("ended by its until"), "{}", said.out);
}

#[test]
fn an_instrument_that_falls_silent_leaves_a_gap_and_no_reading() {
    let mut plan = vec![Does::Answers("14.1"); 3];
    plan.push(Does::Silent);
    let bench = wired(&Simulated::that(&plan));
    let said = asked(&bench, "charge", "meter", "\n");
    assert!(said.out.contains("no reading ("), "{}{}", said.out, said.err);
    assert_eq!(said.status, 3, "{}", said.out);
}
