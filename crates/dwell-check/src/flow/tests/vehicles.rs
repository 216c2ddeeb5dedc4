//! Vehicles that are walked together: what is found must be what is found where each is walked alone.

use super::{THINGS, finds, without_witness};
use crate::flow::Reachable;
use crate::flow::report::Report;
use crate::flow::variants::Variants;
use crate::flow::vehicles::Vehicles;
use crate::flow::{explore, live};
use crate::lower::lower;
use crate::program::Program;
use crate::resolve::resolve;
use crate::texts::Texts;
use crate::trouble::Trouble;
use expect_test::expect;
use std::collections::BTreeSet;

/// Variants that tell vehicles apart in many places: in limits, in states, in what is there at all.
const VARIANTS: &str = r#"
variant engine-family: k9, k9h, d6, e1
variant wheel-kind: steel, alloy
variant market: home, hot
item lid: removable "lid"
spec by-family: dc-voltage {
    check 12 ± 1 V when engine-family is k9, k9h
    check 13 ± 1 V when engine-family is d6
    check 14 ± 1 V when engine-family is e1 and market is home
    check 15 ± 1 V when engine-family is e1 and market is hot
    adjust 12 ± 0.5 V when engine-family is k9, k9h
    adjust 13 ± 0.5 V when engine-family is d6
    adjust 14 ± 0.5 V when engine-family is e1 and market is home
    adjust 15 ± 0.5 V when engine-family is e1 and market is hot
}
"#;

/// Procedures with and without faults; in each something depends on more than one variant.
const PROCEDURES: [&str; 5] = [
    r#"procedure p "P" {
    step one "One" {
        if engine-family is k9 { remove guard }
        connect meter to post
        measure charge: dc-voltage with meter
        expect charge meets by-family
        otherwise low { end failed "Low." }
        otherwise { adjust charge to by-family up to 2 times by { do "Turn." } otherwise { end failed "No." } }
        disconnect meter
        if engine-family is k9, d6 and wheel-kind is steel { refit guard }
    }
    restore { disconnect meter }
}"#,
    r#"procedure p "P" {
    step one "One" {
        if engine-family is k9 { remove guard }
        if wheel-kind is alloy { remove cover }
        if market is hot { remove lid }
        do "Look."
        if market is hot { refit lid }
        if wheel-kind is alloy { refit cover }
        if engine-family is k9 { refit guard }
    }
    restore {
        refit guard
        refit cover
        refit lid
    }
}"#,
    r#"procedure p "P" {
    step one "One" {
        if engine-family is k9 { remove guard }
        if wheel-kind is alloy { remove cover }
        do "Look."
        if engine-family is k9h { refit guard }
        if market is hot { end failed "Hot." }
        if wheel-kind is alloy { refit cover }
        if engine-family is k9 { refit guard }
    }
}"#,
    r#"procedure p "P" {
    warning moving-parts
    step one "One" {
        if engine-family is e1 { note "Nothing runs." } else { start engine }
        ask lamp "Is it lit?" one of yes, no
        if lamp is yes { if wheel-kind is steel { end failed "Lit." } }
        if engine-family is e1 { note "Still nothing." } else { stop engine }
    }
    restore { if engine-family is not e1 { stop engine } }
}"#,
    r#"procedure p "P" {
    applies to engine-family k9, k9h, d6
    step one "One" {
        remove guard
        connect meter to post
        measure charge: dc-voltage with meter
        expect charge meets by-family
        otherwise { back to one up to 2 times otherwise { end failed "No." } }
        if engine-family is k9 { if wheel-kind is steel { if market is home { end failed "No." } } }
        refit guard
        disconnect meter
    }
    restore { disconnect meter }
}"#,
];

/// What is found, each with what it is called, and what is reached.
fn told(
    report: Report,
    lowered: &crate::lower::Lowered,
    all: &Vehicles,
    reached: &[bool],
) -> BTreeSet<String> {
    let mut troubles: Vec<Trouble> = Vec::new();
    report.into_troubles(lowered, all, reached, &mut troubles);
    troubles
        .into_iter()
        .filter(|trouble| !matches!(trouble, Trouble::RestoredUntouched { .. }))
        .map(without_witness)
        .collect()
}

#[test]
fn together_finds_what_one_by_one_finds() {
    let mut found_any = false;
    for procedure in PROCEDURES {
        let text = format!("{THINGS}{VARIANTS}{procedure}");
        let mut troubles = Vec::new();
        let sources = Texts(&[("small.dwell", text.as_str())]);
        let program = Program::load(&["small.dwell".to_owned()], &sources, &mut troubles);
        let model = resolve(&program, &mut troubles);
        let at = model.procedures.iter().position(|head| head.name == "p").unwrap();
        let lowered = lower(&program, &model, at, &mut troubles).unwrap();
        assert!(troubles.is_empty(), "{troubles:?}");
        let live = live::Live::of(&lowered);
        let variants = Variants::of(&lowered, &explore::exits(&lowered));
        let (mut reached, mut report) = (Reachable::nothing(lowered.card.nodes.len()), Report::default());
        assert!(explore::explore(&lowered, &live, &variants, &mut reached, &mut report).1);
        let together = told(report, &lowered, &variants.all, reached.nodes());
        let (mut each_reached, mut each) = (Reachable::nothing(lowered.card.nodes.len()), BTreeSet::new());
        for vehicle in variants.all.each() {
            let mut report = Report::default();
            let alone = variants.alone(vehicle);
            assert!(explore::explore(&lowered, &live, &alone, &mut each_reached, &mut report).1);
            each.extend(told(report, &lowered, &alone.all, each_reached.nodes()));
        }
        assert_eq!(reached, each_reached, "{procedure}");
        let only = |one: &BTreeSet<String>, other: &BTreeSet<String>| {
            one.difference(other).map(|said| said.chars().take(200).collect::<String>()).collect::<Vec<_>>()
        };
        // Where it is found on several ways, the nearest one is shown, and that may be another vehicle's.
        let rules = |all: &BTreeSet<String>| -> BTreeSet<String> {
            all.iter().filter_map(|said| Some(said.split_once(" {")?.0.to_owned())).collect()
        };
        assert_eq!(
            rules(&together),
            rules(&each),
            "{procedure}\n{:#?}\n{:#?}",
            only(&together, &each),
            only(&each, &together)
        );
        assert!(only(&together, &each).is_empty(), "{procedure}: {:#?}", only(&together, &each));
        found_any |= !together.is_empty();
    }
    assert!(found_any);
}

#[test]
fn a_variant_is_told_where_it_makes_the_difference() {
    let procedure = format!("{VARIANTS}{}", PROCEDURES[2]);
    finds(
        &procedure,
        expect![[r#"
        18 not-restored: the guard may still be out at the end
            This happens with engine family k9, market hot.
        19 not-restored: the cover may still be out at the end
            This happens with wheel kind alloy, market hot.
        21 wrong-state: the guard may be fitted here; `refit` is for one that is out
            This happens with engine family k9h.
    "#]],
    );
}
