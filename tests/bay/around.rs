//! What comes to a job beside answers: tools by their numbers, photos, values of an instrument.

use super::screen::{Screen, words};
use super::server::serve;
use crate::program::bench::{Bench, GOOD};

const STORE: &str = "workshop.records";

const TOOLS: &str = r#"
[[tool]]
number = "BM-1"
serves-as = "belt-meter"
measures.frequency = { range = "10 .. 500 Hz", resolution = "0.1 Hz", accuracy = "± 0.5 Hz" }
calibrated = 2020-01-15
due = 2021-01-15

[[tool]]
number = "BM-2"
serves-as = "belt-meter"
measures.frequency = { range = "10 .. 500 Hz", resolution = "0.1 Hz", accuracy = "± 0.5 Hz" }
calibrated = 2025-01-15
due = 2999-01-15
"#;

#[test]
fn a_tool_is_named_by_its_number_and_an_overdue_one_needs_somebody_who_allows_it() {
    let bench = Bench::new(&[("belt.dwell", GOOD), ("tools.toml", TOOLS)]);
    let server = serve(&bench, STORE, &["belt.dwell"]);
    let mut screen = Screen::new(&server, "tablet");
    screen.begin(&[]);
    let asked = screen.does("go-on", &[]);
    assert!(
        asked.contains("Which belt tension meter is used?") && asked.contains("BM-2: good until"),
        "{asked}"
    );
    let name = ("name", "belt-meter");
    assert!(screen.does("tool", &[name, ("text", "BM-9")]).contains("the register has no tool `BM-9`"));
    let over = screen.does("tool", &[name, ("text", "bm-1")]);
    assert!(
        over.contains("its calibration was over on 2021-01-15") && over.contains("Who allows it"),
        "{over}"
    );
    let allowed =
        screen.does("tool", &[name, ("text", "BM-1"), ("to", "Chief"), ("why", "the other one is lent")]);
    assert!(allowed.contains("Remove the belt guard."), "{allowed}");
    let said = bench.run(&["records", "show", "1", "--store", STORE]).out;
    let more = screen.does("tool", &[name, ("text", "BM-2")]);
    assert!(more.contains("Remove the belt guard."), "another one from now on: {more}");
    assert!(said.contains("BM-1") && said.contains("allowed by Chief: the other one is lent"), "{said}");
}

/// The smallest PNG there is, of one dot (PNG Specification 3.0, section 5: a signature, IHDR, IDAT, IEND); only its signature is
/// looked at, and its bytes are ASCII beyond that.
const DOT: &str = "\u{89}PNG\r\n\u{1a}\n";

#[test]
fn a_photo_belongs_to_its_place_and_its_hash_stands_in_the_record() {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    let server = serve(&bench, STORE, &["belt.dwell"]);
    let mut screen = Screen::new(&server, "tablet");
    screen.begin(&[]);
    let sent = |file: &str| {
        let body = format!(
            "--cut\r\nContent-Disposition: form-data; name=\"file\"; filename=\"x\"\r\n\r\n{file}\r\n--cut\r\n\
             Content-Disposition: form-data; name=\"text\"\r\n\r\na crack\r\n--cut--\r\n"
        );
        screen.post_as("/job/1/photo", "multipart/form-data; boundary=cut", &body)
    };
    // In UTF-8 the first byte of a PNG is two: what is no picture is refused.
    let refused = sent(DOT);
    assert_eq!(refused.status, 422, "{}", words(&refused.body));
    assert!(words(&refused.body).contains("this is no photo"));
    let answer = sent("RIFF....WEBPVP8 one dot");
    assert_eq!(answer.status, 303, "{}", words(&answer.body));
    assert_eq!(sent("RIFF....WEBPVP8 one dot").status, 303, "sent again");
    let more = screen.get("/job/1/more").body;
    assert_eq!(more.matches("<img").count(), 1, "kept once: {more}");
    let source = super::screen::attribute(more.split_once("<img").unwrap().1, "src");
    let picture = screen.get(&source);
    assert_eq!((picture.status, picture.header("content-type")), (200, Some("image/webp")));
    assert_eq!(picture.body, "RIFF....WEBPVP8 one dot");
    assert_eq!(screen.get("/job/1/photo/0123").status, 404);
    let said = bench.run(&["records", "show", "1", "--store", STORE]).out;
    assert!(said.contains("a crack; image/webp, 23 bytes, SHA-256"), "{said}");
    let verified = bench.run(&["records", "verify", "--store", STORE]);
    assert_eq!(verified.status, 0, "{}{}", verified.out, verified.err);
    let out = bench.run(&["records", "export", "1", "--format", "photos", "--to", "out", "--store", STORE]);
    assert_eq!(out.status, 0, "{}", out.err);
    assert_eq!(std::fs::read_dir(bench.path("out")).unwrap().count(), 1);
    let printed = screen.get("/job/1/report.html");
    assert!(printed.body.contains("src=\"data:image/webp;base64,"), "{}", printed.body);
}

