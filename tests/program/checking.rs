//! `dwell check`, `rules`, `explain` and `build`: status, pipes, colour, JSON, long lines, files that are no text.

use super::bench::{Bench, GOOD, Said, faulty, idle, library, said, torn};
use std::io::{BufRead, BufReader};
use std::process::Stdio;

fn status(files: &[(&str, &str)], arguments: &[&str]) -> i32 {
    let said = Bench::new(files).run(arguments);
    assert!(!said.says("panicked"), "{}", said.err);
    said.status
}

#[test]
fn the_exit_status_is_the_documented_one() {
    let (faulty, idle, torn) = (faulty(), idle(), torn());
    type Row<'a> = (&'a str, &'a [(&'a str, &'a str)], &'a [&'a str], i32);
    let rows: &[Row] = &[
        ("clean", &[("a.dwell", GOOD)], &["check"], 0),
        ("a warning", &[("a.dwell", &idle)], &["check"], 0),
        ("a denied warning", &[("a.dwell", &idle)], &["check", "--deny", "warning"], 1),
        ("denying finds nothing in a clean file", &[("a.dwell", GOOD)], &["check", "--deny", "hint"], 0),
        ("an error", &[("a.dwell", &faulty)], &["check", "a.dwell"], 1),
        ("an error, as JSON", &[("a.dwell", &faulty)], &["check", "--format", "json"], 1),
        ("cannot be read as language", &[("a.dwell", &torn)], &["check"], 1),
        ("no such path", &[("a.dwell", GOOD)], &["check", "a.dwell", "b.dwell"], 2),
        ("nothing to check", &[("a.txt", "x")], &["check"], 2),
        ("no such option", &[("a.dwell", GOOD)], &["check", "--fast"], 2),
        ("no command", &[], &[], 2),
        ("help", &[], &["--help"], 0),
        ("version", &[], &["--version"], 0),
        ("rules", &[], &["rules"], 0),
        ("a rule", &[], &["explain", "not-restored"], 0),
        ("no such rule", &[], &["explain", "not-restord"], 2),
        ("built", &[("a.dwell", GOOD)], &["build", "a.dwell", "-o", "out"], 0),
        ("not built", &[("a.dwell", &faulty)], &["build", "a.dwell", "-o", "out"], 1),
        ("nothing to build", &[("a.dwell", "")], &["build", "a.dwell", "-o", "out"], 2),
        ("no file to build", &[], &["build", "a.dwell", "-o", "out"], 2),
        ("formatted", &[("a.dwell", GOOD)], &["format", "a.dwell"], 0),
        ("a text with mistakes is not formatted", &[("a.dwell", &torn)], &["format", "a.dwell"], 2),
        ("no card", &[("a.json", "{}")], &["run", "a.json"], 2),
        ("a text with an error is not run", &[("a.dwell", &faulty)], &["run", "a.dwell"], 2),
    ];
    let wrong: Vec<String> = rows
        .iter()
        .filter_map(|(name, files, arguments, wanted)| {
            let found = status(files, arguments);
            (found != *wanted).then(|| format!("{name}: {found} where {wanted} is documented"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_demo_library_gives_no_finding() {
    let library = library();
    let said = Bench::new(&[]).run(&["check", library.to_str().unwrap(), "--deny", "hint"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(said.out.ends_with("nothing found; 2 waived\n"), "{}", said.out);
}

#[test]
fn a_finding_names_both_places_the_reason_the_way_there_and_the_repair() {
    let said = Bench::new(&[("belt/a.dwell", &faulty())]).run(&["check"]);
    for part in [
        "error: ",
        "not-restored\n",
        "belt/a.dwell:7:9",
        "remove belt-guard",
        "\n  This happens",
        "\n  help: ",
    ] {
        assert!(said.out.contains(part), "{part:?} is missing in\n{}", said.out);
    }
    assert!(said.out.ends_with("1 error in 1 of 1 file\n"), "{}", said.out);
    assert!(said.out.lines().all(|line| line.trim_end() == line), "blanks at the end of a line");
}

#[test]
fn one_file_that_is_no_text_does_not_hide_the_others() {
    let bench = Bench::new(&[("a.dwell", &faulty()), ("c.dwell", GOOD)]);
    bench.put("b.dwell", b"# 6 \xB0C\n");
    let said = bench.run(&["check"]);
    assert_eq!(said.status, 2);
    assert!(said.out.contains("not-restored"), "{}", said.out);
    assert!(
        said.out.contains("cannot read b.dwell: it is not UTF-8: byte 4 (line 1) is 0xB0"),
        "{}",
        said.out
    );
}

/// Starts the program, reads one line of what it says, and goes away as `head -1` does.
fn first_line(bench: &Bench, arguments: &[&str]) -> Said {
    let mut child = bench.command(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let mut first = String::new();
    BufReader::with_capacity(16, child.stdout.take().unwrap()).read_line(&mut first).unwrap();
    let mut said = said(child.wait_with_output().unwrap());
    said.out = first;
    said
}

#[test]
fn a_reader_that_goes_away_is_no_trouble() {
    let many: Vec<(String, String)> = (0..120).map(|at| (format!("{at:03}.dwell"), faulty())).collect();
    let files: Vec<(&str, &str)> = many.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let bench = Bench::new(&files);
    for arguments in
        [&["check", "--all"][..], &["check", "--format", "json"], &["rules"], &["explain", "endless"]]
    {
        let said = first_line(&bench, arguments);
        assert_eq!(said.err, "", "{arguments:?}");
        assert_eq!(said.status, i32::from(arguments[0] == "check"), "{arguments:?}");
    }
    let said = bench.run(&["check"]);
    assert!(
        said.out.contains("20 more") && said.out.contains("120 errors in 120 of 120 files"),
        "{}",
        said.out
    );
}

#[test]
fn colour_only_where_it_is_seen_or_asked_for() {
    let bench = Bench::new(&[("a.dwell", &faulty())]);
    let coloured = |arguments: &[&str], variables: &[(&str, &str)]| {
        let output = bench.command(arguments).envs(variables.iter().copied()).output().unwrap();
        said(output).out.contains('\u{1B}')
    };
    assert!(!coloured(&["check"], &[]), "into a pipe");
    assert!(!coloured(&["check"], &[("NO_COLOR", "1"), ("CLICOLOR_FORCE", "1")]));
    assert!(coloured(&["check"], &[("CLICOLOR_FORCE", "1")]));
    assert!(!coloured(&["check"], &[("CLICOLOR_FORCE", "0")]));
    assert!(coloured(&["check", "--color", "always"], &[("NO_COLOR", "1")]), "what is typed counts most");
    assert!(!coloured(&["--color=never", "check"], &[("CLICOLOR_FORCE", "1")]));
    assert!(!coloured(&["rules"], &[]) && coloured(&["rules", "--color=always"], &[]));
}

#[test]
fn lines_are_drawn_in_ascii_where_there_is_nothing_else() {
    let bench = Bench::new(&[("a.dwell", &faulty().replace(" ±", " +-"))]);
    assert!(bench.run(&["check", "--ascii"]).out.is_ascii());
    let output = bench.command(&["check"]).env("LC_ALL", "de_DE.ISO-8859-1").output().unwrap();
    assert!(said(output).out.is_ascii());
    let output = bench.command(&["check"]).env("LC_ALL", "de_DE.UTF-8").output().unwrap();
    assert!(said(output).out.contains('╭'));
}

#[test]
fn json_has_the_documented_members_and_places() {
    let bench = Bench::new(&[("a.dwell", &format!("# größe 😀\n{}", faulty()))]);
    let said = bench.run(&["check", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let page = include_str!("../../grammar/JSON.md");
    let shown = page.split("```json\n").nth(1).unwrap().split("```").next().unwrap();
    let shown: serde_json::Value = serde_json::from_str(shown).unwrap();
    let members = |value: &serde_json::Value| -> Vec<String> {
        value.as_object().unwrap().keys().cloned().collect::<Vec<_>>()
    };
    assert_eq!(members(&json), members(&shown));
    let (found, example) = (&json["findings"][0], &shown["findings"][0]);
    assert_eq!(members(found), members(example));
    assert_eq!(members(&found["at"]), members(&example["at"]));
    assert_eq!(members(&found["witness"]), members(&example["witness"]));
    assert_eq!((&json["version"], &json["errors"]), (&2.into(), &1.into()));
    assert_eq!((&found["rule"], &found["level"]), (&"not-restored".into(), &"error".into()));
    assert_eq!((&found["at"]["start"]["line"], &found["at"]["start"]["column"]), (&8.into(), &9.into()));
    let text = bench.get("a.dwell");
    let byte = |end: &str| usize::try_from(found["at"][end]["byte"].as_u64().unwrap()).unwrap();
    assert_eq!(text.get(byte("start")..byte("end")), Some("remove belt-guard"));
}

#[test]
fn marks_stand_under_their_text_behind_letters_of_every_width() {
    let said =
        Bench::new(&[("a.dwell", "spec gap: length { source \"größe °\" check 5 mmm }\n")]).run(&["check"]);
    let lines: Vec<&str> = said.out.lines().collect();
    let at = lines.iter().position(|line| line.contains("5 mmm }")).expect(&said.out);
    let column = |line: &str, of: &str| line.split(of).next().map(|before| before.chars().count());
    assert_eq!(column(lines[at], "mmm }"), column(lines[at + 1], "┬"), "{}", said.out);
    assert!(said.out.contains("a.dwell:1:45"), "{}", said.out);
}

#[test]
fn a_very_long_line_is_shown_through_a_window() {
    let long = format!("spec gap: length {{ source \"{}\" check 5 mmm }}\n", "ä ".repeat(50_000));
    let said = Bench::new(&[("a.dwell", &format!("\n\n{long}"))]).run(&["check"]);
    assert!(said.out.len() < 4_000, "{} bytes", said.out.len());
    assert!(said.out.contains("check 5 mmm }") && said.out.contains(" 3 │"), "{}", said.out);
    assert!(said.out.contains("a.dwell:3:100038"), "{}", said.out);
}

#[test]
fn what_a_terminal_would_obey_is_not_written() {
    let text = "spec gap: length { source \"\u{1B}[2J\u{202E}\" check 5 mmm }\n";
    let said = Bench::new(&[("a.dwell", text)]).run(&["check"]);
    assert!(!said.out.contains(['\u{1B}', '\u{202E}']), "{:?}", said.out);
}

#[test]
fn separators_that_end_no_line_do_not_shift_the_numbers() {
    let said = Bench::new(&[("a.dwell", "spec gap: length { source \"a\u{2028}b\u{85}\"\n check 5 mmm }\n")])
        .run(&["check"]);
    assert!(said.out.contains("a.dwell:2:10") && said.out.contains(" 2 │"), "{}", said.out);
}

#[test]
fn explain_shows_the_page_and_rules_lists_every_rule() {
    let bench = Bench::new(&[]);
    let listed = bench.run(&["rules"]).out;
    let names: Vec<&str> = listed
        .lines()
        .filter(|line| !line.starts_with(' '))
        .filter_map(|line| line.split(' ').next())
        .collect();
    assert!(names.len() >= 27, "{listed}");
    for name in names {
        let page = bench.run(&["explain", name]);
        assert!(page.status == 0 && page.out.starts_with(&format!("# {name}\n")), "{name}");
    }
    assert!(listed.lines().all(|line| line.chars().count() <= 80));
    assert!(bench.run(&["explain", "Not_Restored"]).says("did you mean `not-restored`?"));
}

#[test]
fn a_card_is_built_with_its_hash_and_never_from_a_faulty_text() {
    let bench = Bench::new(&[("a.dwell", GOOD), ("b.dwell", &faulty())]);
    let said = bench.run(&["build", "a.dwell", "--output", "out/cards"]);
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    let card = dwell_card::Card::from_json(&bench.get("out/cards/belt.card.json")).unwrap();
    assert!(said.out.contains(&format!("SHA-256 {}", card.sha256().unwrap())), "{}", said.out);
    let said = bench.run(&["build", "b.dwell", "-o", "none"]);
    assert!(said.status == 1 && said.out.contains("nothing was built") && said.out.contains("not-restored"));
    assert!(!bench.path("none").exists());
}

#[test]
fn the_day_that_counts_for_what_is_withdrawn_can_be_given() {
    let old = GOOD.replace(
        "frequency { check 62 ± 6 Hz }",
        "frequency { check 62 ± 6 Hz  withdrawn on 2999-05-01 \"New belts.\" }",
    );
    assert_ne!(old, GOOD);
    let files: &[(&str, &str)] = &[("a.dwell", &old)];
    assert_eq!(status(files, &["check"]), 0);
    assert_eq!(status(files, &["check", "--on", "2999-04-30"]), 0);
    assert_eq!(status(files, &["check", "--on", "2999-05-01"]), 1);
    assert_eq!(status(files, &["check", "--on", "2999-02-30"]), 2);
    assert_eq!(status(files, &["check", "--on", "1.5.2999"]), 2);
    let bench = Bench::new(&[("a.dwell", &old.replace("2999", "1999"))]);
    assert!(bench.run(&["check"]).out.contains("is withdrawn from 1999-05-01 on"));
    assert_eq!(bench.run(&["run", "a.dwell"]).status, 2);
}
