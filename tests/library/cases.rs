//! The cases that stand in the procedures of the library: each is carried out, and ends as it says.

use crate::merle::{Merle, told};

/// A time for every answer; nothing here depends on it.
pub(crate) const AT: &str = "2031-04-12T09:05:00+02:00";

#[test]
fn every_case_ends_as_it_says() {
    let checked = Merle::read().checked();
    let tested = dwell_trial::test(&checked, None, AT);
    for procedure in &tested.procedures {
        assert!(procedure.has_card, "{} has no card", procedure.name);
        assert!(procedure.cases.len() >= 2, "{} has fewer than two cases", procedure.name);
    }
    let failures = tested.cases().filter_map(|case| case.failure.as_ref());
    let wrong: Vec<String> = failures.map(|finding| told(&checked, finding)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let run = tested.cases().filter(|case| case.ends.is_some()).count();
    assert!(run >= 90, "only {run} cases came to an end");
}
