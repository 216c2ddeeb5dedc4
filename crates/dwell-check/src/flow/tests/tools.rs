//! Tools that fit what they are connected to, and tools that are warm, set to zero and settled before they are read.

use super::{clean, finds};
use expect_test::expect;

/// A gauge and a port of different threads, joined in the way that is given.
fn joined(with: &str) -> String {
    format!(
        r#"item rail-port: port "rail port" {{ fits "M12 x 1.5" }}
item pump-port: port "pump port" {{ fits "M14x1.5" }}
tool rail-gauge: clip-on "rail gauge" {{ measures length 0 .. 1 m resolution 1 mm accuracy ± 1 mm  fits "M10x1" }}
tool adapter: hand-held "adapter" {{ fits "m10×1"  fits "M12x1.5" }}
item bush: removable "bush" {{ fits "M10x1"  fits "M14x1.5" }}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step look "Look" {{ {with} }}
    restore {{ disconnect rail-gauge }}
}}
"#
    )
}

#[test]
fn what_fits_both_goes_between() {
    clean(&joined("connect rail-gauge to rail-port with adapter"));
    clean(&joined("connect rail-gauge to pump-port with bush"));
    clean(&joined("connect rail-gauge to pump-port with adapter, bush"));
    clean(&joined("connect rail-gauge to post"));
}

