//! `dwell.toml`: found above what is checked, its levels and words, what is wrong in it, and what is refused.

use super::bench::{Bench, GOOD, faulty};

#[test]
fn settings_are_found_above_and_set_the_level_of_a_folder() {
    let faulty = faulty();
    let settings = "[levels]\nnot-restored = \"warning\"\n\n[[folder]]\npath = \"old\"\nlevels = { not-restored = \"off\" }\n";
    let bench = Bench::new(&[("dwell.toml", settings), ("a/a.dwell", &faulty), ("old/b/a.dwell", &faulty)]);
    let said = bench.run(&["check", "a"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(said.out.ends_with("1 warning in 1 of 1 file\n"), "{}", said.out);
    let said = bench.run(&["check", "old/b/a.dwell"]);
    assert!(said.out.ends_with("nothing found\n"), "{}", said.out);
    let said = bench.run(&["check"]);
    assert!(said.out.ends_with("1 warning in 1 of 2 files\n"), "{}", said.out);
    // A card is made where no error stands in the way.
    let said = bench.run(&["build", "old/b/a.dwell", "-o", "out"]);
    assert_eq!(said.status, 0, "{}", said.out);
}

#[test]
fn a_slip_in_the_settings_is_a_finding_in_their_file() {
    let bench = Bench::new(&[("dwell.toml", "[levels]\nnot-restord = \"warning\"\n"), ("a.dwell", GOOD)]);
    let said = bench.run(&["check"]);
    assert_eq!(said.status, 1, "{}", said.out);
    for part in [
        "error: there is no rule `not-restord`",
        "settings\n",
        "dwell.toml:2:1",
        "did you mean `not-restored`?",
    ] {
        assert!(said.out.contains(part), "{part:?} is missing in\n{}", said.out);
    }
    assert!(said.out.ends_with("1 error in 1 of 1 file\n"), "{}", said.out);
    let said = bench.run(&["build", "a.dwell", "-o", "out"]);
    assert_eq!(said.status, 1, "no card is made by settings that are not understood: {}", said.out);
}

#[test]
fn other_settings_can_be_given_and_two_are_refused() {
    let faulty = faulty();
    let strict = "[levels]\nname-unused = \"error\"\n";
    let mild = "[levels]\nnot-restored = \"hint\"\n";
    let bench = Bench::new(&[
        ("one/dwell.toml", strict),
        ("one/a.dwell", &faulty),
        ("two/dwell.toml", mild),
        ("two/a.dwell", &faulty),
    ]);
    assert_eq!(bench.run(&["check", "one"]).status, 1);
    assert_eq!(bench.run(&["check", "two"]).status, 0);
    assert_eq!(bench.run(&["check", "one", "--settings", "two/dwell.toml"]).status, 0);
    let said = bench.run(&["check", "one", "two"]);
    assert_eq!(said.status, 2, "{}", said.out);
    assert!(said.out.contains("have different settings"), "{}", said.out);
    let said = bench.run(&["check", "one", "--settings", "three.toml"]);
    assert_eq!(said.status, 2, "{}", said.out);
    assert!(said.out.contains("no such file of settings"), "{}", said.out);
}

#[test]
fn a_house_that_decides_guarded_has_guarded_cards() {
    let bench = Bench::new(&[("dwell.toml", "decide = \"guarded\"\n"), ("a.dwell", GOOD)]);
    let guarded = |bench: &Bench| {
        let said = bench.run(&["build", "a.dwell", "-o", "out"]);
        assert_eq!(said.status, 0, "{}", said.out);
        let folder = std::fs::read_dir(bench.path("out")).unwrap();
        let card =
            folder.map(|entry| std::fs::read_to_string(entry.unwrap().path()).unwrap()).next().unwrap();
        card.contains("\"guarded\": true") || card.contains("\"guarded\":true")
    };
    assert!(guarded(&bench));
    let own = GOOD.replace("    step", "    decide simple\n    step");
    bench.put("a.dwell", own.as_bytes());
    assert!(!guarded(&bench), "the procedure says it itself");
    bench.put("a.dwell", GOOD.as_bytes());
    bench.put("dwell.toml", b"decide = \"simple\"\n");
    assert!(!guarded(&bench));
}

#[test]
fn where_caution_means_damage_a_person_is_warned() {
    let text = r#"
item manifold: heatable "exhaust manifold"
hazard paint-damage: notice "Brake fluid takes paint off. Cover the wing."

procedure look "Look" {
    step look "Look" {
        caution hot-surface
        notice paint-damage
        do "Look at the manifold."
    }
}
"#;
    let bench = Bench::new(&[("a.dwell", text)]);
    let said = bench.run(&["check"]);
    assert!(!said.out.contains("caution-too-weak"), "{}", said.out);
    bench.put("dwell.toml", b"signal-words = \"equipment\"\n");
    let said = bench.run(&["check"]);
    assert!(said.out.contains("hot-surface needs the signal word warning, not caution"), "{}", said.out);
    assert!(said.out.contains("paint-damage needs the signal word caution, not notice"), "{}", said.out);
}

#[test]
fn the_levels_hold_for_what_is_found_by_the_cases_too() {
    let open = "procedure a \"A\" {\n    step s \"S\" {\n        ask x \"X?\"\n        if x is yes { note \"Yes.\" }\n    }\n    \
                case \"no\" { x no  ends passed }\n}\n";
    let bench = Bench::new(&[("a.dwell", open)]);
    let said = bench.run(&["test"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(said.out.contains("no case: `x is yes` holds"), "{}", said.out);
    assert!(said.out.ends_with("all end as they say; 1 branch without a case\n"), "{}", said.out);
    bench.put("dwell.toml", b"[levels]\nbranch-without-case = \"error\"\n");
    let said = bench.run(&["test"]);
    assert_eq!(said.status, 1, "{}", said.out);
    assert!(said.out.contains("error: no case comes to where `x is yes` holds"), "{}", said.out);
    let json: serde_json::Value =
        serde_json::from_str(&bench.run(&["test", "--format", "json"]).out).unwrap();
    assert_eq!((&json["errors"], &json["hints"], &json["failed"]), (&1.into(), &0.into(), &0.into()));
    let junit = bench.run(&["test", "--format", "junit"]).out;
    assert!(junit.contains("failures=\"1\""), "{junit}");
    bench.put("dwell.toml", b"[levels]\nbranch-without-case = \"off\"\n");
    let said = bench.run(&["test"]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert!(said.out.ends_with("all end as they say\n"), "{}", said.out);
    assert!(!said.out.contains("no case:"), "{}", said.out);
    // A case that fails stays an error, whatever is set.
    bench.put("dwell.toml", b"[levels]\ncase-fails = \"hint\"\n");
    bench.put("a.dwell", open.replace("ends passed", "ends failed").as_bytes());
    assert_eq!(bench.run(&["test"]).status, 1);
}
