//! Tests of the parser: the shape of trees, every slip, going on after slips, hostile texts.

// A test may panic on a bad slice: that is how it fails.
#![allow(clippy::string_slice)]

mod blame;
mod hostile;
mod lost;
mod outline;
mod recovery;
mod shapes;
mod slips;

use crate::parse::parse;

/// A procedure of the invented Merle van that has every construct of the language once.
const MERLE: &str = include_str!("tests/merle.dwell");

/// The slips of `text`, one a line: place, what it is about, message, help, repair.
fn slips(text: &str) -> String {
    let lines = crate::lines::Lines::of(text);
    let parsed = parse(text);
    let one = |slip: &crate::slip::Slip| {
        let (line, column) = lines.place(text, slip.span.start);
        let about = &text[slip.span.start..slip.span.end];
        let help = slip.help.as_ref().map(|help| format!(" | {help}")).unwrap_or_default();
        let fix = slip.fix.as_ref().map(|fix| format!(" => {:?}", fix.replacement)).unwrap_or_default();
        format!("{line}:{column} {} {about:?} {}{help}{fix}\n", slip.rule, slip.message)
    };
    parsed.slips.iter().map(one).collect()
}

/// A statement in a step of a procedure.
fn in_step(statement: &str) -> String {
    format!("procedure p {{\nstep s {{\n{statement}\n}}\n}}\n")
}