#[test]
fn two_threads_do_not_meet() {
    finds(
        &joined("connect rail-gauge to pump-port with adapter"),
        expect![[r#"
            8 fitting-mismatch: the rail gauge does not fit the pump port
        "#]],
    );
    finds(
        &joined("connect rail-gauge to rail-port"),
        expect![[r#"
            8 fitting-mismatch: the rail gauge does not fit the rail port
        "#]],
    );
}

/// Procedures with an analyser that warms up, a gauge with a zero, and a display that settles.
fn read(lines: &str, more: &str) -> String {
    let tight = "        tighten bolt to torque-of-bolt with wrench\n";
    let back = if more.contains("loosen bolt") { tight } else { "" };
    format!(
        r#"tool slow: clip-on "slow meter" {{ measures length 0 .. 10 mm resolution 0.01 mm accuracy ± 0.01 mm  {lines} }}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
{more}    restore {{
{back}        disconnect slow
    }}
}}
"#
    )
}

const EXPECT: &str = "        expect gap meets right-gap
        otherwise { end failed \"Out.\" }
    }
";

#[test]
fn the_shorter_time_counts_where_ways_meet() {
    let text = |wait: &str| {
        format!(
            "    step s \"S\" {{
        connect slow to post
        ask hurry \"Hurry?\"
        if hurry is yes {{ wait {wait} }} else {{ wait 20 min }}
        wait 5 min
        measure gap with slow
{EXPECT}"
        )
    };
    clean(&read("warms up 15 min", &text("10 min")));
    finds(
        &read("warms up 15 min", &text("9 min")),
        expect![[r#"
        9 warm-up-missing: the slow meter may still be cold when it is read
            This happens when hurry is yes.
    "#]],
    );
}

#[test]
fn time_since_an_event_counts_once() {
    let text = |waits: &str| {
        format!(
            "    step s \"S\" {{\n        connect slow to post\n{waits}        measure gap with slow\n{EXPECT}"
        )
    };
    let since = "        wait 10 min since connect slow\n";
    finds(
        &read("warms up 15 min", &text(&since.repeat(2))),
        expect![[r#"
        8 warm-up-missing: the slow meter may still be cold when it is read
            This happens on every way through.
    "#]],
    );
    clean(&read("warms up 15 min", &text(&format!("{since}        wait 5 min\n"))));
    finds(
        &read("warms up 15 min", &text("        wait 15 min since connect meter\n")),
        expect![[r#"
        7 warm-up-missing: the slow meter may still be cold when it is read
            This happens on every way through.
    "#]],
    );
}

#[test]
fn a_warm_tool_stays_warm() {
    let text = format!(
        "    needs {{ slow is warm }}\n    step s \"S\" {{ connect slow to post  measure gap with slow\n{EXPECT}"
    );
    clean(&read("warms up 15 min", &text));
}

#[test]
fn a_zero_is_set_before_each_reading() {
    let text = |zero: &str| {
        format!(
            "    step s \"S\" {{
        connect slow to post
        do \"Set it to zero.\" zeroes slow
        measure gap with slow
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
{zero}        measure gap again
{EXPECT}"
        )
    };
    clean(&read("zeroed after each connect", &text("")));
    clean(&read("zeroed before each procedure", &text("")));
    finds(
        &read("zeroed before each measure", &text("")),
        expect![[r#"
        10 zero-missing: the slow meter may not be set to zero here
            This happens on every way through.
    "#]],
    );
    clean(&read("zeroed before each measure", &text("        do \"Again.\" zeroes slow\n")));
    finds(
        &read("zeroed before each connect", &text("")),
        expect![[r#"
        5 zero-missing: the slow meter may not be set to zero here
            This happens on every way through.
    "#]],
    );
    finds(
        &read("zeroed after each tighten", &text("")),
        expect![[r#"
        1 not-found: no action of this tool is called `tighten`
    "#]],
    );
}

#[test]
fn each_procedure_sets_its_own_zero() {
    let inner = "procedure inner \"Inner\" {
    revision 1 on 2031-01-01 \"First.\"
    needs { slow is connected }
    step s \"S\" {
        measure gap with slow
        expect gap meets right-gap
        otherwise { end failed \"Out.\" }
    }
}
";
    let outer = "    step s \"S\" {
        connect slow to post
        do \"Zero.\" zeroes slow
        perform inner
    }
";
    finds(
        &format!("{}{inner}", read("zeroed before each procedure", outer)),
        expect![[r#"
            17 zero-missing: the slow meter may not be set to zero here
                This happens on every way through.
        "#]],
    );
    clean(&format!(
        "{}{}",
        read("zeroed before each procedure", outer),
        inner.replace("        measure", "        do \"Zero.\" zeroes slow\n        measure")
    ));
}

#[test]
fn a_display_settles_after_what_moves_it() {
    let text = |manner: &str, wait: &str| {
        format!(
            "    step s \"S\" {{
        connect slow to post
        measure gap with slow{manner}
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
{wait}        measure gap again
{EXPECT}"
        )
    };
    clean(&read("settles 10 s", &text(" after 10 s", "")));
    finds(
        &read("settles 10 s", &text(" after 9 s", "        wait 10 s\n")),
        expect![[r#"
        6 settle-missing: the slow meter may not have settled when it is read
            This happens on every way through.
    "#]],
    );
    finds(
        &read("settles 10 s", &text("", "")),
        expect![[r#"
        6 settle-missing: the slow meter may not have settled when it is read
            This happens on every way through.
        9 settle-missing: the slow meter may not have settled when it is read
            This happens on every way through.
    "#]],
    );
}

#[test]
fn a_suspension_that_moves_is_measured_too_early() {
    finds(
        r#"item suspension: settling "suspension"
item jack: switchable "jack" { switch-on brings suspension is unsettled  switch-off brings suspension is unsettled }
quantity ride: length { needs suspension is settled }
spec right-ride: ride { check 2 ± 0.5 mm }
procedure p "P" {
    revision 1 on 2031-01-01 "First."
    step s "S" {
        switch-on jack
        measure ride with gauge
        expect ride meets right-ride
        otherwise { end failed "Out." }
    }
    restore {
        switch-off jack
        settle suspension
    }
}
"#,
        expect![[r#"
            9 settle-missing: the suspension may not have settled when this is measured
                This happens on every way through.
        "#]],
    );
}

/// A meter with a switch, read twice.
fn switched(line: &str, before: &str) -> String {
    format!(
        r#"handling dial {{
    states on-volts, on-ohms
    turn-to-volts: on-ohms -> on-volts
    turn-to-ohms: on-volts -> on-ohms
    may stay on-ohms
}}
variant cell: wet, dry
tool dial-meter: clip-on, dial "dial meter" {{
    measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V
    measures resistance 0 .. 60 Ω resolution 0.01 Ω accuracy ± 0.01 Ω {line}
}}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step s "S" {{
{before}        measure rest: dc-voltage with dial-meter
        measure coil: resistance with dial-meter
        note "{{rest}} {{coil}}"
    }}
    restore {{ disconnect dial-meter }}
}}
"#
    )
}

#[test]
fn a_switch_of_a_tool_connects_nothing() {
    clean(&switched("", "        connect dial-meter to post\n"));
    clean(&switched("", "        connect dial-meter to post\n        turn-to-ohms dial-meter\n"));
    finds(
        &switched("", "        turn-to-ohms dial-meter\n"),
        expect![[r#"
            16 tool-not-connected: the dial meter is not connected when it is read
                This happens on every way through.
            17 tool-not-connected: the dial meter is not connected when it is read
                This happens on every way through.
            20 restored-untouched: on no way through is there anything to put back here: the dial meter is as it was
        "#]],
    );
}

#[test]
fn a_tool_must_be_set_to_what_it_measures() {
    let on = "        connect dial-meter to post\n";
    finds(
        &switched("needs dial-meter is on-ohms", on),
        expect![[r#"
        17 need-not-met: it is not certain that the dial meter is on ohms, which is needed to measure resistance with the dial meter
            This happens on every way through.
    "#]],
    );
    finds(
        &switched("needs dial-meter is on-ohms when cell is dry", on),
        expect![[r#"
        17 need-not-met: it is not certain that the dial meter is on ohms, which is needed to measure resistance with the dial meter
            This happens with cell dry.
    "#]],
    );
    finds(
        &switched("when cell is dry", on),
        expect![[r#"
            10 not-executable: what a tool can do does not depend on a condition
        "#]],
    );
    clean(&switched("needs dial-meter is on-ohms", &format!("{on}        turn-to-ohms dial-meter\n")));
}

#[test]
fn a_wrench_must_be_set_to_what_it_tightens() {
    let text = |before: &str| {
        format!(
            r#"handling drive-switch {{ states left, right  turn-right: left -> right  turn-left: right -> left }}
tool switched-wrench: hand-held, drive-switch "switched wrench" {{
    sets torque 1 .. 50 N·m resolution 0.1 N·m needs switched-wrench is right
}}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step s "S" {{
        loosen bolt
{before}        tighten bolt to torque-of-bolt with switched-wrench
    }}
    restore {{
        turn-right switched-wrench
        tighten bolt to torque-of-bolt with switched-wrench
        turn-left switched-wrench
    }}
}}
"#
        )
    };
    finds(
        &text(""),
        expect![[r#"
        9 need-not-met: it is not certain that the switched wrench is right, which is needed to set the switched wrench
            This happens on every way through.
    "#]],
    );
    clean(&text("        turn-right switched-wrench\n"));
}

/// A bolt tightened with a wrench and these tools beside it.
fn tightened(wrench: &str, arm: &str, with: &str) -> String {
    format!(
        r#"tool long-wrench: hand-held "long wrench" {{ sets torque 10 .. 30 N·m resolution 0.1 N·m {wrench} }}
tool arm: hand-held "offset spanner" {{ {arm} }}
tool socket: hand-held "socket"
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step s "S" {{
        loosen bolt
        tighten bolt to torque-of-bolt with {with}
    }}
    restore {{ tighten bolt to torque-of-bolt with {with} }}
}}
"#
    )
}

#[test]
fn an_adapter_needs_both_lengths() {
    clean(&tightened("reaches 300 mm", "extends 25 mm", "long-wrench, arm"));
    clean(&tightened("", "extends 25 mm", "long-wrench, socket"));
    clean(&tightened("", "extends 0 mm", "long-wrench, arm"));
    clean(&tightened("", "extends 25 mm at 90 °", "long-wrench, arm"));
    finds(
        &tightened("", "extends 25 mm", "long-wrench, arm"),
        expect![[r#"
        8 adapter-without-length: the offset spanner changes what the long wrench must be set to
        10 adapter-without-length: the offset spanner changes what the long wrench must be set to
    "#]],
    );
    finds(
        &tightened("reaches 300 mm", "", "long-wrench, arm"),
        expect![[r#"
        8 adapter-without-length: the offset spanner changes what the long wrench must be set to
        10 adapter-without-length: the offset spanner changes what the long wrench must be set to
    "#]],
    );
}

/// Terms of the trade, no source. A socket, a straight extension and a joint stay in line with the square drive.
#[test]
fn a_thing_that_changes_the_setting_is_known_by_its_name() {
    let called = |label: &str| {
        tightened("", "", "long-wrench, arm").replace("\"offset spanner\"", &format!("\"{label}\""))
    };
    for label in [
        "Adaptor",
        "crowfoot",
        "crow-foot wrench 17 mm",
        "crow's foot",
        "crow’s-foot spanner",
        "crow ring",
        "claw spanner",
        "dog-bone",
        "torque multiplier 4:1",
    ] {
        let found = super::found(&called(label));
        assert!(found.contains("8 adapter-without-length: "), "{label}: {found}");
    }
    for label in [
        "extension",
        "250 mm extension bar",
        "long reach socket",
        "universal joint",
        "second spanner",
        "claw puller",
    ] {
        clean(&called(label));
    }
}

#[test]
fn the_range_of_a_wrench_is_held_against_its_setting() {
    finds(
        &tightened("reaches 100 mm", "extends 90 mm", "long-wrench, arm"),
        expect![[r#"
        8 tool-out-of-range: 9.5 .. 11.5 N·m (for 20 ± 2 N·m with the adapter) is not inside the range of the long wrench, 10 .. 30 N·m
        10 tool-out-of-range: 9.5 .. 11.5 N·m (for 20 ± 2 N·m with the adapter) is not inside the range of the long wrench, 10 .. 30 N·m
    "#]],
    );
    finds(
        &tightened("reaches 100 mm", "extends 110 mm at 180 °", "long-wrench, arm"),
        expect![[r#"
        8 not-executable: the adapter points back further than the wrench reaches
        10 not-executable: the adapter points back further than the wrench reaches
    "#]],
    );
    finds(
        &tightened("reaches 0 mm", "extends 10 mm", "long-wrench, arm"),
        expect![[r#"
        1 not-executable: a wrench that reaches nowhere
        8 adapter-without-length: the offset spanner changes what the long wrench must be set to
        10 adapter-without-length: the offset spanner changes what the long wrench must be set to
    "#]],
    );
}
