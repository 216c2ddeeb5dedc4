//! What is shown under the pointer, in plain text, with what it is shown of.

use super::super::block::plain;
use super::super::tests::view;
use super::hover;
use expect_test::{Expect, expect};

const TEXT: &str = r#"
variant family: k9, k9h
hazard hot: warning "keep < 5 bar & <ignition off>; do *not* touch _A|B_"
# The guard over the belt.
# Clips on.
item guard: removable "Gehäuse é"
item bolt: fastener "bolt" { torque bolt-torque  tighten needs guard is out }
tool meter: clip-on "meter" { measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz }
spec tension: frequency { check 62 ± 6 Hz when family is k9  adjust 62 ± 3 Hz target 62 Hz when family is k9  check 68 ± 6 Hz when family is k9h  source "Sheet 1." }
spec bolt-torque: torque { check 20 .. 24 N·m }
"#;

fn shows(text: &str, expected: Expect) {
    let (view, at) = view(&[("a.dwell", &format!("{text}{TEXT}"))]);
    let shown = hover(&view, at).map_or_else(
        || "nothing".to_owned(),
        |hover| {
            let of = view.text().get(hover.span.start..hover.span.end).unwrap_or_default();
            format!("[{of}]\n{}", plain(&hover.blocks))
        },
    );
    expected.assert_eq(&shown);
}

