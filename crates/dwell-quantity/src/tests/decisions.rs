//! Simple and guarded acceptance, the four verdicts, and probabilities.

use proptest::prelude::*;

use super::exact;
use crate::{Band, Exact, Rule, Verdict, conformance, decide, guarded, nonconformance, verdict};

fn ten() -> Band {
    Band::closed(exact("8"), exact("12"))
}

#[test]
fn a_guard_draws_the_band_in() {
    assert_eq!(guarded(&ten(), &exact("0.5")), Band::closed(exact("8.5"), exact("11.5")));
    assert_eq!(guarded(&ten(), &exact("-0.5")), guarded(&ten(), &exact("0.5")));
    assert!(guarded(&ten(), &exact("2.1")).is_empty());
    assert_eq!(guarded(&Band::at_least(exact("3")), &exact("1")), Band::at_least(exact("4")));
    let rule = Rule::Guarded { uncertainty: exact("0.5") };
    assert!(decide(&ten(), &exact("11.5"), &rule) && !decide(&ten(), &exact("11.6"), &rule));
    assert!(decide(&ten(), &exact("12"), &Rule::Simple) && !decide(&ten(), &exact("12.01"), &Rule::Simple));
}

#[test]
fn without_uncertainty_the_probability_is_certain() {
    assert_eq!(conformance(&ten(), &exact("12"), &Exact::zero()), 1.0);
    assert_eq!(nonconformance(&ten(), &exact("12.1"), &Exact::zero()), 1.0);
    assert_eq!(conformance(&Band::closed(exact("2"), exact("1")), &exact("1"), &exact("1")), 0.0);
    assert_eq!(conformance(&Band::all(), &exact("1"), &exact("1")), 1.0);
}

#[test]
fn words_of_the_verdicts() {
    let words = [Verdict::Pass, Verdict::ConditionalPass, Verdict::ConditionalFail, Verdict::Fail]
        .map(Verdict::words);
    assert_eq!(words, ["pass", "conditional pass", "conditional fail", "fail"]);
}

proptest! {
    #[test]
    fn guarding_never_passes_more(reading in -300..300_i64, w in 0..80_i64) {
        let band = Band::closed(exact("-10"), exact("10"));
        let (reading, w) = (Exact::ratio(reading, 10).unwrap(), Exact::ratio(w, 10).unwrap());
        let guarded = decide(&band, &reading, &Rule::Guarded { uncertainty: w.clone() });
        let simple = decide(&band, &reading, &Rule::Simple);
        prop_assert!(simple || !guarded);
        match verdict(&band, &reading, &w) {
            Verdict::Pass => prop_assert!(guarded),
            Verdict::ConditionalPass => prop_assert!(simple && !guarded),
            Verdict::ConditionalFail | Verdict::Fail => prop_assert!(!simple),
        }
    }

    #[test]
    fn the_two_probabilities_make_one(reading in -300..300_i64, u in 1..50_i64, low in -100..100_i64, width in 0..100_i64) {
        let band = Band::closed(Exact::whole(low), Exact::whole(low + width));
        let (reading, u) = (Exact::ratio(reading, 10).unwrap(), Exact::ratio(u, 10).unwrap());
        let (good, bad) = (conformance(&band, &reading, &u), nonconformance(&band, &reading, &u));
        prop_assert!((0.0..=1.0).contains(&good) && (0.0..=1.0).contains(&bad));
        prop_assert!((good + bad - 1.0).abs() < 1e-12, "{} {}", good, bad);
    }
}
