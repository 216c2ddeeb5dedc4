//! `dwell check --since`: only what a change brought, through renames, moved lines, subfolders and files not yet tracked.

use super::bench::{Bench, GOOD, faulty, idle};

const SINCE: &[&str] = &["check", "--since", "HEAD", "--format", "lines", "--deny", "hint"];

#[test]
fn what_was_there_before_is_not_told() {
    let bench = Bench::committed(&[("a.dwell", &faulty())]);
    let said = bench.run_in(".", SINCE);
    assert_eq!((said.status, said.out.as_str()), (0, ""), "{}", said.err);
    // Lines put in above, other blanks, a renamed file: still the same finding.
    bench.put(
        "a.dwell",
        format!("# a line\n\n{}", faulty().replace("remove belt", "remove  belt")).as_bytes(),
    );
    assert_eq!(bench.run_in(".", SINCE).out, "");
    bench.git(&["mv", "a.dwell", "b c.dwell"]);
    assert_eq!(bench.run_in(".", SINCE).out, "");
    let text = bench.run_in(".", &["check", "--since", "HEAD"]).out;
    assert!(text.ends_with("since HEAD: 1 file, 1 procedure: nothing found\n"), "{text}");
}

#[test]
fn what_a_change_brought_is_told() {
    let bench = Bench::committed(&[("a.dwell", GOOD), ("b.dwell", &faulty())]);
    bench.put("a.dwell", faulty().as_bytes());
    let said = bench.run_in(".", SINCE);
    assert_eq!(said.status, 1);
    assert_eq!(said.out.lines().count(), 1, "{}", said.out);
    assert!(
        said.out.starts_with("a.dwell:7:9: error: ") && said.out.ends_with("[not-restored]\n"),
        "{}",
        said.out
    );
}

#[test]
fn both_states_are_held_to_the_settings_of_now() {
    let bench = Bench::committed(&[("a.dwell", &faulty())]);
    bench.put("dwell.toml", b"[levels]\nnot-restored = \"warning\"\n");
    assert_eq!(bench.run_in(".", SINCE).out, "", "a level that was set makes nothing new");
    bench.put("dwell.toml", b"[levels]\nnot-restord = \"warning\"\n");
    let said = bench.run_in(".", SINCE).out;
    assert!(said.starts_with("dwell.toml:2:1: error: ") && said.lines().count() == 1, "{said}");
}

#[test]
fn a_second_one_like_the_first_is_new() {
    let twice = |count: usize| {
        let read = "        measure spare: frequency with belt-meter\n";
        GOOD.replace("        measure tension", &format!("{}        measure tension", read.repeat(count)))
    };
    let bench = Bench::committed(&[("a.dwell", &twice(1))]);
    let before = bench.run_in(".", &["check", "--format", "lines"]).out.lines().count();
    bench.put("a.dwell", twice(2).as_bytes());
    let after = bench.run_in(".", &["check", "--format", "lines"]).out.lines().count();
    let new = bench.run_in(".", SINCE).out.lines().count();
    assert!(new >= 1 && new == after - before, "{before} {after} {new}");
}

#[test]
fn a_file_that_is_not_tracked_is_new() {
    let bench = Bench::committed(&[("a.dwell", &faulty())]);
    bench.put("copy.dwell", faulty().as_bytes());
    let said = bench.run_in(".", SINCE);
    assert!(said.out.starts_with("copy.dwell:7:9: ") && said.out.lines().count() == 1, "{}", said.out);
}

#[test]
fn it_works_from_a_subfolder_and_reads_used_files_of_that_time() {
    let used = "item belt-guard: removable \"belt guard\"\n";
    let rest = faulty().replace(used, "");
    let bench = Bench::committed(&[
        ("lib/things.dwell", used),
        ("work/a.dwell", &format!("use \"../lib/things.dwell\"\n{rest}")),
    ]);
    let said = bench.run_in("work", SINCE);
    assert_eq!((said.status, said.out.as_str()), (0, ""), "{}", said.err);
    // A file that is used from now on under another name: its finding is still the old one.
    bench.git(&["mv", "lib/things.dwell", "lib/items.dwell"]);
    bench.put("work/a.dwell", format!("use \"../lib/items.dwell\"\n{rest}").as_bytes());
    assert_eq!(bench.run_in("work", SINCE).out, "");
}

#[test]
fn what_is_given_to_other_programs_is_only_what_is_new() {
    let bench = Bench::committed(&[("a.dwell", &faulty())]);
    bench.put("b.dwell", idle().as_bytes());
    let said = bench.run_in(".", &["check", "--since", "HEAD", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(json["errors"], 0, "{}", said.out);
    assert!(json["findings"].as_array().unwrap().iter().all(|finding| finding["at"]["file"] == "b.dwell"));
}

#[test]
fn without_git_a_repository_or_the_revision_it_says_so() {
    let bench = Bench::committed(&[("a.dwell", GOOD)]);
    let said = bench.run_in(".", &["check", "--since", "no-such-branch"]);
    assert_eq!(said.status, 2);
    assert!(said.says("`no-such-branch` names no revision"), "{}", said.err);
    // What looks like an option of git is none.
    let said = bench.run_in(".", &["check", "--since=--output=/dev/null"]);
    assert!(said.status == 2 && said.says("names no revision"), "{}", said.err);
    let alone = Bench::new(&[("a.dwell", GOOD)]);
    let said = alone.run_in(".", &["check", "--since", "HEAD"]);
    assert!(said.status == 2 && said.says("no git repository"), "{}", said.err);
    let output = bench.command(&["check", "--since", "HEAD"]).env("PATH", "").output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no program `git`"));
}
