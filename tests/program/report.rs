//! `dwell records report`: the page of a job for a customer or a warranty file.

use super::bench::{Bench, GOOD};
use crate::page::well_formed;

fn said(html: &str) -> String {
    let mut out = String::new();
    for part in html.split('<') {
        out.push_str(part.split_once('>').map_or(part, |(_, text)| text));
    }
    out
}

#[test]
fn the_report_has_what_was_found_and_the_hash() {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    let ran = bench.fed(
        &["run", "belt.dwell", "--store", "kept", "--person", "A. Weber", "--vehicle", "1G4AH59H45G118341"],
        "\n54.6\n\n",
    );
    assert!(ran.out.contains("Result:"), "{}{}", ran.out, ran.err);
    let written = bench.run(&["records", "report", "1", "--store", "kept", "-o", "report.html"]);
    assert_eq!(
        (written.status, written.out.as_str()),
        (0, "report written to report.html\n"),
        "{}",
        written.err
    );
    let page = bench.get("report.html");
    well_formed(&page).unwrap_or_else(|why| panic!("{why}: {page}"));
    let words = said(&page);
    for part in [
        "1G4AH59H45G118341",
        "A. Weber on ",
        "56 .. 68 Hz",
        "Remove the belt guard.",
        "LOW by 1.4 Hz",
        "How to verify it",
        "Report of a job, number 1",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    // The verdicts and the hash are those of `show`.
    let shown = bench.run(&["records", "show", "1", "--store", "kept"]).out;
    let hash = shown.lines().find_map(|line| line.strip_prefix("hash ")).expect("a hash");
    assert!(words.contains(hash), "{words}");
    let result = shown.lines().find_map(|line| line.strip_prefix("RESULT: ")).expect("a result");
    assert!(words.contains(&result.to_lowercase()), "{result}: {words}");
    assert!(page.contains("size: A4") && page.contains("counter(pages)"));
    let letter = bench.run(&["records", "report", "1", "--store", "kept", "--paper", "letter"]);
    assert!(letter.out.contains("size: letter"), "{}", letter.err);
}

#[test]
fn what_was_put_right_stands_beside_what_it_replaced() {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    let ran = bench.fed(
        &["run", "belt.dwell", "--store", "kept", "--person", "A. Weber"],
        "\n62.5\ncorrect\n1\nread <upside> down\n62.9\n\n",
    );
    assert!(ran.out.contains("PASSED"), "{}{}", ran.out, ran.err);
    let page = bench.run(&["records", "report", "1", "--store", "kept"]).out;
    well_formed(&page).unwrap_or_else(|why| panic!("{why}: {page}"));
    assert!(page.contains("was noted as <s>62.5 Hz</s>, put right to <strong>62.9 Hz</strong>"), "{page}");
    assert!(page.contains("read &lt;upside&gt; down"), "{page}");
}

#[test]
fn a_job_that_goes_on_says_so_and_what_is_not_there_is_refused() {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    bench.fed(&["run", "belt.dwell", "--store", "kept"], "\n");
    let page = bench.run(&["records", "report", "1", "--store", "kept"]);
    assert!(page.out.contains("This job is not over."), "{}{}", page.out, page.err);
    for asked in [vec!["9"], vec![], vec!["x"], vec!["1", "--file", "a.jsonl"]] {
        let said = bench.run(&[&["records", "report", "--store", "kept"], &asked[..]].concat());
        assert_eq!(said.status, 2, "{asked:?}: {}", said.out);
    }
    let exported =
        bench.run(&["records", "export", "1", "--store", "kept", "--format", "jsonl", "--to", "a.jsonl"]);
    assert_eq!(exported.status, 0, "{}", exported.err);
    let of_file = bench.run(&["records", "report", "--file", "a.jsonl"]);
    assert!(of_file.status == 0 && !of_file.out.contains("number 1"), "{}", of_file.err);
}

/// A way is chosen by a limit, something is wanted to lie outside of one, samples are to be steady, a question is answered.
const BESIDES: &str = r#"tool meter: hand-held "meter" { measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V }
spec rest-limit: dc-voltage { check 12.4 .. 12.9 V  not adjustable  source "Invented." }
spec flat: dc-voltage { check 0 .. 10 V  not adjustable  source "Invented." }

procedure rest "At rest" {
    step once "Once" {
        measure rest: dc-voltage with meter
        if rest misses rest-limit {
            ask charged "Was it charged tonight?"
            expect charged is yes
            otherwise { end failed "Charge it first." }
        }
        expect rest misses flat
        otherwise { end failed "The battery is flat." }
        measure again: dc-voltage with meter every 2 s over 4 s take mean
        expect again is steady within 0.2 V
        otherwise no reading { end unfinished "Measure again." }
        otherwise { end failed "Look for a loose contact." }
    }
}
"#;

#[test]
fn what_was_decided_besides_is_told_everywhere_in_the_same_words() {
    let bench = Bench::new(&[("rest.dwell", BESIDES)]);
    let ran = bench.fed(&["run", "rest.dwell", "--store", "kept"], "12.1\nyes\n12.1 12.2 12.1\n");
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let shown = bench.run(&["records", "show", "1", "--store", "kept"]).out;
    let page = said(&bench.run(&["records", "report", "1", "--store", "kept"]).out);
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    for text in [&ran.out, &shown, &page] {
        let text = plain(text);
        for part in [
            "was it charged tonight?: yes",
            "rest misses flat: 12.10 v, yes",
            "again steady: spread 0.10 v, yes",
            "low by 0.30 v",
        ] {
            assert!(text.contains(part), "{part}: {text}");
        }
    }
    assert!(!plain(&shown).contains("rest (rest) as found and left 12.10 v not judged"), "{shown}");
    let figures = bench.run(&["records", "statistics", "--store", "kept"]).out;
    assert!(figures.contains("band 12.4 .. 12.9 V"), "{figures}");
}
