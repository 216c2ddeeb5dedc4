//! One made-up procedure: a drive belt checked and adjusted, what else there is to look at, the charging voltage.

use std::fmt::Write;

use crate::corpus::DRIVES;
use dwell_tests::chance::Chance;

/// Procedure `number` of a van; each fourth performs the one before it.
pub(crate) fn procedure(number: u64, chance: &mut Chance) -> String {
    let drive = number % DRIVES;
    let middle = 40 + chance.below(60);
    let times = 1 + chance.below(5);
    let performs = number % 4 == 3;
    let before = number.saturating_sub(1);
    let mut text = String::from("use \"vehicle.dwell\"\nuse \"workshop.dwell\"\n");
    if performs {
        let _ = writeln!(text, "use \"drive-check-{before:02}.dwell\"");
    }
    let other = middle + 6;
    let (tight, loose) = (2 + chance.below(2), 5 + chance.below(3));
    let _ = write!(
        text,
        r#"
spec tension-{number}: swing-{drive} {{
    check {middle} ± {loose} Hz when engine-family is k9
    check {other} ± {loose} Hz when engine-family is k9h
    adjust {middle} ± {tight} Hz target {middle} Hz when engine-family is k9
    adjust {other} ± {tight} Hz target {other} Hz when engine-family is k9h
    source "Invented for the benchmark."
}}

# Belt drive {drive} and charging, looked at for the {number}th time.
procedure drive-check-{number} "Belt drive {drive}: tension and charging voltage" {{
    revision {times} on 2031-02-11 "The belt is now set to ± {tight} Hz."
    applies to engine-family k9, k9h
    applies to charging single, double
    needs {{
        engine is stopped
        gearbox is neutral
        consumers are off
    }}
"#
    );
    if performs {
        let _ = writeln!(
            text,
            "\n    step first \"The check before this one\" {{ perform drive-check-{before} }}"
        );
    }
    for look in 0..chance.below(3) {
        question(&mut text, drive, look, chance);
    }
    let meter_word = chance.of(&["Point the head at the middle.", "Hold it still.", "Keep the head clean."]);
    let _ = write!(
        text,
        r#"
    step belt-check "Check the tension of belt {drive}" {{
        remove clips-{drive}
        remove guard-{drive}
        connect belt-meter to span-{drive} "{meter_word}"
        measure tension: swing-{drive} with belt-meter 3 times take mean "Pluck the belt."
        expect tension meets tension-{number}
        otherwise {{
            adjust tension to tension-{number} up to {times} times by {{
                loosen bolt-{drive}
                turn screw-{drive} "Clockwise, seen from the front, tightens the belt."
                tighten bolt-{drive} to bolt-torque with torque-wrench
            }}
            otherwise {{
                cause belt-{drive} "Stretched or worn."
                end failed "Cannot be brought in: renew the belt."
            }}
        }}
        disconnect belt-meter
        refit guard-{drive}
        renew clips-{drive}
    }}

    step charge-check "Check the charging voltage" {{
        warning moving-parts "Keep hands, hair and test leads clear of belt and fan."
        warning exhaust-gas "Put the extraction hose on the tail pipe before you start the engine."
        connect multimeter to battery-posts "Red lead to the plus post."
        start engine
        wait {times} min since start engine
        measure charge: dc-voltage with multimeter over 20 s take mean
        expect charge meets charging-voltage
        otherwise low {{
            cause battery "Old, or a lead with resistance."
            end failed "Renew the battery."
        }}
        otherwise {{
            cause regulator "Does not limit the voltage."
            end failed "Renew the regulator."
        }}
    }}

    restore {{
        stop engine
        disconnect multimeter
        disconnect belt-meter
        tighten bolt-{drive} to bolt-torque with torque-wrench
        refit guard-{drive}
        renew clips-{drive}
    }}
}}
"#
    );
    text
}

/// A step that asks and branches.
fn question(text: &mut String, drive: u64, look: u64, chance: &mut Chance) {
    let what = chance.of(&["cracked", "glazed", "wet with oil", "frayed", "running off its pulleys"]);
    let _ = write!(
        text,
        r#"
    step look-{look} "Look at belt {drive}" {{
        ask seen-{look} "Is the belt {what}?" one of no, slightly, badly
        if seen-{look} is badly {{
            cause belt-{drive} "It is {what}."
            end failed "Renew the belt, then begin again."
        }}
        else if seen-{look} is slightly {{
            note "Say so to the customer: the belt will have to be renewed soon."
        }}
    }}
"#
    );
}
