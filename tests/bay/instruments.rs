//! An instrument of the register gives the readings on the page: asked by the server, shown to every device, taken by one.

use super::screen::Screen;
use super::server::{Server, serve};
use crate::program::bench::Bench;
use crate::program::live::register;
use crate::program::simulated::{Does, Simulated};
use std::time::{Duration, Instant};

/// A single voltage, a voltage over a second, and two gases until both are low.
const PROCEDURES: [&str; 3] = [
    r#"tool meter: hand-held "meter" { measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V }
spec rest-limit: dc-voltage { check 12.4 .. 12.9 V  not adjustable  source "Invented." }

procedure rest "At rest" {
    step once "Once" {
        measure rest: dc-voltage with meter
        expect rest meets rest-limit
        otherwise { end failed "Charge it." }
    }
}
"#,
    r#"tool meter: hand-held "meter" { measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V }

procedure charge "Charging voltage" {
    step watch "Watch the voltage" {
        measure charge: dc-voltage with meter every 0.2 s over 1 s take mean
        expect charge is steady within 0.2 V
        otherwise no reading { end unfinished "Measure again." }
        otherwise { end failed "It moves." }
    }
}
"#,
    r#"tool meter: hand-held "analyser" {
    measures hc-content 0 .. 2000 ppm resolution 1 ppm accuracy ± 5 ppm
}
spec low: hc-content { check at most 220 ppm }

procedure gases "Gases" {
    step watch "Watch the gases" {
        measure one: hc-content, two: hc-content with meter every 0.2 s over at most 30 s
            until one meets low and two meets low
        expect one meets low and two meets low
        otherwise { end failed "Too much." }
    }
}
"#,
];

/// A bay with one procedure, and a register with the simulated instrument.
fn wired(procedure: usize, plan: &[Does]) -> (Bench, Server) {
    let (bench, server, _) = wired_to(procedure, plan);
    (bench, server)
}

/// The same with the instrument.
fn wired_to(procedure: usize, plan: &[Does]) -> (Bench, Server, Simulated) {
    let simulated = Simulated::that(plan);
    let register = register(&simulated);
    let bench = Bench::new(&[("a.dwell", PROCEDURES[procedure]), ("tools.toml", &register)]);
    let server = serve(&bench, "kept", &["a.dwell"]);
    (bench, server, simulated)
}

/// At the reading, with the tool named.
fn at_the_reading(server: &Server) -> Screen<'_> {
    let mut screen = Screen::new(server, "tablet");
    assert_eq!(screen.begin(&[]).status, 303);
    screen.does("tool", &[("name", "meter"), ("text", "DMM-9")]);
    screen
}

/// What is read on the page once it has this in it.
fn once(screen: &Screen<'_>, wanted: &str) -> String {
    let begun = Instant::now();
    loop {
        let page = screen.reads();
        if page.contains(wanted) {
            return page;
        }
        assert!(begun.elapsed() < Duration::from_secs(60), "never shown: {wanted}\n{page}");
        std::thread::sleep(Duration::from_millis(50));
    }
}

fn record(bench: &Bench) -> String {
    assert_eq!(bench.run(&["records", "verify", "--store", "kept"]).status, 0);
    bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]).out
}

#[test]
fn its_value_is_seen_by_all_and_taken_with_all_its_digits() {
    let (bench, server) = wired(0, &[Does::Answers("+1.26040000E+01")]);
    let screen = at_the_reading(&server);
    once(&screen, "DMM-9 shows, not taken yet: 12.60 V");
    assert!(!record(&bench).contains("measured"), "it is shown and not taken");
    let over = screen.does("live", &[]);
    assert!(over.contains("12.6040000 V") && over.contains("in band"), "{over}");
    let record = record(&bench);
    for part in [r#""source":"DMM-9""#, r#""tool-number":"DMM-9""#, "12.6040000"] {
        assert!(record.contains(part), "{part}: {record}");
    }
}

#[test]
fn a_value_can_be_typed_all_the_same() {
    let (bench, server) = wired(0, &[Does::Answers("+1.26040000E+01")]);
    let screen = at_the_reading(&server);
    once(&screen, "DMM-9 shows, not taken yet: 12.60 V");
    let over = screen.does("value", &[("text", "12.5")]);
    assert!(over.contains("12.50 V") && over.contains("in band"), "{over}");
    assert!(!record(&bench).contains("source"), "nobody else gave it");
}

