//! `dwell compare`: files, folders, revisions; the three forms; the exit status; and no line of work that goes unnoticed.

use super::bench::{Bench, GOOD, faulty, torn};
use serde_json::Value;

#[test]
fn two_files_two_folders_and_revisions_are_compared_alike() {
    let looser = GOOD.replace("62 ± 6 Hz", "62 ± 7 Hz");
    let bench = Bench::committed(&[("old/a.dwell", GOOD), ("new/a.dwell", &looser), ("lib/a.dwell", GOOD)]);
    bench.put("lib/a.dwell", looser.as_bytes());
    for arguments in [
        &["compare", "old/a.dwell", "new/a.dwell"] as &[&str],
        &["compare", "old", "new"],
        &["compare", "HEAD:lib", "lib"],
        &["compare", "HEAD:lib/a.dwell"],
        &["compare", "HEAD:lib"],
        &["compare", "HEAD:old", "HEAD:new"],
    ] {
        let said = bench.run_in(".", arguments);
        assert_eq!(said.status, 1, "{arguments:?}: {}{}", said.out, said.err);
        let first: Vec<&str> = said.out.lines().take(2).map(str::trim).collect();
        assert_eq!(first[0], "Look at these first", "{}", said.out);
        assert!(
            first[1].starts_with("spec belt-tension: limit looser: 62 ± 6 Hz → 62 ± 7 Hz"),
            "{}",
            said.out
        );
    }
    let said = bench.run_in("lib", &["compare", "HEAD"]);
    assert!(said.status == 1 && said.out.contains("a.dwell:3 → a.dwell:3"), "{}{}", said.out, said.err);
    assert_eq!(bench.run_in("lib", &["compare", "HEAD:./a.dwell"]).status, 1);
}

#[test]
fn the_exit_status_is_that_of_diff() {
    let files = [
        ("good.dwell", GOOD.to_owned()),
        ("words.dwell", GOOD.replace("\"Belt tension\"", "\"Tension of the belt\"")),
        ("layout.dwell", format!("# a remark\n\n{GOOD}")),
        ("left-off.dwell", faulty()),
        ("hole.dwell", GOOD.replace("remove belt-guard", "remove {")),
        ("torn.dwell", torn()),
    ];
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (*path, text.as_str())).collect();
    let bench = Bench::new(&files);
    for (new, wanted, part) in [
        ("good.dwell", 0, "nothing changed"),
        ("words.dwell", 0, "1 change in words only"),
        ("layout.dwell", 0, "only comments, order or how it is set"),
        ("left-off.dwell", 1, "Refit the belt guard."),
        ("hole.dwell", 2, "not compared: procedure belt"),
        ("no-such.dwell", 2, "no-such.dwell is no file or folder here, and no revision either"),
    ] {
        let said = bench.run_in(".", &["compare", "good.dwell", new]);
        assert_eq!(said.status, wanted, "{new}: {}{}", said.out, said.err);
        assert!(format!("{}{}", said.out, said.err).contains(part), "{new}: {}{}", said.out, said.err);
    }
    let said = bench.run_in(".", &["compare", "good.dwell"]);
    assert!(said.status == 2 && said.says("what to compare good.dwell with"), "{}", said.err);
}

#[test]
fn json_and_markdown_say_the_same() {
    let bench = Bench::new(&[("a.dwell", GOOD), ("b.dwell", &faulty())]);
    let json: Value =
        serde_json::from_str(&bench.run(&["compare", "a.dwell", "b.dwell", "--format", "json"]).out).unwrap();
    let first = &json["changes"][0];
    assert_eq!(
        (&json["version"], &first["grade"], &first["kind"]),
        (&1.into(), &"loud".into(), &"no longer put back".into())
    );
    assert_eq!((&first["old"]["file"], &first["old"]["line"]), (&"a.dwell".into(), &12.into()));
    assert_eq!(
        json["loud"].as_u64().unwrap() as usize,
        json["changes"].as_array().unwrap().iter().filter(|one| one["grade"] == "loud").count()
    );
    let markdown = bench.run(&["compare", "a.dwell", "b.dwell", "--format", "markdown"]).out;
    assert!(
        markdown.contains("### Look at these first\n\n- **procedure belt**, no longer put back: "),
        "{markdown}"
    );
    assert!(markdown.contains("(was `a.dwell:12`)"), "{markdown}");
}

