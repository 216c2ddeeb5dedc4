//! One large file: a workshop's sheet of many procedures in which many variants matter, with branches and adjustments.

use std::fmt::Write;

/// How a large file is made.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shape {
    /// At least so many lines.
    pub(crate) lines: usize,
    /// How many variants are declared, each an axis of its own.
    pub(crate) axes: usize,
    /// How many values each of them has.
    pub(crate) values: usize,
    /// How many checks a procedure has, each with three branches; each check asks for the next axis.
    pub(crate) checks: usize,
}

const HEAD: &str = r#"item engine: startable "engine" { running brings moving-parts }
item cover: removable "cover" { remove needs engine is stopped }
item cover-bolt: fastener "cover bolt" { torque bolt-torque }
item drive: removable "drive"
tool meter: hand-held "meter" {
    measures frequency 1 .. 500 Hz resolution 0.1 Hz accuracy ± 0.1 Hz
}
tool wrench: hand-held "torque wrench" { sets torque 1 .. 100 N·m accuracy ± 4 % of reading }
spec bolt-torque: torque {
    check 20 ± 3 N·m
    condition "Thread and head clean and dry."
    source "Invented for the benchmark."
}
"#;

impl Shape {
    /// The text of the file.
    pub(crate) fn text(self) -> String {
        let mut text = HEAD.to_owned();
        for axis in 0..self.axes {
            let _ = writeln!(text, "variant axis-{axis}: {}", self.names(axis));
        }
        for check in 0..self.checks {
            let _ = write!(
                text,
                "item screw-{check}: turnable \"screw {check}\" {{ turn moves swing-{check} }}\nquantity swing-{check}: frequency \"how often drive {check} swings\" {{\n    never below 0 Hz\n    needs engine is stopped\n}}\n"
            );
            for axis in 0..self.axes {
                self.spec(&mut text, check, axis);
            }
        }
        let mut number = 0;
        while number == 0 || text.lines().count() < self.lines {
            self.procedure(&mut text, number);
            number += 1;
        }
        text
    }

    fn names(self, axis: usize) -> String {
        let all: Vec<String> = (0..self.values).map(|value| format!("v{axis}-{value}")).collect();
        all.join(", ")
    }

    /// A limit and a band to adjust to for each value of a variant.
    fn spec(self, text: &mut String, check: usize, axis: usize) {
        let _ = writeln!(text, "spec band-{check}-{axis}: swing-{check} {{");
        for value in 0..self.values {
            let middle = 50 + value;
            let _ = writeln!(text, "    check {middle} ± 6 Hz when axis-{axis} is v{axis}-{value}");
            let _ = writeln!(
                text,
                "    adjust {middle} ± 3 Hz target {middle} Hz when axis-{axis} is v{axis}-{value}"
            );
        }
        text.push_str("    source \"Invented for the benchmark.\"\n}\n");
    }

    fn procedure(self, text: &mut String, number: usize) {
        let _ = writeln!(text, "\nprocedure sheet-{number} \"Sheet {number}\" {{");
        for axis in 0..self.axes {
            let _ = writeln!(text, "    applies to axis-{axis} {}", self.names(axis));
        }
        text.push_str(
            "    needs {\n        engine is stopped\n    }\n    step open \"Open it\" {\n        loosen cover-bolt\n        remove cover\n    }\n",
        );
        for check in 0..self.checks {
            let axis = (number + check) % self.axes.max(1);
            let _ = write!(
                text,
                r#"
    step look-{check} "Look at drive {check}" {{
        ask seen-{check} "What does it look like?" one of good, worn, wet
        if seen-{check} is worn {{
            cause drive "Worn."
            end failed "Renew it, then begin again."
        }}
        else if seen-{check} is wet {{ note "Tell the customer." }}
    }}

    step set-{check} "Set drive {check}" {{
        measure m-{check}: swing-{check} with meter 3 times take mean "Pluck it."
        expect m-{check} meets band-{check}-{axis}
        otherwise {{
            adjust m-{check} to band-{check}-{axis} up to 3 times by {{ turn screw-{check} }}
            otherwise {{
                cause drive "Stretched."
                end failed "Renew it."
            }}
        }}
    }}
"#
            );
        }
        text.push_str(
            "    restore {\n        refit cover\n        tighten cover-bolt to bolt-torque with wrench\n    }\n}\n",
        );
    }
}
