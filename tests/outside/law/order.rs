//! The order rule of 49 CFR Part 570, Subpart B: the suspension is not inspected before the service brake performance test.

use std::fs;

use dwell_check::check::check;
use dwell_check::finding::Level;

use crate::one::One;

fn errors(text: &str) -> Vec<&'static str> {
    let checked = check(&["order.dwell".to_owned()], &One(text));
    checked.findings.iter().filter(|found| found.level == Level::Error).map(|found| found.rule).collect()
}

#[test]
fn a_suspension_that_is_inspected_before_the_brakes_are_tested_is_an_error() {
    let path = crate::root().join("tests/outside/law/49-cfr-570-order.dwell");
    let text = fs::read_to_string(path).unwrap();
    // Without its cases, which give readings of the brakes too.
    let (text, _) = text.split_once("    case \"brakes first\"").unwrap();
    let text = format!("{text}}}\n");
    assert!(errors(&text).is_empty());
    let need = "    needs { service-brakes is tested by brake-performance }\n";
    assert_eq!(text.matches(need).count(), 1);
    let without = text.replace(need, "");
    assert!(errors(&without).contains(&"need-not-met"), "{:?}", errors(&without));
    // The other way round: first the suspension, then the brakes.
    let swapped = without.replace(
        "        inspect suspension\n",
        "        inspect suspension\n        perform brake-performance\n",
    );
    assert_ne!(swapped, without);
    assert!(errors(&swapped).contains(&"need-not-met"), "{:?}", errors(&swapped));
    let in_order = without.replace(
        "        inspect suspension\n",
        "        perform brake-performance\n        inspect suspension\n",
    );
    assert!(errors(&in_order).is_empty(), "{:?}", errors(&in_order));
    // Nobody can tick that they were tested: only the test proves it.
    let ticked = text.replace("service-brakes is tested by brake-performance", "service-brakes is tested");
    assert!(!errors(&ticked).is_empty());
}
