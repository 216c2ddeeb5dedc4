//! What is offered at a cursor: the first few, in their order.

use super::super::hints::{Wanted, hints};
use super::super::hover::hover;
use super::super::lenses::lenses;
use super::super::signature::signature;
use super::super::tests::view;
use super::completion;
use dwell_syntax::tree::Span;

const TEXT: &str = r#"
variant family: k9, k9h
positions wheel: left, right
hazard hot: warning "Hot."
item guard: removable "Gehäuse é"
item bolt: fastener "bolt"
item nut: fastener at each wheel "nut"
item post: port "post"
tool meter: clip-on "meter" { measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz }
tool wrench: hand-held "wrench" { sets torque 2 .. 50 N·m }
spec tension: frequency { check 62 ± 6 Hz }
spec bolt-torque: torque { check 20 .. 24 N·m }
series shims: length 2.2 .. 3.2 mm steps of 0.02 mm
procedure other "Other" { step s "S" { note "n" } }
"#;

fn all(text: &str) -> Vec<super::Suggestion> {
    let (view, at) = view(&[("a.dwell", &format!("{text}{TEXT}"))]);
    completion(&view, at, &|| vec!["vehicle.dwell".to_owned(), "../é.dwell".to_owned()])
}

/// What is offered, in order.
fn offered(text: &str) -> Vec<String> {
    all(text).into_iter().map(|one| one.plain).collect()
}

fn step(text: &str) -> Vec<String> {
    offered(&format!(
        "procedure p \"é °\" {{\n step s \"S\" {{\n {text} }}\n step late \"L\" {{ note \"n\" }} }}"
    ))
}

fn first(list: &[String], count: usize) -> Vec<&str> {
    list.iter().take(count).map(String::as_str).collect()
}

#[test]
fn what_can_be_done_with_the_vehicle_as_it_is_comes_first() {
    let list = step("remove guard\n ‸\n refit guard\n tighten bolt");
    assert_eq!(first(&list, 2), ["refit guard", "loosen bolt"]);
    assert!(list.contains(&"measure".to_owned()) && list.contains(&"remove".to_owned()), "{list:?}");
    assert!(!list.contains(&"step".to_owned()) && !list.contains(&"remove guard".to_owned()), "{list:?}");
}

#[test]
fn the_items_of_a_verb() {
    let list = step("remove guard\n refit ‸\n tighten bolt");
    assert_eq!(list, ["guard"]);
    assert_eq!(step("loosen b‸"), ["bolt", "nut"]);
}

#[test]
fn tools_specs_and_kinds_that_fit() {
    assert_eq!(first(&step("measure f: frequency with ‸"), 2), ["meter", "wrench"]);
    let kinds = step("measure f: ‸");
    assert!(kinds.contains(&"frequency".to_owned()) && !kinds.contains(&"meter".to_owned()), "{kinds:?}");
    assert_eq!(
        first(&step("measure f: frequency with meter\n expect f meets ‸"), 2),
        ["tension", "bolt-torque"]
    );
    assert_eq!(first(&step("measure f: frequency with meter\n expect ‸"), 1), ["f"]);
    assert_eq!(first(&step("tighten bolt to ‸"), 2), ["bolt-torque", "post"]);
    assert_eq!(first(&step("tighten bolt to bolt-torque with ‸"), 2), ["wrench", "meter"]);
    assert_eq!(step("choose s from ‸"), ["shims"]);
    assert_eq!(first(&step("warning ‸"), 2), ["hot", "airbag"]);
    assert_eq!(first(&offered("item x: ‸"), 1), ["blockable"]);
}

#[test]
fn units_of_the_kind() {
    assert_eq!(first(&offered("spec t: torque { check 20 ‸"), 1), ["N·m"]);
    assert_eq!(first(&offered("spec t: torque { check 20 N·‸"), 1), ["N·m"]);
    assert_eq!(first(&step("wait 2 ‸"), 1), ["s"]);
    assert!(step("measure f: frequency with meter 3 ‸").contains(&"times".to_owned()));
}

