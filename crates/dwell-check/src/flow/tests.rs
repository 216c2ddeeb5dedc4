//! Small procedures, each with all that is found in it: rule, line and first words, or nothing.

mod alike;
mod cautions;
mod checks;
mod debts;
mod intervals;
mod joins;
mod lasting;
mod loops;
mod places;
mod readings;
mod rows;
mod signing;
mod spans;
mod stages;
mod standing;
mod steps;
mod things;
mod tools;
mod vehicles;
mod worked_out;

use crate::check::check;
use crate::texts::Texts;
use crate::trouble::Trouble;
use expect_test::Expect;

/// Things that the small procedures handle.
const THINGS: &str = r#"
item guard: removable "guard"
item cover: removable "cover"
item gearbox: gear-selector "gearbox"
item bolt: fastener "bolt" { tighten moves gap }
item engine: startable "engine" { running brings moving-parts }
item fan: switchable "fan" { switch-on brings moving-parts }
item post: port "post"
item other-post: port "other post"
tool meter: clip-on "meter" { measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V }
tool gauge: hand-held "gauge" { measures length 0 .. 10 mm resolution 0.01 mm accuracy ± 0.01 mm }
tool wrench: hand-held "wrench" { sets torque 1 .. 50 N·m resolution 0.1 N·m accuracy ± 4 % of reading }
quantity gap: length
spec right-gap: gap { check 2 ± 0.5 mm  adjust 2 ± 0.2 mm }
spec torque-of-bolt: torque { check 20 ± 2 N·m }
spec volts: dc-voltage { check 12 ± 1 V }
"#;

/// What is found in procedures beside the things above: the rule, the line counted from the procedures' own first line, the
/// message. That some procedure leaves some of the things alone says nothing, nor what is said of the text and not of the ways.
fn found(procedures: &str) -> String {
    let text = format!("{THINGS}{procedures}");
    let before = THINGS.lines().count();
    let checked = check(&["small.dwell".to_owned()], &Texts(&[("small.dwell", &text)]));
    let mut out = String::new();
    let aside = ["name-unused", "blamed-unread", "limit-copied", "thread-condition-missing"];
    for finding in checked.findings.iter().filter(|finding| !aside.contains(&finding.rule)) {
        let file = &checked.program.files[finding.place.file];
        let line = file.lines.place(&file.text, finding.place.span.start).0;
        let line = i64::try_from(line).unwrap() - i64::try_from(before).unwrap();
        out.push_str(&format!("{line} {}: {}\n", finding.rule, finding.message));
        if let Some(witness) = &finding.witness {
            out.push_str(&format!("    {}\n", witness.says));
        }
    }
    out
}

fn finds(procedures: &str, expected: Expect) {
    expected.assert_eq(&found(procedures));
}

fn clean(procedures: &str) {
    assert_eq!(found(procedures), "");
}

/// What is wrong, whatever the way that leads there.
fn without_witness(mut trouble: Trouble) -> String {
    if let Some(witness) = trouble.witness_mut() {
        (witness.variants, witness.nodes) = Default::default();
        (witness.answers, witness.says) = Default::default();
    }
    format!("{trouble:?}")
}
