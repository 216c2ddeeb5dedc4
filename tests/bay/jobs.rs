//! Whole jobs on the page, by the forms that stand there: what is taken, what is asked back, what the record says of it.

use super::screen::{Screen, words};
use super::server::{Server, serve};
use crate::program::bench::{Bench, GOOD};
use std::io::Write;
use std::process::Stdio;
use std::time::{Duration, Instant};

const STORE: &str = "workshop.records";

fn served(files: &[(&str, &str)]) -> (Bench, Server) {
    let bench = Bench::new(files);
    let server = serve(&bench, STORE, &["belt.dwell"]);
    (bench, server)
}

/// At the reading of the belt's tension.
fn at_the_reading(server: &Server) -> Screen<'_> {
    let mut screen = Screen::new(server, "tablet");
    let answer = screen.begin(&[]);
    assert_eq!(answer.status, 303, "{}", words(&answer.body));
    screen.does("go-on", &[]);
    let asked = screen.does("done", &[]);
    assert!(asked.contains("band 56 .. 68 Hz") && asked.contains("OPEN NOW: belt guard out"), "{asked}");
    screen
}

fn shows(bench: &Bench, arguments: &[&str]) -> String {
    let mut all = vec!["records"];
    all.extend_from_slice(arguments);
    all.extend(["--store", STORE]);
    let said = bench.run(&all);
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    said.out
}

#[test]
fn a_whole_job_and_the_same_word_everywhere() {
    let (bench, server) = served(&[("belt.dwell", GOOD)]);
    let screen = at_the_reading(&server);
    let verdict = screen.does("value", &[("text", "54,6")]);
    assert!(verdict.contains("54.6 Hz") && verdict.contains("▼ LOW by 1.4 Hz"), "{verdict}");
    let back = screen.does("go-on", &[]);
    assert!(back.contains("Refit the belt guard."), "{back}");
    let over = screen.does("done", &[]);
    assert!(over.contains("✕ FAILED") && over.contains("OPEN NOW: nothing"), "{over}");
    let report = words(&screen.get("/job/1/report").body);
    for text in [report, shows(&bench, &["show", "1"]), shows(&bench, &["show", "1", "--events"])] {
        assert!(text.contains("LOW by 1.4 Hz") && text.contains("Ada Roth"), "{text}");
    }
    shows(&bench, &["verify"]);
}

#[test]
fn what_is_sent_twice_is_done_once_and_what_is_late_answers_nothing() {
    let (bench, server) = served(&[("belt.dwell", GOOD)]);
    let screen = at_the_reading(&server);
    let moment = screen.moment();
    let events = |bench: &Bench| shows(bench, &["show", "1", "--events"]).lines().count();
    assert_eq!(screen.at(&moment, "value", &[("text", "62")]).status, 303);
    let once = events(&bench);
    // The answer was lost on its way, and the form is sent again.
    assert_eq!(screen.at(&moment, "value", &[("text", "62")]).status, 303);
    // Another finger is late.
    let late = screen.at(&moment, "no-reading", &[]);
    assert_eq!(late.status, 409);
    assert!(words(&late.body).contains("not taken: it was meant for a question that is not asked any more"));
    assert_eq!(events(&bench), once);
}

#[test]
fn a_slip_is_asked_back_and_a_double_tap_does_not_keep_it() {
    let (_bench, server) = served(&[("belt.dwell", GOOD)]);
    let screen = at_the_reading(&server);
    let moment = screen.moment();
    let asked = screen.does("value", &[("text", "6.2")]);
    assert!(asked.contains("Look again") || asked.contains("shows"), "{asked}");
    assert!(asked.contains("Keep 6.2 Hz"), "{asked}");
    assert_eq!(
        screen.at(&moment, "value", &[("text", "6.2")]).status,
        303,
        "the second tap of the same form"
    );
    assert!(screen.reads().contains("Keep 6.2 Hz"), "it is still asked");
    for (typed, why) in
        [("1,234", "can be read in two ways"), ("fast", "was not taken"), ("", "nothing is typed")]
    {
        let said = screen.does("value", &[("text", typed)]);
        assert!(said.contains(why), "{typed}: {said}");
    }
    screen.does("value", &[("text", "620")]);
    let kept = screen.does("keep", &[]);
    assert!(kept.contains("▲ HIGH by 552"), "{kept}");
}

#[test]
fn stop_leads_to_what_to_make_safe_and_cannot_has_its_reason() {
    let (bench, server) = served(&[("belt.dwell", GOOD)]);
    let screen = at_the_reading(&server);
    assert!(words(&screen.get("/job/1/stop").body).contains("STOP: end this job?"));
    assert!(screen.does("cannot", &[]).contains("say why"), "a reason is needed");
    let safe = screen.does("stop", &[("text", "smoke")]);
    assert!(safe.contains("STOP: make safe first") && safe.contains("The belt guard is out"), "{safe}");
    assert!(screen.does("go-on", &[]).contains("Refit the belt guard."));
    assert!(screen.does("done", &[]).contains("UNFINISHED"));
    assert!(shows(&bench, &["show", "1"]).contains("smoke"));
}

#[test]
fn going_back_and_putting_right_ask_again() {
    let (_bench, server) = served(&[("belt.dwell", GOOD)]);
    let screen = at_the_reading(&server);
    screen.does("value", &[("text", "54.6")]);
    screen.does("go-on", &[]);
    let places = screen.get("/job/1/correct").body;
    let (_, rest) = places.split_once("name=\"to\"").unwrap();
    let to = super::screen::attribute(rest, "value");
    assert!(screen.does("correct", &[("to", &to), ("why", "")]).contains("say why"));
    let asked = screen.does("correct", &[("to", &to), ("why", "wrong belt")]);
    assert!(asked.contains("band 56 .. 68 Hz"), "{asked}");
    let verdict = screen.does("value", &[("text", "62")]);
    assert!(verdict.contains("■ in band"), "{verdict}");
}