#[test]
fn one_that_is_silent_is_told_and_gives_nothing_to_take() {
    let (bench, server) = wired(0, &[Does::Silent]);
    let screen = at_the_reading(&server);
    let page = once(&screen, "DMM-9: ");
    assert!(page.contains("nothing yet"), "{page}");
    let asked = screen.at(&screen.moment(), "live", &[]);
    assert_eq!(asked.status, 303);
    assert!(screen.reads().contains("DMM-9: "), "{}", screen.reads());
    assert!(!record(&bench).contains("measured"));
}

#[test]
fn one_that_falls_silent_is_told_and_its_last_value_is_not_taken() {
    let (bench, server) = wired(0, &[Does::Answers("12.6"), Does::Silent]);
    let screen = at_the_reading(&server);
    once(&screen, "DMM-9: ");
    screen.does("live", &[]);
    assert!(!record(&bench).contains("measured"), "{}", screen.reads());
}

#[test]
fn a_value_that_looks_like_a_slip_is_asked_back() {
    let (bench, server) = wired(0, &[Does::Answers("126")]);
    let screen = at_the_reading(&server);
    once(&screen, "126.00 V");
    let back = screen.does("live", &[]);
    assert!(back.contains("126 V") && !record(&bench).contains("measured"), "{back}");
    let over = screen.does("keep", &[]);
    assert!(over.contains("HIGH by"), "{over}");
    assert!(record(&bench).contains(r#""source":"DMM-9""#), "{}", record(&bench));
}

#[test]
fn a_measurement_over_time_begins_when_it_is_begun_and_ends_by_itself() {
    let (bench, server) = wired(1, &[Does::Answers("14.1"), Does::Answers("14.2"), Does::Answers("14.2")]);
    let screen = at_the_reading(&server);
    let page = once(&screen, "DMM-9 shows");
    assert!(page.contains("Begin to measure"), "{page}");
    screen.does("live", &[]);
    let over = once(&screen, "PASSED");
    assert!(over.contains("charge steady"), "{over}");
    let record = record(&bench);
    assert!(
        record.contains(r#""source":"DMM-9""#) && record.contains(r#""window":"0 s to 1 s""#),
        "{record}"
    );
}

#[test]
fn a_measurement_that_loses_its_instrument_is_no_reading() {
    let mut plan = vec![Does::Answers("14.1"); 4];
    plan.push(Does::Silent);
    let (_bench, server) = wired(1, &plan);
    let screen = at_the_reading(&server);
    once(&screen, "DMM-9 shows");
    screen.does("live", &[]);
    let over = once(&screen, "UNFINISHED");
    assert!(over.contains("no reading") && over.contains("Measure again."), "{over}");
}

#[test]
fn readings_that_are_taken_together_come_from_the_same_moments() {
    let falls = ["900", "900", "600", "500", "210", "220"].map(Does::Answers);
    let (bench, server) = wired(2, &falls);
    let screen = at_the_reading(&server);
    once(&screen, "DMM-9 shows");
    screen.does("live", &[]);
    let over = once(&screen, "PASSED");
    assert!(over.contains("one 210 ppm ■ in band") && over.contains("two 220 ppm ■ in band"), "{over}");
    assert!(record(&bench).contains(r#""until":true"#), "{}", record(&bench));
}

#[test]
fn a_measurement_that_was_begun_too_early_is_let_go() {
    let (bench, server) = wired(2, &[Does::Answers("900")]);
    let screen = at_the_reading(&server);
    once(&screen, "DMM-9 shows");
    let begun = screen.does("live", &[]);
    assert!(begun.contains("Measure anew"), "{begun}");
    once(&screen, "values");
    screen.does("anew", &[]);
    let page = once(&screen, "Begin to measure");
    assert!(!page.contains("measuring:"), "{page}");
    assert!(!record(&bench).contains("measured"));
}

#[test]
fn a_measurement_for_which_nothing_comes_is_told_and_can_be_begun_again() {
    let (bench, server, simulated) = wired_to(1, &[Does::Answers("14.1")]);
    let screen = at_the_reading(&server);
    once(&screen, "DMM-9 shows, not taken yet: 14.10 V");
    *simulated.plan.lock().unwrap() = [Does::Silent].into();
    screen.does("live", &[]);
    once(&screen, "! DMM-9: ");
    assert!(!record(&bench).contains("measured"));
    *simulated.plan.lock().unwrap() = [Does::Answers("14.1")].into();
    let page = once(&screen, "DMM-9 shows, not taken yet: 14.10 V");
    assert!(page.contains("Begin to measure"), "{page}");
    screen.does("live", &[]);
    once(&screen, "PASSED");
}