#[test]
fn what_the_texts_say_cannot_become_markdown() {
    let marked = GOOD.replace("Look at the tensioner.", "<img src=x> [a](b) `c` @ann");
    let bench = Bench::new(&[("a.dwell", GOOD), ("b.dwell", &marked)]);
    let markdown = bench.run(&["compare", "a.dwell", "b.dwell", "--format", "markdown"]).out;
    assert!(markdown.contains(r"\<img src=x\> \[a\](b) \`c\` \@ann"), "{markdown}");
}

/// A line of work taken out of a demo procedure is a change of meaning, whichever line it is.
#[test]
fn no_line_of_work_goes_unnoticed() {
    let text =
        std::fs::read_to_string(super::bench::library().join("charging/belt-and-charging.dwell")).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let body = lines.iter().position(|line| line.starts_with("procedure ")).unwrap();
    let library = super::bench::library();
    let (mut silent, mut tried) = (Vec::new(), 0);
    for (place, line) in lines.iter().enumerate().skip(body + 1) {
        let one_line = line.trim_start().split(' ').next().is_some_and(|word| {
            [
                "remove",
                "refit",
                "renew",
                "connect",
                "disconnect",
                "warning",
                "start",
                "stop",
                "wait",
                "cause",
                "loosen",
                "turn",
                "tighten",
                "keep",
            ]
            .contains(&word)
        });
        if !one_line || line.ends_with('{') {
            continue;
        }
        let mut without = lines.clone();
        without.remove(place);
        let bench = Bench::new(&[("x", "")]);
        for file in [
            "vehicle.dwell",
            "workshop.dwell",
            "charging/battery-check.dwell",
            "charging/charging-faults.dwell",
            "charging/regulated-voltage.dwell",
        ] {
            bench.put(file, &std::fs::read(library.join(file)).unwrap());
        }
        bench.put("charging/then.dwell", text.as_bytes());
        bench.put("charging/now.dwell", without.join("\n").as_bytes());
        let said = bench.run(&["compare", "charging/then.dwell", "charging/now.dwell"]);
        tried += 1;
        if said.status == 0 {
            silent.push(format!("line {}: {line}\n{}{}", place + 1, said.out, said.err));
        }
    }
    assert!(tried >= 20, "only {tried} lines were tried");
    assert!(silent.is_empty(), "{}", silent.join("\n"));
}

#[test]
fn the_settings_of_the_house_are_compared_too() {
    let strict = "decide = \"guarded\"\n[levels]\nname-unused = \"warning\"\n";
    let bench = Bench::committed(&[("dwell.toml", strict), ("lib/a.dwell", GOOD)]);
    bench.put("dwell.toml", b"[levels]\nname-unused = \"off\"\n[[folder]]\npath = \"lib\"\nlevels = { not-restored = \"hint\" }\n");
    let said = bench.run_in(".", &["compare", "HEAD"]);
    assert_eq!(said.status, 1, "{}{}", said.out, said.err);
    for part in [
        "readings are taken as they are, no longer guarded",
        "name-unused is off now, was warning",
        "not-restored is hint now below lib, was error",
    ] {
        assert!(said.out.replace("\n    ", " ").contains(part), "{part} in {}", said.out);
    }
    let said = bench.run_in("lib", &["compare", "HEAD:lib"]);
    assert!(said.out.contains("no longer guarded"), "{}{}", said.out, said.err);
    bench.put("dwell.toml", strict.as_bytes());
    let said = bench.run_in(".", &["compare", "HEAD"]);
    assert_eq!((said.status, said.out.trim()), (0, "nothing changed"), "{}", said.err);
}

#[test]
fn a_procedure_with_another_name_is_renamed() {
    let other = GOOD.replace("procedure belt ", "procedure alternator-belt ");
    assert_ne!(other, GOOD);
    let bench = Bench::new(&[("a.dwell", GOOD), ("b.dwell", &other)]);
    let said = bench.run_in(".", &["compare", "a.dwell", "b.dwell"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(said.out.contains("procedure alternator-belt: was called belt"), "{}", said.out);
    assert!(!said.out.contains("gone") && !said.out.contains("new procedure"), "{}", said.out);
}