#[test]
fn one_device_writes_and_another_takes_over_by_name() {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    let server = serve(&bench, STORE, &["belt.dwell", "--lan=127.0.0.1"]);
    let first = at_the_reading(&server);
    let mut second = Screen::another(&server, &bench, "phone");
    second.job = first.job;
    let seen = second.reads();
    assert!(seen.contains("You watch.") && seen.contains("Ada Roth"), "{seen}");
    let refused = second.at(&second.moment(), "value", &[("text", "62")]);
    assert_eq!(refused.status, 409);
    let taken = second.post("/job/1/take", &[("over", "yes"), ("name", "Ben Vogt")]);
    assert_eq!(taken.status, 303, "{}", words(&taken.body));
    assert!(second.reads().contains("Taken over"), "{}", second.reads());
    let told = first.at(&first.moment(), "value", &[("text", "62")]);
    assert_eq!(told.status, 409);
    assert!(words(&told.body).contains("Ben Vogt"), "{}", words(&told.body));
    second.does("go-on", &[]);
    assert!(second.does("value", &[("text", "62")]).contains("in band"));
    let history = shows(&bench, &["show", "1"]);
    assert!(history.contains("Ada Roth") && history.contains("Ben Vogt"), "{history}");
}

#[test]
fn a_killed_server_has_lost_nothing_and_the_job_goes_on_at_a_terminal_too() {
    let (bench, server) = served(&[("belt.dwell", GOOD)]);
    let screen = at_the_reading(&server);
    screen.does("value", &[("text", "62")]);
    drop(screen);
    drop(server);
    let said = bench.fed(&["resume", "1", "--store", STORE, "--person", "Ada Roth", "--plain"], "\n");
    assert!(said.out.contains("PASSED"), "{}{}", said.out, said.err);
}

#[test]
fn a_job_at_a_terminal_is_seen_and_taken_in_hand_when_its_program_is_gone() {
    let (bench, server) = served(&[("belt.dwell", GOOD)]);
    let mut run = bench
        .command(&["run", "belt.dwell", "--store", STORE, "--person", "Tess Lind", "--plain"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    // The guard is off, and the program waits for the reading.
    run.stdin.as_mut().unwrap().write_all(b"\n").unwrap();
    let mut screen = Screen::new(&server, "tablet");
    screen.job = 1;
    let until = |words: &str| {
        let begun = Instant::now();
        loop {
            let page = super::screen::words(&screen.get("/job/1").body);
            if page.contains(words) {
                return page;
            }
            assert!(begun.elapsed() < Duration::from_secs(20), "no {words}: {page}");
            std::thread::sleep(Duration::from_millis(100));
        }
    };
    let seen = until("OPEN NOW: belt guard out");
    assert!(seen.contains("You watch. Tess Lind"), "{seen}");
    assert_eq!(screen.post("/job/1/take", &[("name", "Ada Roth")]).status, 409, "not without saying so");
    run.kill().unwrap();
    run.wait().unwrap();
    until("Nobody here has this job in hand");
    assert_eq!(screen.post("/job/1/take", &[("name", "Ada Roth")]).status, 303);
    assert!(screen.reads().contains("The belt guard is out"), "{}", screen.reads());
    screen.does("go-on", &[]);
    assert!(screen.does("value", &[("text", "62")]).contains("in band"));
    assert!(shows(&bench, &["show", "1"]).contains("Tess Lind"));
}

#[test]
fn a_wrong_check_digit_is_asked_back_once() {
    let (bench, server) = served(&[("belt.dwell", GOOD)]);
    let mut screen = Screen::new(&server, "tablet");
    // All ones: the example of a number whose check digit fits, from memory; a two in the last place breaks it.
    let told = screen.begin(&[("vin", "11111111111111112")]);
    assert_eq!(told.status, 422);
    assert!(words(&told.body).contains("is in doubt"), "{}", words(&told.body));
    assert_eq!(screen.begin(&[("vin", "1111111111111111O")]).status, 422);
    assert_eq!(screen.begin(&[("vin", "11111111111111112"), ("seen", "11111111111111112")]).status, 303);
    assert!(shows(&bench, &["show", "1"]).contains("11111111111111112"));
}

#[test]
fn an_open_job_keeps_its_card_and_says_that_there_is_a_newer_one() {
    let (bench, server) = served(&[("belt.dwell", GOOD)]);
    let screen = at_the_reading(&server);
    assert!(!screen.reads().contains("newer card"));
    bench.put("belt.dwell", GOOD.replace("62 ± 6 Hz", "62 ± 4 Hz").as_bytes());
    std::thread::sleep(Duration::from_millis(2_200));
    let now = screen.reads();
    assert!(now.contains("There is a newer card") && now.contains("band 56 .. 68 Hz"), "{now}");
    let withdrawn = GOOD.replace(
        "\"Belt tension\" {",
        "\"Belt tension\" {\n    withdrawn on 2020-01-01 \"Use the new one.\"",
    );
    bench.put("belt.dwell", withdrawn.as_bytes());
    std::thread::sleep(Duration::from_millis(2_200));
    let now = screen.reads();
    assert!(now.contains("WITHDRAWN from 2020-01-01") && now.contains("band 56 .. 68 Hz"), "{now}");
    let first = words(&screen.get("/").body);
    assert!(first.contains("WITHDRAWN"), "{first}");
}
