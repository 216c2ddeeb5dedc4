//! Texts that nobody writes: too deep, too long, never closed.

use std::time::{Duration, Instant};

use dwell_check::finding::Level;
use dwell_syntax::lex::LONGEST_TEXT;

use super::invariants::survives;
use super::watch;
use crate::merle::{Merle, all_told};

/// Where the text is put.
const PLACE: &str = "charging/battery-check.dwell";

/// Texts that say what the language allows, long or deep as they are.
const GOOD: [&str; 5] = [
    "60 parentheses",
    "a comment as long as allowed",
    "line ends only",
    "lone carriage returns",
    "a text as long as allowed",
];

/// The texts, each with what it is.
fn monsters() -> Vec<(&'static str, String)> {
    let step =
        |inside: &str| format!("procedure p \"P\" {{\n    step s \"S\" {{\n        {inside}\n    }}\n}}\n");
    let deep_if = "if a is b { ".repeat(60) + &"}".repeat(60);
    vec![
        ("100,000 braces never closed", "{".repeat(100_000)),
        ("100,000 braces closed", "{".repeat(100_000) + &"}".repeat(100_000)),
        ("100,000 braces, one a line", "{\n".repeat(100_000)),
        ("100,000 closing braces", "}".repeat(100_000)),
        ("100,000 steps in one another", "step s {".repeat(100_000)),
        ("100,000 parentheses", step(&format!("let a: length = {}", "(".repeat(100_000)))),
        (
            "100,000 parentheses closed",
            step(&format!("let a = {}1 mm{}", "(".repeat(100_000), ")".repeat(100_000))),
        ),
        ("60 parentheses", step(&format!("let a = {}1 mm{}", "(".repeat(60), ")".repeat(60)))),
        ("60 parentheses, one lost", step(&format!("let a = {}1 mm{}", "(".repeat(60), ")".repeat(59)))),
        ("60 conditions in one another", step(&deep_if)),
        ("60 conditions never closed", step(&"if a is b { ".repeat(60))),
        (
            "60 answers to answers",
            step(&format!("expect a meets b {}", "otherwise { expect a meets b ".repeat(60))),
        ),
        ("a line of 1 MB", "a ".repeat(500_000)),
        ("a name of 1 MB", format!("item {}: port", "a".repeat(1_000_000))),
        ("a number of 1 MB", format!("spec s: length {{ check {} mm }}", "1".repeat(1_000_000))),
        ("a comment of 1 MB", format!("# {}\n", "µ".repeat(500_000))),
        ("a text as long as allowed", step(&format!("note \"{}\"", "µ".repeat(LONGEST_TEXT)))),
        ("a comment as long as allowed", format!("#{}\n", "µ".repeat(LONGEST_TEXT - 1))),
        ("a text of 1 MB", step(&format!("note \"{}\"", "µ°".repeat(250_000)))),
        ("a text of 1 MB never closed", step(&format!("note \"{}", "µ°".repeat(250_000)))),
        ("quotes all the way", "\"a ".repeat(300_000)),
        ("operators all the way", "+ - * / ± ".repeat(100_000)),
        ("`otherwise` all the way", "otherwise ".repeat(100_000)),
        ("`procedure` all the way", "procedure ".repeat(50_000)),
        ("`70 % of` all the way", step(&format!("if a below {} a {{ }}", "70 % of ".repeat(20_000)))),
        ("line ends only", "\n".repeat(1_000_000)),
        ("lone carriage returns", "\r".repeat(1_000_000)),
    ]
}

#[test]
fn monsters_are_refused_in_words_and_in_time() {
    let library = Merle::read();
    watch::all(
        monsters(),
        |(name, _)| (*name).to_owned(),
        move |(name, text)| {
            let begun = Instant::now();
            let checked = survives(&library, PLACE, text);
            let took = begun.elapsed();
            let errors = checked.findings.iter().filter(|finding| finding.level == Level::Error).count();
            let good = GOOD.contains(name);
            assert!(good || errors > 0, "{name} is taken for a good text");
            assert!(!good || errors == 0, "{name} is refused: {}", all_told(&checked));
            assert!(took < Duration::from_secs(30), "{name} takes {took:?}");
        },
    );
}

#[test]
fn eight_times_as_long_takes_about_eight_times_as_long() {
    let library = Merle::read();
    for piece in ["\"a ", "{", "(", "note \"a\" ", "# µ\n", "a.b ", "1 mm ", "otherwise { "] {
        let time = |count: usize| {
            let text = piece.repeat(count);
            let mut best = Duration::MAX;
            for _ in 0..3 {
                let begun = Instant::now();
                drop(survives(&library, PLACE, &text));
                best = best.min(begun.elapsed());
            }
            best
        };
        let (short, long) = (time(2_000), time(16_000));
        let most = short.max(Duration::from_millis(20)) * 8 * 4;
        assert!(long < most, "`{piece}`: 2,000 take {short:?}, 16,000 take {long:?}");
    }
}
