//! Variants whose limits are alike are walked as one: what is reached and what is found must be the same as with all numbers.

use super::{THINGS, without_witness};
use crate::flow::{Walked, alike::merged, walked};
use crate::lower::{Lowered, lower};
use crate::program::Program;
use crate::resolve::resolve;
use crate::texts::Texts;
use crate::trouble::Trouble;
use std::collections::BTreeSet;

/// Bands to check against and to set to, in volts.
const BANDS: [(&str, &str); 6] = [
    ("10 .. 14", "11 .. 13"),
    ("20 .. 24", "21 .. 23"),
    ("10 .. 14", "10 .. 13"),
    ("28 .. 34", "29 .. 31"),
    ("28 .. 34", "30 .. 33"),
    ("above 10", "12 .. 13"),
];

/// Some ways are open only where 30 V can be in band, or where what is set can still be out.
const PROCEDURE: &str = r#"procedure p "P" {
    step one "One" {
        connect meter to post
        measure charge: dc-voltage with meter
        expect charge meets by-market
        otherwise low { remove guard }
        otherwise {
            adjust charge to by-market up to 2 times by { remove cover  refit cover }
            otherwise { end failed "No." }
        }
        if charge within 30 .. 40 V { refit guard }
        if charge within 0 .. 9 V { note "It can be as low as that." }
        expect charge meets by-market
        otherwise high { note "High." }
        otherwise { end failed "Low." }
        disconnect meter
    }
    restore { disconnect meter }
}"#;

fn lowered(bands: &[(&str, &str)]) -> Lowered {
    let names: Vec<String> = (0..bands.len()).map(|value| format!("m{value}")).collect();
    let mut text = format!("{THINGS}variant market: {}\nspec by-market: dc-voltage {{\n", names.join(", "));
    for ((check, adjust), name) in bands.iter().zip(&names) {
        text.push_str(&format!("    check {check} V when market is {name}\n"));
        text.push_str(&format!("    adjust {adjust} V when market is {name}\n"));
    }
    text.push_str(&format!("}}\n{PROCEDURE}"));
    let mut troubles = Vec::new();
    let sources = Texts(&[("small.dwell", text.as_str())]);
    let program = Program::load(&["small.dwell".to_owned()], &sources, &mut troubles);
    let model = resolve(&program, &mut troubles);
    let at = model.procedures.iter().position(|head| head.name == "p").unwrap();
    let lowered = lower(&program, &model, at, &mut troubles).unwrap();
    assert!(troubles.is_empty(), "{troubles:?}");
    lowered
}

/// What is found, without the way that leads there.
fn told(lowered: &Lowered, walked: Walked) -> BTreeSet<String> {
    let mut troubles: Vec<Trouble> = Vec::new();
    walked.found.into_troubles(lowered, &walked.all, walked.reached.nodes(), &mut troubles);
    troubles.into_iter().map(without_witness).collect()
}

#[test]
fn one_walk_for_all_that_are_alike() {
    let same = merged(&lowered(&[BANDS[0], BANDS[1], ("12.5 .. 19.5", "13 .. 19")])).unwrap();
    let limits = same.card.limits.iter().filter(|limit| limit.name == "by-market");
    let choices: Vec<_> = limits.map(|limit| (limit.check.len(), limit.adjust.len())).collect();
    assert_eq!(choices, [(1, 1)]);
    assert!(merged(&lowered(&[BANDS[0], BANDS[2], BANDS[3], BANDS[4], BANDS[5]])).is_none());
}

#[test]
fn alike_finds_and_reaches_the_same() {
    let (mut merges, mut reaches) = (0, BTreeSet::new());
    for combination in 0..BANDS.len().pow(3) {
        let band = |place: u32| BANDS[combination / BANDS.len().pow(place) % BANDS.len()];
        let exact = lowered(&[band(0), band(1), band(2)]);
        let Some(alike) = merged(&exact) else { continue };
        merges += 1;
        let (one, other) = (walked(&alike), walked(&exact));
        assert_eq!(one.reached, other.reached, "{combination}");
        reaches.insert(one.reached.nodes().to_vec());
        assert_eq!(told(&alike, one), told(&exact, other), "{combination}");
    }
    assert!(merges > 50 && reaches.len() > 1, "{merges} {}", reaches.len());
}
