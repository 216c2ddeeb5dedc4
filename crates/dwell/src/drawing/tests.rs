//! Findings drawn at every place of small hostile texts, over several files, and with all their parts.

use super::{Drawing, visible};
use crate::screen::{Style, WIDTH, wrapped};
use dwell_check::finding::{Finding, Level, Place, Witness};
use dwell_check::program::{Program, SourceFile};
use dwell_syntax::tree::Span;
use expect_test::expect;

const PLAIN: Style = Style { colour: false, ascii: false };

fn program(files: &[(&str, &str)]) -> Program {
    Program { files: files.iter().map(|(path, text)| SourceFile::alone(path, text)).collect() }
}

fn place(file: usize, start: usize, end: usize) -> Place {
    Place { file, span: Span { start, end } }
}

fn finding(place: Place) -> Finding {
    Finding {
        rule: "not-restored",
        level: Level::Error,
        place,
        message: "the belt guard may still be removed at the end".into(),
        label: "removed from here on".into(),
        why: String::new(),
        help: None,
        related: Vec::new(),
        witness: None,
        fix: None,
    }
}

/// Spans inside characters, past the end, the wrong way round.
#[test]
fn no_span_of_any_text_panics_or_is_lost() {
    for text in ["", "é\r\n\n😀", "\r\r\n", "a\tb\u{301}\n", "\u{FEFF}x", "x\u{2028}y"] {
        let program = program(&[("a.dwell", text)]);
        for start in 0..text.len() + 3 {
            for end in 0..text.len() + 3 {
                let drawn = Drawing::new(&program, PLAIN).of(&finding(place(0, start, end)));
                assert!(
                    drawn.contains("a.dwell:") && drawn.contains("removed from here on"),
                    "{text:?} {start}..{end}\n{drawn}"
                );
            }
        }
    }
}

#[test]
fn all_parts_of_a_finding_over_two_files() {
    let program = program(&[
        ("belt.dwell", "größe\nremove belt-guard\nend failed\n"),
        ("vehicle.dwell", "# größe\nitem belt-guard\n"),
    ]);
    let mut all = finding(place(0, 8, 25));
    all.why = "The vehicle leaves the bay with it removed, and a hand that reaches past the fan may be caught by it.".into();
    all.help =
        Some("write it into `restore`, so that every way out does it, the early ones among them".into());
    all.related = vec![(place(1, 10, 25), "declared here".into()), (place(0, 26, 36), "one way out".into())];
    all.witness = Some(Witness {
        procedure: "belt".into(),
        variants: Vec::new(),
        nodes: Vec::new(),
        answers: Vec::new(),
        says: "This happens when tension is 50 Hz (low).".into(),
    });
    let drawn = Drawing::new(&program, PLAIN).of(&all);
    expect![[r#"
        error: the belt guard may still be removed at the end               not-restored
           ╭─[ belt.dwell:2:1 ]
           │
         2 │ remove belt-guard
           │ ┬────────────────
           │ ╰────────────────── removed from here on
         3 │ end failed
           │ ┬─────────
           │ ╰─────────── one way out
           │
           ├─[ vehicle.dwell:2:1 ]
           │
         2 │ item belt-guard
           │ ┬──────────────
           │ ╰──────────────── declared here
        ───╯
          The vehicle leaves the bay with it removed, and a hand that reaches past the
          fan may be caught by it.
          This happens when tension is 50 Hz (low).
          help: write it into `restore`, so that every way out does it, the early ones
                among them
    "#]]
    .assert_eq(&drawn);
    assert!(drawn.lines().all(|line| line.chars().count() <= WIDTH));
}

#[test]
fn controls_are_replaced_byte_for_byte() {
    let text = "a\u{1B}[2J\0\t\u{202E}\u{200B}\u{85}\u{61C}\r\nµ°😀";
    let shown = visible(text);
    assert_eq!(shown.len(), text.len());
    expect![[r#"a?[2J?\t��¤¤\r\nµ°😀"#]].assert_eq(&shown.escape_debug().to_string());
}

#[test]
fn words_are_broken_at_blanks_and_long_ones_stay_whole() {
    let long = "x".repeat(100);
    let lines = wrapped("  help: ", 8, &format!("{}{long} end\nnext", "word ".repeat(20)));
    assert_eq!(lines.first().map(|line| line.starts_with("  help: word")), Some(true));
    assert!(lines.iter().all(|line| line.chars().count() <= WIDTH || line.trim() == long), "{lines:#?}");
    assert_eq!(lines.last().map(String::as_str), Some("        next"));
}
