//! The laws of the formatter: nothing lost, nothing changed, nothing left to do, and how things look.

use expect_test::{expect, expect_file};
use proptest::prelude::*;

use super::gaps::remarks;
use super::{WIDTH, format, lay_out, spelling};
use crate::lex::TokenKind;
use crate::parse::parse;
use crate::tree::{DeclarationKind, Part};

const WHOLE: &str = include_str!("tests/whole.dwell");
const RAGGED: &str = include_str!("tests/ragged.dwell");

/// Sets a text and holds it to every law; `None` where the text cannot be read, which must be an error.
fn set(text: &str) -> Option<String> {
    let parsed = parse(text);
    if !parsed.slips.is_empty() {
        assert_eq!(format(text), Err(parsed.slips), "a text with slips is left alone:\n{text}");
        return None;
    }
    let laid_out = lay_out(text, &parsed);
    let again = parse(&laid_out);
    assert_eq!(again.slips, [], "the text set can be read:\n{text}\n---\n{laid_out}");
    assert_eq!(
        spelling::meaning(&again.tree),
        spelling::meaning(&parsed.tree),
        "the text set says the same:\n{text}\n---\n{laid_out}"
    );
    assert_eq!(
        remarks(&again.trivia),
        remarks(&parsed.trivia),
        "no comment is lost:\n{text}\n---\n{laid_out}"
    );
    assert_eq!(texts(&laid_out), texts(text), "no text is changed:\n{text}\n---\n{laid_out}");
    assert_eq!(lay_out(&laid_out, &again), laid_out, "setting again changes nothing:\n{text}");
    assert_eq!(format(text).as_ref(), Ok(&laid_out));
    assert!(laid_out.is_empty() || laid_out.ends_with(['\n', '\r']) || laid_out == "\u{FEFF}");
    assert!(
        laid_out.split(['\n', '\r']).all(|line| line.trim_end() == line),
        "no line ends with a blank:\n{laid_out}"
    );
    assert!(!laid_out.contains("\n\n\n"), "at most one blank line:\n{laid_out}");
    Some(laid_out)
}

/// The texts in quotes, in order.
fn texts(text: &str) -> Vec<&str> {
    let tokens = crate::lex::lex(text).tokens;
    let quoted = tokens.iter().filter(|token| matches!(token.kind, TokenKind::Str | TokenKind::LineStr));
    quoted.filter_map(|token| text.get(token.span.start..token.span.end)).collect()
}

#[test]
fn a_text_that_is_set_stays_as_it_is() {
    assert_eq!(set(WHOLE).unwrap_or_else(|| format!("{:#?}", parse(WHOLE).slips)), WHOLE);
}

#[test]
fn a_ragged_text_is_set() {
    let out = set(RAGGED).unwrap_or_else(|| format!("{:#?}", parse(RAGGED).slips));
    expect_file!["tests/ragged.set.dwell"].assert_eq(&out);
}

/// Every text that comes of `change` in some gap between two tokens keeps the laws; says how many could be read.
fn in_every_gap(text: &str, change: &str) -> (usize, usize) {
    let ends: Vec<usize> = crate::lex::lex(text).tokens.iter().map(|token| token.span.end).collect();
    let mut read = 0;
    for end in &ends {
        let (before, after) = text.split_at(*end);
        read += usize::from(set(&format!("{before}{change}{after}")).is_some());
    }
    (read, ends.len())
}

/// The declarations of the fixture one by one, and of its procedure the parts and statements, so that a change in each
/// gap is quick.
fn pieces() -> Vec<String> {
    let parsed = parse(WHOLE);
    let mut pieces = Vec::new();
    for declaration in &parsed.tree.declarations {
        let DeclarationKind::Procedure(procedure) = &declaration.kind else {
            pieces.push(format!("{}\n", piece(declaration.span)));
            continue;
        };
        let mut head = piece(declaration.span).to_owned();
        for part in &procedure.parts {
            let Part::Step(step) = part else { continue };
            head = head.replace(piece(step.span), "");
            for statement in &step.block.statements {
                pieces.push(format!("procedure p {{ step s {{\n{}\n}} }}\n", piece(statement.span)));
            }
        }
        pieces.push(head);
    }
    assert!(pieces.len() > 35, "the procedure is cut into its statements");
    pieces
}

fn piece(span: crate::tree::Span) -> &'static str {
    WHOLE.get(span.start..span.end).unwrap_or("")
}