#[test]
fn the_report_to_print_is_the_one_that_the_program_writes() {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    let server = serve(&bench, STORE, &["belt.dwell"]);
    let mut screen = Screen::new(&server, "tablet");
    screen.begin(&[]);
    screen.does("stop", &[("text", "enough")]);
    for (paper, path) in [("a4", "/job/1/report.html"), ("letter", "/job/1/report.html?paper=letter")] {
        let report = ["records", "report", "1", "--paper", paper, "--store", STORE];
        let printed = screen.get(path);
        assert_eq!(printed.body, bench.run(&report).out);
        let policy = printed.header("content-security-policy").unwrap();
        for part in ["default-src 'none'", "style-src 'unsafe-inline'", "form-action 'none'"] {
            assert!(policy.contains(part), "{policy}");
        }
        assert!(!policy.contains("script-src"), "{policy}");
    }
    let page = screen.get("/job/1/report");
    assert!(page.body.contains("href=\"/job/1/report.html\""), "{}", page.body);
    assert!(!page.header("content-security-policy").unwrap().contains("unsafe"));
    assert_eq!(screen.get("/job/2/report.html").status, 404);
}

#[test]
fn what_an_instrument_sends_is_shown_and_taken_only_by_the_technician() {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    let server = serve(&bench, STORE, &["belt.dwell"]);
    let mut screen = Screen::new(&server, "tablet");
    screen.begin(&[]);
    screen.does("go-on", &[]);
    let send = |lines: &str| screen.post_as("/job/1/stream", "text/plain", lines);
    let early = send("61.9 Hz\n");
    assert!(early.body.contains("1 came while no reading was asked for"), "{early:?}");
    screen.does("done", &[]);
    assert!(screen.does("live", &[]).contains("nothing has come from the instrument"));
    let shown = send("61.9 Hz\n62,5 Hz\n");
    assert_eq!(shown.status, 422, "a comma is refused in what a program sends: {shown:?}");
    assert_eq!(send("fast Hz\n").status, 422);
    assert_eq!(send("55.96 Hz\n").status, 200);
    let seen = screen.reads();
    assert!(
        seen.contains("55.96 Hz") && seen.contains("not taken yet"),
        "never rounded across a limit: {seen}"
    );
    std::thread::sleep(std::time::Duration::from_millis(2_300));
    assert!(screen.does("live", &[]).contains("the instrument has fallen silent"));
    assert_eq!(send("55.96 Hz\n").status, 200);
    let verdict = screen.does("live", &[]);
    assert!(verdict.contains("▼ LOW by 0.04 Hz"), "{verdict}");
}

/// Two readings at the same moments, until both are good.
const TOGETHER: &str = r#"tool analyser: hand-held "exhaust gas analyser" {
    measures co-content 0 .. 10 %vol resolution 0.01 %vol accuracy ± 0.02 %vol
    measures hc-content 0 .. 5000 ppm resolution 1 ppm accuracy ± 8 ppm
}
spec test-co: co-content { check at most 0.5 %vol  not adjustable  source "Invented." }
spec test-hc: hc-content { check at most 200 ppm  not adjustable  source "Invented." }

