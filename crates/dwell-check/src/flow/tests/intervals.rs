//! Readings that are intervals, such as "above 2 mm": undecided at one limit, they are decided at another.

use super::{clean, finds};
use expect_test::expect;

#[test]
fn what_one_limit_does_not_decide_another_one_does() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        expect gap at most 3 mm
        otherwise no reading {
            if gap at least 2 mm { remove guard }
        }
        otherwise { end failed "Out." }
    }
}"#,
        expect![[r#"
            6 not-restored: the guard may still be out at the end
                This happens when gap is above 2.50 mm (not decided).
        "#]],
    );
}

#[test]
fn what_a_guarded_limit_does_not_decide_another_one_does() {
    finds(
        r#"procedure p "P" {
    decide guarded
    step a "A" {
        measure gap with gauge
        expect gap at most 3 mm
        otherwise no reading {
            if gap at least 2 mm { remove guard }
        }
        otherwise { end failed "Out." }
    }
}"#,
        expect![[r#"
            7 not-restored: the guard may still be out at the end
                This happens when gap is above 2.50 mm (not decided).
        "#]],
    );
}

#[test]
fn an_interval_stays_as_it_was_decided() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        expect gap at least 2 mm
        otherwise { end failed "Out." }
        expect gap at least 1 mm
        otherwise { end failed "Never." }
        expect gap at most 3 mm
        otherwise high { end failed "As well." }
        otherwise no reading { end failed "An interval." }
    }
}"#,
        expect![[r#"
            7 unreachable: nothing leads to this end
        "#]],
    );
}

#[test]
fn what_lies_between_two_ends_is_a_number() {
    clean(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        expect gap within 1 .. 3 mm
        otherwise { end failed "Out." }
        expect gap at least 2 mm
        otherwise low { end failed "As well." }
        otherwise no reading { remove guard  end failed "Never, and no harm." }
    }
}"#,
    );
}

#[test]
fn the_mean_of_several_values_is_a_number_or_there_is_none() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge 3 times take mean
        expect gap at most 3 mm
        otherwise no reading {
            if gap at least 2 mm { note "Never." }
            end failed "It cannot be read."
        }
        otherwise { end failed "Out." }
    }
}"#,
        expect![[r#"
            6 unreachable: nothing leads to this
        "#]],
    );
}

#[test]
fn what_misses_a_limit_is_below_or_above_it() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        if gap misses right-gap {
            if gap within 1.9 .. 2.1 mm { note "Never." }
            else if gap at most 1 mm { note "As well." }
            else if gap at least 3 mm { note "And so." }
        }
    }
}"#,
        expect![[r#"
            5 unreachable: nothing leads to this
        "#]],
    );
}

#[test]
fn of_samples_that_were_steady_there_is_a_reading() {
    clean(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge every 5 s over 20 s take mean
        expect gap is steady within 0.1 mm
        otherwise no reading { end unfinished "As well." }
        otherwise { end failed "It moves." }
        expect gap meets right-gap
        otherwise no reading { remove guard  end failed "Never, and no harm." }
        otherwise { end failed "Out." }
    }
}"#,
    );
}