#[test]
fn a_comment_in_any_gap_is_kept() {
    for change in [" # a remark\n", "\n# one\n\n# two\n\n\n"] {
        let counts: Vec<(usize, usize)> = pieces().iter().map(|piece| in_every_gap(piece, change)).collect();
        let read: usize = counts.iter().map(|(read, _)| read).sum();
        let all: usize = counts.iter().map(|(_, all)| all).sum();
        assert!(read * 3 > all * 2, "most gaps can hold a comment: {read} of {all}");
    }
}

#[test]
fn a_line_end_in_any_gap_changes_nothing() {
    for piece in pieces() {
        let (read, _) = in_every_gap(&piece, "\n");
        assert!(read > 0);
        in_every_gap(&piece, "\u{A0}\n\n\n\t ");
    }
}

#[test]
fn without_any_one_token_nothing_breaks() {
    for piece in pieces() {
        for token in crate::lex::lex(&piece).tokens {
            let mut less = piece.clone();
            less.replace_range(token.span.start..token.span.end, "");
            set(&less);
        }
    }
}

#[test]
fn line_endings_stay() {
    for ending in ["\r\n", "\r"] {
        let typed = WHOLE.replace('\n', ending);
        assert_eq!(set(&typed).as_ref(), Some(&typed));
    }
    let mostly = WHOLE.replace('\n', "\r\n").replacen("\r\n", "\n", 3);
    assert_eq!(set(&mostly), Some(WHOLE.replace('\n', "\r\n")));
}

#[test]
fn the_byte_order_mark_stays() {
    assert_eq!(set(&format!("\u{FEFF}{WHOLE}")), Some(format!("\u{FEFF}{WHOLE}")));
    assert_eq!(set("\u{FEFF}# alone"), Some("\u{FEFF}# alone\n".to_owned()));
    assert_eq!(set(&format!("\u{FEFF}\u{FEFF}{WHOLE}")), None);
}

#[test]
fn the_end_is_one_line_end() {
    assert_eq!(set(""), Some(String::new()));
    assert_eq!(set(" \n\n\t"), Some(String::new()));
    assert_eq!(set("# last"), Some("# last\n".to_owned()));
    assert_eq!(set("\n\n# last\n\n\n"), Some("# last\n".to_owned()));
    assert_eq!(set("use \"a.dwell\""), Some("use \"a.dwell\"\n".to_owned()));
}

#[test]
fn a_text_with_slips_is_left_alone() {
    for text in
        ["procedure p { step s1 { measure } }", "spec s: torque { check 0,35 N·m }", "item a removable", "}"]
    {
        assert!(format(text).is_err_and(|slips| !slips.is_empty()), "{text}");
    }
}

