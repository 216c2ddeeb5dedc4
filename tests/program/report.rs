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