procedure idle-gas "Exhaust gas at idle" {
    step gas "Measure" {
        measure hc: hc-content, co: co-content with analyser after 10 s every 5 s averaging 5 s
            over at most 30 s until hc meets test-hc and co meets test-co
        expect any hc meets test-hc and co meets test-co
        otherwise { end failed "Look for a leak in the intake." }
    }
}
"#;

#[test]
fn readings_that_are_taken_together_have_their_values_from_the_same_lines() {
    let bench = Bench::new(&[("belt.dwell", TOGETHER)]);
    let server = serve(&bench, STORE, &["belt.dwell"]);
    let mut screen = Screen::new(&server, "tablet");
    screen.begin(&[]);
    screen.does("go-on", &[]);
    let send = |lines: &str| screen.post_as("/job/1/stream", "text/plain", lines);
    assert!(send("nox=1 ppm\n").body.contains("is not measured here: it is hc or co"));
    // What came before the measurement began does not count.
    assert_eq!(send("@500 hc=900 ppm; co=3 %vol\n").status, 200);
    assert!(screen.reads().contains("1 value so far"), "{}", screen.reads());
    screen.does("anew", &[]);
    let lines: String =
        [("600", "420", "0.6"), ("605", "420", "0.6"), ("610", "260", "0.5"), ("615", "150", "0.4")]
            .iter()
            .map(|(time, hc, co)| format!("@{time} hc={hc} ppm; co={co} %vol\n"))
            .collect();
    assert_eq!(send(&lines).status, 200);
    let next = screen.does("live", &[]);
    assert!(next.contains("co") && !next.contains("! "), "{next}");
    let came = screen.does("live", &[]);
    assert!(came.contains("PASSED"), "{came}");
    let report = words(&screen.get("/job/1/report").body);
    assert!(
        report.contains("150 ppm") && report.contains("0.40 %vol") && report.contains("1 of 4"),
        "{report}"
    );
}

/// The example of `grammar/reference/sampling.md`: every 2 s over 10 s, steady within 0.2 V; a gap is no reading.
const OVER_TIME: &str = r#"tool multimeter: hand-held "multimeter" {
    measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.02 V
}
spec charging-voltage: dc-voltage { check 13.8 .. 14.6 V  not adjustable  source "Invented." }

procedure voltage-over-time "Charging voltage over 10 s" {
    step voltage "Measure" {
        measure charge: dc-voltage with multimeter every 2 s over 10 s take mean
        expect charge meets charging-voltage and charge is steady within 0.2 V
        otherwise no reading { end unfinished "Measure again without a break." }
        otherwise { end failed "Look for a loose contact." }
    }
}
"#;

#[test]
fn a_reading_over_time_takes_what_was_sent_and_a_gap_is_no_reading() {
    let came = |lines: &str| {
        let bench = Bench::new(&[("belt.dwell", OVER_TIME)]);
        let server = serve(&bench, STORE, &["belt.dwell"]);
        let mut screen = Screen::new(&server, "tablet");
        screen.begin(&[]);
        screen.does("go-on", &[]);
        let sent = screen.post_as("/job/1/stream", "text/plain", lines);
        assert_eq!(sent.status, 200, "{sent:?}");
        screen.does("live", &[])
    };
    let steady = came("@0 14.1 V\n@2 14.1 V\n@4 14.2 V\n@6 14.1 V\n@8 14.1 V\n@10 14.2 V\n");
    assert!(steady.contains("in band") || steady.contains("PASSED"), "{steady}");
    let jumps = came("@0 14.1 V\n@2 13.2 V\n@4 14.2 V\n@6 13.3 V\n@8 14.1 V\n@10 14.2 V\n");
    assert!(jumps.contains("Look for a loose contact."), "{jumps}");
    let gap = came("@0 14.1 V\n@2 14.1 V\n@9 14.2 V\n@10 14.2 V\n");
    assert!(gap.contains("Measure again without a break."), "{gap}");
    let stalled = came("@0 14.1 V\n@2 14.1 V\n@4 14.1 V\n");
    assert!(stalled.contains("Measure again without a break."), "{stalled}");
}