#[test]
fn twins_get_one_spelling() {
    let typed = "spec a: torque { check 62+-6 N*m }\nspec b: torque { check 62 +- 6 N.m }\n\
        spec c: angle { check 3deg ± 1 deg }\nspec d: resistance { check 5 kohm .. 6 \u{2126} }\n\
        spec e: length { check 5 um .. 9 \u{3BC}m }\nspec f: temperature { check 5 .. 9\u{A0}degC }\n\
        spec g: angle { check 0deg 10′ ± 1deg  5′ }\n";
    expect![[r#"
        spec a: torque { check 62 ± 6 N·m }
        spec b: torque { check 62 ± 6 N·m }
        spec c: angle { check 3 ° ± 1 ° }
        spec d: resistance { check 5 kΩ .. 6 Ω }
        spec e: length { check 5 µm .. 9 µm }
        spec f: temperature { check 5 .. 9 °C }
        spec g: angle { check 0° 10′ ± 1° 5′ }
    "#]]
    .assert_eq(&set(typed).unwrap_or_default());
}

#[test]
fn every_spelling_of_every_unit_keeps_its_unit() {
    let mut read = 0;
    for spelling in dwell_quantity::spellings() {
        let written = spelling::unit(spelling);
        assert_eq!(dwell_quantity::lookup(&written), dwell_quantity::lookup(spelling), "{spelling}");
        read += usize::from(
            set(&format!("spec s: length {{ check 1 .. 2 {spelling}  adjust 1 .. 2 {spelling} }}\n"))
                .is_some(),
        );
    }
    assert!(read > 200, "most spellings are read: {read}");
}

#[test]
fn long_lines_are_broken_before_clauses() {
    let typed = "procedure p {\n    step s {\n        measure hydrocarbons, carbon-monoxide, carbon-dioxide with analyser after 10 s every 0.75 s averaging 5 s over at most 90 s until hydrocarbons meets test-hc and carbon-monoxide meets test-co\n        \
        connect the-meter-with-the-long-name to the-span-with-the-long-name \"A text that is never broken, however long it may become in the end.\"\n        \
        expect every dry meets compression-floor and lowest of dry at least 70 % of highest of dry and spread of dry at most 250 kPa otherwise { end failed }\n    }\n}\n";
    let out = set(typed).unwrap_or_default();
    expect![[r#"
        procedure p {
            step s {
                measure hydrocarbons, carbon-monoxide, carbon-dioxide with analyser after 10 s every 0.75 s
                    averaging 5 s over at most 90 s until hydrocarbons meets test-hc
                    and carbon-monoxide meets test-co
                connect the-meter-with-the-long-name
                    to the-span-with-the-long-name "A text that is never broken, however long it may become in the end."
                expect every dry meets compression-floor and lowest of dry at least 70 % of highest of dry
                    and spread of dry at most 250 kPa
                otherwise { end failed }
            }
        }
    "#]]
    .assert_eq(&out);
    for line in out.lines() {
        assert!(line.chars().count() <= WIDTH || line.contains('"'), "{line}");
    }
}

#[test]
fn long_lists_are_broken_after_commas() {
    let many: Vec<String> = (1..=40).map(|number| format!("hole-{number}")).collect();
    let out = set(&format!("positions hole: {}\n", many.join(", "))).unwrap_or_default();
    assert!(out.lines().all(|line| line.chars().count() <= WIDTH), "{out}");
    assert!(out.lines().count() > 3, "{out}");
}

#[test]
fn a_name_that_is_also_a_clause_word_holds_no_break() {
    let typed = "procedure p {\n    step s {\n        connect an-instrument-with-a-rather-long-name-indeed to over with until, after, another-rather-long-name \"Text.\"\n    }\n}\n";
    let out = set(typed).unwrap_or_default();
    assert!(out.contains("to over") && out.contains("with until"), "{out}");
}

/// `text` with other blanks and line ends: `choices` says which, one for each gap.
fn retyped(text: &str, choices: &[u8]) -> String {
    let mut out = String::new();
    let mut choices = choices.iter().cycle().copied();
    let mut at = 0;
    for token in crate::lex::lex(text).tokens {
        let gap = text.get(at..token.span.start).unwrap_or("");
        let choice = choices.next().unwrap_or(0);
        if gap.contains('#') {
            out.push_str(gap);
        } else if gap.contains("\n\n") {
            out.push_str(
                ["\n\n", "\n\n\n\n", " \t\n \n\u{A0}", "\n\n   "].get(usize::from(choice % 4)).unwrap_or(&""),
            );
        } else if gap.contains('\n') {
            out.push_str(["\n", "\n   ", "\t\n\t", "  \n"].get(usize::from(choice % 4)).unwrap_or(&""));
        } else if !gap.is_empty() {
            out.push_str([" ", "  ", "\t", "\u{A0}"].get(usize::from(choice % 4)).unwrap_or(&""));
        }
        out.push_str(text.get(token.span.start..token.span.end).unwrap_or(""));
        at = token.span.end;
    }
    out.push_str(text.get(at..).unwrap_or(""));
    out
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn how_blanks_were_typed_makes_no_difference(choices in prop::collection::vec(0u8..4, 64..256)) {
        let typed = retyped(WHOLE, &choices);
        prop_assert_eq!(set(&typed), Some(WHOLE.to_owned()));
    }

    #[test]
    fn line_ends_anywhere_break_no_law(places in prop::collection::vec(0usize..2000, 1..12)) {
        let ends: Vec<usize> = crate::lex::lex(WHOLE).tokens.iter().map(|token| token.span.end).collect();
        let mut places: Vec<usize> = places.iter().filter_map(|place| ends.get(place % ends.len()).copied()).collect();
        places.sort_unstable();
        let mut typed = WHOLE.to_owned();
        for (number, place) in places.iter().rev().enumerate() {
            typed.insert_str(*place, ["\n", " # here\n", "\n\n# there\n"].get(number % 3).unwrap_or(&""));
        }
        set(&typed);
    }
}
