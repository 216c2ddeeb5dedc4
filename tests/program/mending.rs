//! `dwell check --fix`: what is written, what is only shown, what is left, and what is waived.

use super::bench::{Bench, GOOD, faulty};

#[test]
fn a_repair_is_shown_and_then_made() {
    let faulty = faulty();
    let bench = Bench::new(&[("a/b.dwell", &faulty), ("good.dwell", GOOD)]);
    let said = bench.run(&["check", "--fix", "--dry-run"]);
    assert_eq!(said.status, 1, "{}", said.out);
    for part in [
        "--- a/b.dwell\n",
        "+++ a/b.dwell\n",
        "@@ ",
        "+        refit belt-guard",
        "1 repair would be made in 1 file\n",
    ] {
        assert!(said.out.contains(part), "{part:?} is missing in\n{}", said.out);
    }
    assert_eq!(bench.get("a/b.dwell"), faulty, "nothing is changed yet");

    let said = bench.run(&["check", "--fix"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(
        said.out.contains("mended: a/b.dwell: write `refit belt-guard` into `restore` (not-restored)"),
        "{}",
        said.out
    );
    assert!(said.out.ends_with("1 repair made in 1 file\n"), "{}", said.out);
    assert_eq!(bench.get("good.dwell"), GOOD);
    assert_eq!(bench.run(&["check"]).status, 0);

    let said = bench.run(&["check", "--fix", "--dry-run"]);
    assert_eq!((said.status, said.out.as_str()), (0, "nothing to repair: no finding has one right repair\n"));
}

#[test]
fn settings_are_mended_and_then_what_they_find() {
    let text = GOOD.replacen("\"", "\"The dynamo. ", 1);
    let settings = "[vocabulary]\ndynamo = { use = \"generator\", becuase = \"One name.\" }\n";
    let bench = Bench::new(&[("dwell.toml", settings), ("a.dwell", &text)]);
    let said = bench.run(&["check", "--fix"]);
    assert_eq!(bench.get("dwell.toml"), settings.replace("becuase", "because"), "{}", said.out);
    assert_eq!(bench.get("a.dwell"), text.replace("dynamo", "generator"), "{}", said.out);
}

#[test]
fn what_was_mended_stands_in_the_json() {
    let bench = Bench::new(&[("a.dwell", &faulty())]);
    let said = bench.run(&["check", "--fix", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(value["errors"], 0);
    assert_eq!(value["mended"][0]["rule"], "not-restored");
    assert_eq!(value["mended"][0]["file"], "a.dwell");
}

#[test]
fn only_what_was_asked_for_is_changed() {
    let used = "item belt-guard: removable \"belt guard\"\nhazard shcok: wraning \"Kills.\"\n";
    let text = "use \"used.dwell\"\nprocedure look \"Look\" {\n    step look \"Look\" {\n        remove belt-guard\n    }\n    restore { refit belt-guard }\n}\n";
    let bench = Bench::new(&[("a.dwell", text), ("used.dwell", used)]);
    bench.run(&["check", "a.dwell", "--fix"]);
    assert_eq!(bench.get("used.dwell"), used);
    bench.run(&["check", "used.dwell", "--fix"]);
    assert!(bench.get("used.dwell").contains("shcok: warning"), "{}", bench.get("used.dwell"));
}

#[test]
fn what_is_waived_is_counted_and_listed_with_its_reason() {
    let text = faulty().replace(
        "        remove belt-guard",
        "        waive not-restored because \"The painter.\"\n        remove belt-guard",
    );
    let bench = Bench::new(&[("a.dwell", &text)]);
    let said = bench.run(&["check"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(said.out.ends_with("nothing found; 1 waived\n") && !said.out.contains("painter"), "{}", said.out);
    let said = bench.run(&["check", "--waived"]);
    assert!(said.out.contains("waived: not-restored at a.dwell:"), "{}", said.out);
    assert!(said.out.contains("because \"The painter.\""), "{}", said.out);
    let said = bench.run(&["check", "--format", "json"]);
    assert!(said.out.contains("\"because\": \"The painter.\""), "{}", said.out);
}

#[test]
fn a_waiver_needs_a_reason() {
    let text = faulty().replace(
        "        remove belt-guard",
        "        waive not-restored because \" \"\n        remove belt-guard",
    );
    let said = Bench::new(&[("a.dwell", &text)]).run(&["check"]);
    assert_eq!(said.status, 1, "{}", said.out);
    assert!(said.out.contains("`not-restored` is waived without a reason"), "{}", said.out);
}
