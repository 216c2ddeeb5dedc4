//! A band to set to that reaches beyond the check is cut, no number is made up, and what is left to say is said.

use super::{mended, small};
use crate::merle::Merle;
use std::collections::BTreeMap;

/// The spec with this band to set to, beside a check of 0.2 .. 0.6 mm: what it is mended to, and what is found in that.
fn cut(adjust: &str) -> (String, Vec<String>) {
    let text = format!("spec play: length {{ check 0.2 .. 0.6 mm  adjust {adjust} }}\n");
    let now = small(&text);
    let files = BTreeMap::from([("a.dwell".to_owned(), now.clone())]);
    let checked = mended(&Merle { files }).checked;
    assert!(checked.program.files.iter().all(|file| file.slips.is_empty()), "{now}");
    let found = checked.findings.iter().filter(|finding| finding.rule.starts_with("adjust"));
    let band = now.split("adjust ").nth(1).unwrap().trim_end_matches(" }\n").to_owned();
    (band, found.map(|finding| finding.rule.to_owned()).collect())
}

#[test]
fn an_end_that_reached_beyond_is_the_end_of_the_check_and_the_other_stays() {
    let edge = || vec!["adjust-equals-check".to_owned()];
    assert_eq!(cut("0.35 .. 0.7 mm"), ("0.35 .. 0.60 mm".into(), edge()));
    assert_eq!(cut("0.1 .. 0.5 mm target 0.4 mm"), ("0.2 .. 0.5 mm target 0.4 mm".into(), edge()));
    assert_eq!(cut("0.1 .. 0.7 mm"), ("0.2 .. 0.6 mm".into(), edge()));
    // What lies inside is left alone; what would leave the target at the edge is not mended.
    assert_eq!(cut("0.3 .. 0.5 mm"), ("0.3 .. 0.5 mm".into(), Vec::new()));
    let edge = ("0.5 .. 0.7 mm target 0.6 mm".to_owned(), "adjust-outside-check");
    let (band, found) = cut(&edge.0);
    assert!(band == edge.0 && found.iter().any(|rule| rule == edge.1), "{band} {found:?}");
}

/// The title of the repair says whose the tighter band is.
#[test]
fn the_repair_says_what_is_left_to_engineering() {
    for (adjust, then) in
        [("0.1 .. 0.7 mm", "both bands are the same"), ("0.35 .. 0.7 mm", "ends where the check ends")]
    {
        let text = format!("spec play: length {{ check 0.2 .. 0.6 mm  adjust {adjust} }}\n");
        let checked = dwell_check::check::check(&["a.dwell".to_owned()], &crate::one::One(&text));
        let fix = checked.findings.iter().find_map(|finding| finding.fix.as_ref()).unwrap();
        assert!(fix.title.contains(then) && fix.title.contains("engineering"), "{}", fix.title);
    }
}