#[test]
fn an_amount_and_a_band() {
    shows(
        "spec t: torque { check 20 ± 2 N‸·m }",
        expect![[r#"
        [2 N·m]
        20 ± 2 N·m

        torque: 18 .. 22 N·m; middle 20 N·m, tolerance ± 2 N·m.

        Rounded inwards: 13.3 .. 16.2 lbf·ft.

        check  ├───────────────────────────────────┤  18 .. 22 N·m (20 ± 2 N·m)"#]],
    );
    shows(
        "procedure p \"é°\" { step s \"S\" { wait 2‸ min } }",
        expect![[r#"
        [2 min]
        2 min

        120 s.

        A unit of duration."#]],
    );
    shows(
        "spec t: gauge-pressure { check at least 2‸ bar }",
        expect![[r#"
        [2 bar]
        at least 2 bar

        gauge-pressure: at least 2 bar.

        Rounded inwards: at least 29.1 psi, at least 200 kPa.

        check                ├─────────────────────►  at least 2 bar"#]],
    );
}

#[test]
fn nothing_on_blanks_and_in_comments() {
    shows("item x: removable \"x\" ‸ \n", expect!["nothing"]);
    shows("# guard‸\n", expect!["nothing"]);
    shows("\n‸\n", expect!["nothing"]);
}

#[test]
fn things() {
    shows(
        "procedure p \"P\" { step s \"S\" { note \"n\"\n expect x meets ‸tension } }",
        expect![[r#"
        [tension]
        tension

        A spec of frequency. Source: Sheet 1.

        check   ├───────────────────────┤              56 .. 68 Hz (62 ± 6 Hz) when family is k9
        adjust        ├─────◆─────┤                    59 .. 65 Hz (62 ± 3 Hz) when family is k9
        check               ├───────────────────────┤  62 .. 74 Hz (68 ± 6 Hz) when family is k9h"#]],
    );
    shows(
        "procedure p \"P\" { needs { guard‸ is out } step s \"S\" { note \"n\" } }",
        expect![[r#"
        [guard]
        Gehäuse é

        An item, removable.

        remove: fitted → out
        refit: out → fitted

        The guard over the belt.
        Clips on."#]],
    );
    shows(
        "procedure p \"P\" { needs { guard is ‸out } step s \"S\" { note \"n\" } }",
        expect![[r#"
        [out]
        out

        A state of the Gehäuse é (removable): fitted, out."#]],
    );
    shows(
        "procedure p \"P\" { step s \"S\" { warning hot‸\n note \"n\" } }",
        expect![[r#"
        [hot]
        hot

        WARNING: keep < 5 bar & <ignition off>; do *not* touch _A|B_"#]],
    );
    shows(
        "procedure p \"P\" { applies to family k9h‸\n step s \"S\" { note \"n\" } }",
        expect![[r#"
        [k9h]
        k9h

        A value of family: k9, k9h."#]],
    );
}

#[test]
fn verbs_and_words_with_the_state_of_the_vehicle() {
    shows(
        "procedure p \"P\" { step s \"S\" { remove guard\n tigh‸ten bolt\n refit guard } restore { refit guard } }",
        expect![[r#"
            [tighten]
            tighten bolt

            loose → tight

            Needs guard is out.

            Before this:

            Gehäuse é  out  owed, restore puts it back

            As usual: bolt tight.

            fastener-left-loose

            Level: error

            A bolt, a nut or a clamp is loosened and not tight again on some way out, or it is tightened to a torque without a tool that sets one.

            The lock nut of a tie rod that was forgotten, the bolt that was "nipped up" to go on later: it holds on the first drive, and comes off on the tenth.

            What to do: tighten it in restore, with its torque and its wrench. Somebody may stop between loosening and tightening, and restore is done on every way out. What is already tight is left out there.

            A fastener is whatever has a verb tighten that brings it back to its normal state. A hose clamp that you describe yourself is one too.

            Not meant: everything else that stays disturbed. That is not-restored.

            wrong-state

            Level: error

            Something is to be done that cannot be done at that moment: a part is taken off twice, or an engine stopped that stands.

            A copied step says "remove the guard" once more. The technician finds it off already and has to guess what was meant: another guard perhaps. Mostly a step in between was lost.

            What to do: look at the steps before, on the way that the finding shows. One is missing there, or this one is done twice. Add the one or take out the other."#]],
    );
    shows(
        "procedure p \"P\" { step s \"S\" { remove guard\n no‸te \"é\"\n refit guard } }",
        expect![[r#"
        [note]
        note

        Information; nothing is to be done.

        Before this:

        Gehäuse é  out  owed, restore does not put it back"#]],
    );
}

#[test]
fn readings_and_rules() {
    shows(
        "procedure p \"P\" { step s \"S\" { measure f: frequency with meter\n expect f‸ meets tension otherwise { end failed \"Renew the belt.\" } } }",
        expect![[r#"
            [f]
            f

            A reading of frequency, measured here.

            measure f: frequency with meter"#]],
    );
    shows(
        "item y: removable \"y\" { waive name-unused‸ because \"…\" }",
        expect![[r#"
        [name-unused]
        name-unused

        Level: hint

        A name stands for something that nothing uses.

        A spec that nothing judges by is a trap for whoever comes later. Its number is corrected with care, and at the vehicle nothing changes, because the work goes by another one.

        What to do: use it where another name or a number stands in its place. Or take it out.

        Not meant: procedures, and what comes with the language. Of a file without procedures that is checked alone nothing is said: it is not known then who uses it. Any mention outside the place where the name is given counts as use.

        Wrong

        tool gauge: hand-held "pressure gauge" { measures gauge-pressure 0 .. 10 bar resolution 0.02 bar accuracy ± 0.02 bar }
        spec front-tyre: gauge-pressure { check 2.6 ± 0.2 bar }
        spec front-tyre-loaded: gauge-pressure { check 3.0 ± 0.2 bar }
        #    ^^^^^^^^^^^^^^^^^ hint: `front-tyre-loaded` is a spec that nothing uses

        procedure tyre "Tyre" {
            step read "Read it" {
                measure pressure: gauge-pressure with gauge
                expect pressure meets front-tyre
                otherwise { end failed "Look for the leak." }
            }
        }

        Right

        variant load: empty, loaded

        tool gauge: hand-held "pressure gauge" { measures gauge-pressure 0 .. 10 bar resolution 0.02 bar accuracy ± 0.02 bar }
        spec front-tyre: gauge-pressure {
            check 2.6 ± 0.2 bar when load is empty
            check 3.0 ± 0.2 bar when load is loaded
        }

        procedure tyre "Tyre" {
            step read "Read it" {
                measure pressure: gauge-pressure with gauge
                expect pressure meets front-tyre
                otherwise { end failed "Look for the leak." }
            }
        }

        When to waive

        Where files that are not checked here use it."#]],
    );
}