#[test]
fn where_it_goes_on() {
    assert_eq!(step("refer to ‸"), ["other"]);
    assert_eq!(first(&step("back to ‸"), 2), ["late", "s"]);
    assert_eq!(first(&step("perform ‸"), 3), ["late", "other", "s"]);
    assert_eq!(first(&step("end ‸"), 3), ["failed", "passed", "unfinished"]);
}

#[test]
fn states_values_and_places() {
    assert_eq!(step("if guard is ‸"), ["fitted", "out", "not"]);
    assert_eq!(first(&step("if family is ‸"), 2), ["k9", "k9h"]);
    assert_eq!(
        first(
            &offered("procedure p \"P\" {\n    applies to family ‸\n    step s \"S\" { note \"n\" }\n}\n"),
            2
        ),
        ["k9", "k9h"]
    );
    assert_eq!(first(&step("ask lamp \"Lamp?\" one of lit, dark\n if lamp is ‸"), 2), ["dark", "lit"]);
    assert_eq!(first(&step("tighten nut at ‸"), 2), ["left", "right"]);
    assert_eq!(first(&offered("procedure p \"P\" { needs { ‸ } }"), 2), ["bolt", "guard"]);
}

#[test]
fn cases_rules_and_lines() {
    let text = "procedure p \"P\" { applies to family k9, k9h\n step s \"S\" { measure f: frequency with meter\n expect f meets tension otherwise { end failed \"x\" } }\n case \"c\" {\n ‸ } }";
    assert_eq!(first(&offered(text), 2), ["family", "f"]);
    assert_eq!(first(&offered(&text.replace('‸', "family ‸")), 2), ["k9", "k9h"]);
    assert!(step("waive ‸").contains(&"caution-missing".to_owned()));
    let spec = offered("spec x: force {\n ‸\n}");
    assert!(spec.contains(&"check".to_owned()) && !spec.contains(&"measures".to_owned()), "{spec:?}");
    assert!(offered("‸\n").contains(&"procedure".to_owned()));
}

#[test]
fn in_texts_and_comments() {
    assert!(step("note \"remove g‸\"").is_empty());
    assert!(step("note \"n\" # g‸\n").is_empty());
    assert_eq!(offered("use \"v‸\"\n"), ["../é.dwell", "vehicle.dwell"]);
    assert_eq!(first(&step("measure f: frequency with meter\n note \"é {‸}\""), 1), ["f"]);
    assert!(step("wait 2‸").is_empty());
}

#[test]
fn the_word_at_the_cursor_is_replaced() {
    let text = "procedure p \"é\" {\n step s \"S\" {\n remove gu‸ard } }";
    let found = all(text);
    let span = found.first().map(|one| one.span).unwrap();
    assert_eq!(text.replacen('‸', "", 1).get(span.start..span.end), Some("guard"));
    let with_places = all("procedure p \"P\" {\n step s \"S\" {\n ‸ } }");
    let measure = with_places.iter().find(|one| one.label == "measure").unwrap();
    assert_eq!(measure.snippet.as_deref(), Some("measure ${1:reading}: ${2:kind} with ${3:tool}"));
    assert_eq!(measure.plain, "measure");
}

#[test]
fn no_byte_of_a_broken_text_is_too_much() {
    let whole = format!(
        "procedure p \"é 😀\" {{ step s \"µ\" {{ remove guard\n measure f: frequency with meter 3 times \"ß\"\n expect f at least 62 Hz otherwise low {{ tighten bolt to 20 ± 2 N·m }} # é\n }} }}{TEXT}"
    );
    for cut in [whole.len(), 33, 70, 95, 140, 150] {
        let text = whole.get(..cut).or(whole.get(..cut + 1)).unwrap_or(&whole);
        let (view, _) = view(&[("a.dwell", text)]);
        for at in 0..=text.len().min(260) + 1 {
            for one in completion(&view, at, &Vec::new) {
                assert!(text.get(one.span.start..one.span.end).is_some(), "{at}: {one:?}");
            }
            if let Some(hover) = hover(&view, at) {
                assert!(text.get(hover.span.start..hover.span.end).is_some(), "{at}: {hover:?}");
            }
            signature(text, at);
        }
        hints(&view, Span::new(0, text.len()), Wanted { units: true, bands: true, owed: true });
        lenses(&view);
    }
}
