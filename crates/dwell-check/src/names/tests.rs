//! Names: what files see, what clashes, what was probably meant.

use super::{look_up, near};
use crate::model::Thing;
use crate::texts::{resolved, sound, troubled, troubled_files};
use dwell_syntax::tree::{Name, Span};
use expect_test::expect;

#[test]
fn the_prelude_is_sound() {
    let model = sound("");
    assert!(model.handlings.len() >= 30);
    assert!(model.hazards.len() >= 15);
    let danger = model.hazards.iter().find(|hazard| hazard.name == "shock").unwrap();
    assert_eq!(danger.level, dwell_card::vehicle::Level::Danger);
}

#[test]
fn every_declaration_of_the_prelude_has_a_comment_above() {
    let text = include_str!("../prelude.dwell");
    let lines: Vec<&str> = text.lines().collect();
    let mut declarations = 0;
    for (at, line) in lines.iter().enumerate() {
        if ["handling ", "hazard ", "quantity "].iter().any(|word| line.starts_with(word)) {
            declarations += 1;
            assert!(lines[at - 1].starts_with("# "), "line {}: {line}", at + 1);
        }
    }
    assert!(declarations > 50);
}

#[test]
fn a_file_sees_what_it_uses_but_not_what_that_uses() {
    let files = [
        (
            "belt.dwell",
            "use \"vehicle.dwell\"\nspec a: belt-frequency { check 62 ± 6 Hz }\nitem b: made-of\n",
        ),
        ("vehicle.dwell", "use \"base.dwell\"\nquantity belt-frequency: frequency { never below 0 Hz }\n"),
        ("base.dwell", "handling made-of { states whole }\n"),
    ];
    expect![[r#"
        NotFound { place: belt.dwell:3 «made-of», name: "made-of", what: "a handling", near: [], elsewhere: None }
    "#]]
    .assert_eq(&troubled_files(&files));
}

#[test]
fn names_are_declared_once() {
    let files = [
        ("belt.dwell", "use \"a.dwell\"\nuse \"b.dwell\"\nitem belt: removable\nhazard torque: warning\n"),
        ("a.dwell", "item belt: removable\nitem guard: removable\n"),
        ("b.dwell", "item guard: removable\nitem guard: hose\nitem hose: removable\n"),
    ];
    expect![[r#"
        DeclaredTwice { place: belt.dwell:2 «"b.dwell"», name: "guard", first: a.dwell:2 «guard» }
        DeclaredTwice { place: belt.dwell:2 «"b.dwell"», name: "guard", first: a.dwell:2 «guard» }
        DeclaredTwice { place: belt.dwell:3 «belt», name: "belt", first: a.dwell:1 «belt» }
        DeclaredTwice { place: belt.dwell:4 «torque», name: "torque", first: belt.dwell:4 «torque» }
        DeclaredTwice { place: b.dwell:2 «guard», name: "guard", first: b.dwell:1 «guard» }
        DeclaredTwice { place: b.dwell:3 «hose», name: "hose", first: <prelude>:17 «hose» }
        NotFound { place: b.dwell:2 «hose», name: "hose", what: "a handling", near: [], elsewhere: Some(Item(5)) }
    "#]]
    .assert_eq(&troubled_files(&files));
}

#[test]
fn values_and_states_stand_once_in_their_list() {
    expect![[r#"
        DeclaredTwice { place: merle.dwell:1 «single», name: "single", first: merle.dwell:1 «single» }
        DeclaredTwice { place: merle.dwell:2 «open», name: "open", first: merle.dwell:2 «open» }
    "#]]
    .assert_eq(&troubled(
        "variant charging: single, double, single\nhandling lid { states open, shut, open  close-it: open -> shut }\n",
    ));
}

#[test]
fn files_that_cannot_be_read_are_told_where_they_are_used() {
    expect![[r#"
        FileNotFound { place: belt.dwell:1 «"vehicel.dwell"», path: "vehicel.dwell", why: "there is no such file" }
    "#]]
    .assert_eq(&troubled_files(&[("belt.dwell", "use \"vehicel.dwell\"\n")]));
}

#[test]
fn a_root_that_cannot_be_read_has_a_place() {
    let mut troubles = Vec::new();
    let program = crate::program::Program::load(
        &["gone.dwell".to_owned(), "gone.dwell".to_owned()],
        &crate::texts::Texts(&[]),
        &mut troubles,
    );
    assert_eq!(program.files.len(), 2);
    assert!(program.files[1].root);
    assert_eq!(troubles.len(), 1);
}

#[test]
fn circles_are_told_once_each() {
    let files = [
        ("a.dwell", "use \"b.dwell\"\nuse \"d.dwell\"\n"),
        ("b.dwell", "use \"c.dwell\"\n"),
        ("c.dwell", "use \"a.dwell\"\nuse \"d.dwell\"\n"),
        ("d.dwell", "use \"d.dwell\"\n"),
    ];
    expect![[r#"
        ImportCycle { place: c.dwell:1 «"a.dwell"», files: ["a.dwell", "b.dwell", "c.dwell", "a.dwell"] }
        ImportCycle { place: d.dwell:1 «"d.dwell"», files: ["d.dwell", "d.dwell"] }
    "#]]
    .assert_eq(&troubled_files(&files));
}

#[test]
fn a_chain_of_hundreds_of_files_needs_no_deep_stack() {
    let texts: Vec<(String, String)> =
        (0..500).map(|n| (format!("{n}.dwell"), format!("use \"{}.dwell\"\n", n + 1))).collect();
    let mut files: Vec<(&str, &str)> =
        texts.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    files.push(("500.dwell", ""));
    let (program, _, troubles) = resolved(&files);
    assert_eq!(program.files.len(), 502);
    assert!(troubles.is_empty());
}

#[test]
fn each_file_is_read_once() {
    let files = [
        ("a.dwell", "use \"b.dwell\"\nuse \"c.dwell\"\n"),
        ("b.dwell", "use \"c.dwell\"\n"),
        ("c.dwell", "item belt: removable\n"),
    ];
    let (program, _, troubles) = resolved(&files);
    let paths: Vec<&str> = program.files.iter().map(|source| source.path.as_str()).collect();
    assert_eq!(paths, ["<prelude>", "a.dwell", "b.dwell", "c.dwell"]);
    assert!(troubles.is_empty());
    assert_eq!(program.files[1].uses.len(), 2);
}

#[test]
fn the_nearest_names_are_those_few_letters_apart_or_with_the_word_in_them() {
    let names = ["belt-guard", "belt-meter", "gauge", "meter", "engine"];
    let of = |wanted| near(wanted, names.iter().copied());
    assert_eq!(of("bellt-guard"), ["belt-guard"]);
    assert_eq!(of("enigne"), ["engine"]);
    assert_eq!(of("guard"), ["belt-guard"]);
    assert_eq!(of("xyz"), Vec::<String>::new());
    assert_eq!(of(&"e".repeat(100_000)), Vec::<String>::new());
}

#[test]
fn a_name_of_another_sort_is_said_so() {
    let (_, model, _) =
        resolved(&[("merle.dwell", "item belt-meter: removable\ntool belt-metre: clip-on\n")]);
    let name = Name { text: "belt-meter".to_owned(), span: Span::default() };
    let found = look_up(&model, 1, &name, "a tool", |thing| matches!(thing, Thing::Tool(_)));
    let Err(crate::trouble::Trouble::NotFound { near, elsewhere, what, .. }) = found else { panic!("found") };
    assert_eq!((near.as_slice(), what), (&["belt-metre".to_owned()][..], "a tool"));
    assert!(matches!(elsewhere, Some(Thing::Item(_))));
}

#[test]
fn the_prelude_is_set_as_the_formatter_sets_it() {
    let text = include_str!("../prelude.dwell");
    let set = dwell_syntax::format::format(text).unwrap();
    assert_eq!(set, text);
}
