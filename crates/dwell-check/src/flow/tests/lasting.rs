//! States that last for a time only: what a wait loses, and what it does not.

use super::{clean, finds};
use expect_test::expect;

/// A job that warms something up, lets it rest, waits, and measures what asks for warmth.
fn job(lasts: &str, rest: &str) -> String {
    format!(
        r#"item motor: startable, heatable "motor" {{ {lasts} }}
quantity warm-gap: length {{ needs motor is warm }}
quantity heat: temperature
tool thermometer: hand-held "thermometer" {{ measures temperature 0 .. 150 °C resolution 1 °C accuracy ± 1 °C }}
spec warm-limit: warm-gap {{ check 2 ± 0.5 mm }}
procedure p "P" {{
    step a "A" {{
        start motor
        measure oil: heat with thermometer
        expect oil at least 80 °C proves motor is warm
        otherwise {{ end unfinished "Cold." }}
        {rest}
        measure g: warm-gap with gauge
        expect g meets warm-limit
        otherwise {{ end failed "Out." }}
    }}
    restore {{ stop motor }}
}}"#
    )
}

#[test]
fn a_wait_up_to_its_time_keeps_a_state() {
    clean(&job("warm lasts 20 min after stop", "stop motor\n wait 20 min since stop motor"));
}

#[test]
fn a_longer_wait_loses_it() {
    finds(
        &job("warm lasts 20 min after stop", "stop motor\n wait 15 min\n wait 6 min"),
        expect![[r#"
            15 need-lost: it is no longer certain that the motor is warm, which is needed to measure warm gap
                This happens when oil is 90 °C (in band).
        "#]],
    );
}

#[test]
fn while_the_verb_has_not_been_done_the_time_does_not_count() {
    clean(&job("warm lasts 20 min after stop", "wait 60 min"));
}

#[test]
fn without_a_verb_it_counts_from_when_it_was_reached() {
    finds(
        &job("warm lasts 20 min", "wait 21 min"),
        expect![[r#"
            13 need-lost: it is no longer certain that the motor is warm, which is needed to measure warm gap
                This happens when oil is 90 °C (in band).
        "#]],
    );
    clean(&job("warm lasts 20 min", "wait 20 min"));
}
