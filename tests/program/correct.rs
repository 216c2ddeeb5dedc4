//! `dwell records correct`: a value of a job that is over is put right, and both verdicts are shown.

use super::bench::{Bench, GOOD, Said};

fn bench(value: &str) -> (Bench, u64) {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    bench.fed(&["run", "belt.dwell", "--store", "kept", "--person", "A. Weber"], &format!("\n{value}\n\n"));
    let lines = bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]).out;
    let lines: Vec<serde_json::Value> =
        lines.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    let measured = lines.iter().find(|line| line["what"]["measured"].is_object()).expect("a value");
    (bench, measured["seq"].as_u64().unwrap())
}

fn correct(bench: &Bench, event: u64, more: &[&str]) -> Said {
    let event = event.to_string();
    let asked = ["records", "correct", "1", "--store", "kept", "--event", &event];
    bench.run(&[&asked[..], more].concat())
}

#[test]
fn both_verdicts_are_shown_and_the_record_is_whole() {
    let (bench, event) = bench("62.5");
    let before = bench.run(&["records", "show", "1", "--store", "kept"]).out;
    let said = correct(&bench, event, &["--value", "65.2", "--because", "misread", "--person", "B. Roth"]);
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    let words = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "B. Roth put right after the end: tension was noted as 62.5 Hz (in band), and is 65.2 Hz (in band): misread.",
        "By that the job is passed.",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    let shown = bench.run(&["records", "show", "1", "--store", "kept"]).out;
    assert!(shown.contains("PUT RIGHT AFTER THE END") && shown.contains("62.5 Hz"), "{shown}");
    let hash = |text: &str| text.lines().rev().find_map(|line| line.strip_prefix("hash ").map(str::to_owned));
    assert_ne!(hash(&before), hash(&shown));
    // The hash that was noted when the job ended still stands in the chain.
    let lines = bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]).out;
    assert!(lines.contains(&format!("\"previous\":\"{}\"", hash(&before).unwrap())), "{lines}");
    assert_eq!(bench.run(&["records", "verify", "--store", "kept"]).status, 0);
    assert!(bench.run(&["resume", "1", "--store", "kept"]).says("job 1 is over: passed"));
    let page = bench.run(&["records", "report", "1", "--store", "kept"]).out;
    crate::page::well_formed(&page).unwrap_or_else(|why| panic!("{why}: {page}"));
    assert!(page.contains("Put right after the end") && page.contains("<s>62.5 Hz</s>"), "{page}");
}

#[test]
fn where_the_job_would_have_gone_another_way_nobody_can_say_how_it_comes_out() {
    let (bench, event) = bench("62.5");
    let said = correct(&bench, event, &["--value", "52.5", "--because", "misread", "--person", "B. Roth"]);
    let words = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("is 52.5 Hz (LOW by 3.5 Hz): misread. By that the job would have gone on another way"),
        "{words}{}",
        said.err
    );
    // The result that was decided stands.
    let listed = bench.run(&["records", "list", "--store", "kept"]).out;
    assert!(listed.contains("passed"), "{listed}");
    let figures = bench.run(&["records", "statistics", "--store", "kept", "--format", "json"]).out;
    let figures: serde_json::Value = serde_json::from_str(&figures).unwrap();
    assert_eq!(figures["readings"][0]["as-found"]["low"], 1, "{figures}");
}

/// Of a measurement that was read three times all three values are given again; a comma is a decimal mark here too.
#[test]
fn a_mean_is_put_right_value_by_value() {
    let text = GOOD.replace("with belt-meter", "with belt-meter 3 times take mean");
    let bench = Bench::new(&[("belt.dwell", &text)]);
    let ran = bench
        .fed(&["run", "belt.dwell", "--store", "kept", "--person", "A. Weber"], "\n62.1\n62.4\n62.3\n\n");
    assert!(ran.out.contains("PASSED"), "{}{}", ran.out, ran.err);
    let refused = bench.run(&["records", "correct", "1", "--store", "kept"]);
    let event =
        refused.err.split("event ").nth(2).and_then(|rest| rest.split(':').next()).expect("its number");
    let event: u64 = event.parse().unwrap();
    let values = [
        "--value",
        "61,1",
        "--value",
        "61.4",
        "--value",
        "61.6",
        "--because",
        "misread",
        "--person",
        "B. Roth",
    ];
    let said = correct(&bench, event, &values);
    assert!(
        said.out.contains("tension was noted as 62.3 Hz (in band), and is") && said.out.contains("61.4"),
        "{}{}",
        said.out,
        said.err
    );
    assert_eq!(bench.run(&["records", "verify", "--store", "kept"]).status, 0);
}

#[test]
fn what_cannot_be_put_right_is_refused() {
    let (bench, event) = bench("62.5");
    let whole = ["--because", "misread", "--person", "B. Roth"];
    for (event, more, says) in [
        (event, vec![], "say which value, and the right one"),
        (event, vec!["--value", "61", "--person", "B. Roth"], "say why, in a few words"),
        (event, vec!["--value", "61", "--because", "misread"], "say who puts it right"),
        (
            event,
            [&["--value", "61", "--value", "62"], &whole[..]].concat(),
            "1 values were typed then, and 2 given now",
        ),
        (event, [&["--value", "61 V"], &whole[..]].concat(), "V"),
        (event, [&["--value", "623"], &whole[..]].concat(), "with `--meant` it is taken as it stands"),
        (1, [&["--value", "61"], &whole[..]].concat(), "the values are"),
    ] {
        let said = correct(&bench, event, &more);
        assert!(said.status == 2 && said.says(says), "{more:?}: {}{}", said.out, said.err);
    }
    let lines = bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]).out;
    assert!(!lines.contains("put-right"), "{lines}");
    bench.fed(&["run", "belt.dwell", "--store", "kept"], "\n62\n");
    let open = bench.run(
        &[
            &["records", "correct", "2", "--store", "kept", "--event", &event.to_string(), "--value", "61"],
            &whole[..],
        ]
        .concat(),
    );
    assert!(open.status == 2 && open.says("this job is not over"), "{}", open.err);
}
