//! Tests of the lexer: which tokens a text is made of, and how it goes on after what is none.

// A test may panic on a bad slice: that is how it fails.
#![allow(clippy::string_slice)]

use expect_test::{Expect, expect};

use super::{Lexed, TokenKind, lex};

/// Each token as its kind and its bytes; what it was mended to stands after `=`.
fn shown(text: &str) -> String {
    let Lexed { tokens, mended, .. } = lex(text);
    let mut out = String::new();
    for (index, token) in tokens.iter().enumerate() {
        out.push_str(&format!("{:?} {:?}", token.kind, &text[token.span.start..token.span.end]));
        for (_, mended) in mended.iter().filter(|(at, _)| *at == index) {
            out.push_str(&format!(" = {mended:?}"));
        }
        out.push('\n');
    }
    out
}

fn check(text: &str, wanted: Expect) {
    wanted.assert_eq(&shown(text));
}

#[test]
fn words_texts_and_lines() {
    check(
        "step belt-tension \"Check\" {\n  remove belt-guard \"now\" } end\n\"alone\"\n  # c\n größe->v1-5 v1 - 5",
        expect![[r#"
            LineWord "step"
            Word "belt-tension"
            Str "\"Check\""
            OpenBrace "{"
            LineWord "remove"
            Word "belt-guard"
            Str "\"now\""
            CloseBrace "}"
            LineWord "end"
            LineStr "\"alone\""
            LineWord "größe"
            Arrow "->"
            Word "v1-5"
            Word "v1"
            Minus "-"
            Number "5"
        "#]],
    );
}

#[test]
fn numbers_and_units() {
    check(
        "62 Hz -0.5 mm +0.021 -0 mm 2 1/4 in 1/32 in 6..8 mm 850rpm 12V+-3V 2 % 40 N·m 40 N.m 5 °BTDC 5 ° BTDC 5 deg",
        expect![[r#"
            Number "62"
            Unit "Hz"
            Number "-0.5"
            Unit "mm"
            Number "+0.021"
            Number "-0"
            Unit "mm"
            Number "2 1/4"
            Unit "in"
            Number "1/32"
            Unit "in"
            Number "6"
            DotDot ".."
            Number "8"
            Unit "mm"
            Number "850"
            Unit "rpm"
            Number "12"
            Unit "V"
            PlusMinus "+-"
            Number "3"
            Unit "V"
            Number "2"
            Unit "%"
            Number "40"
            Unit "N·m"
            Number "40"
            Unit "N.m"
            Number "5"
            Unit "°BTDC"
            Number "5"
            Unit "° BTDC"
            Number "5"
            Unit "deg"
        "#]],
    );
}

#[test]
fn units_stand_only_after_a_number_on_its_line() {
    check(
        "in min s\n5\nin 5 in order 3 times 4 on 5 to 1 turn then turn 90 °\n5 at",
        expect![[r#"
        LineWord "in"
        Word "min"
        Word "s"
        Number "5"
        LineWord "in"
        Number "5"
        Unit "in"
        Word "order"
        Number "3"
        Word "times"
        Number "4"
        Word "on"
        Number "5"
        Word "to"
        Number "1"
        Unit "turn"
        Word "then"
        Word "turn"
        Number "90"
        Unit "°"
        Number "5"
        Word "at"
    "#]],
    );
}

#[test]
fn units_after_a_series() {
    check(
        "(49, 50, 49) Hz (1 Hz) m (a) m",
        expect![[r#"
        OpenParen "("
        Number "49"
        Comma ","
        Number "50"
        Comma ","
        Number "49"
        CloseParen ")"
        Unit "Hz"
        OpenParen "("
        Number "1"
        Unit "Hz"
        CloseParen ")"
        Word "m"
        OpenParen "("
        Word "a"
        CloseParen ")"
        Word "m"
    "#]],
    );
}

#[test]
fn compound_numbers_are_one_token() {
    check(
        "-0° 30′ 0° 10′ 05″ 1 h 30 min 2 min 30 s 5 min 5 h 10° 30 mm 0°30′ 10 deg 30′ 1 h 30 mm",
        expect![[r#"
            Compound "-0° 30′"
            Compound "0° 10′ 05″"
            Compound "1 h 30 min"
            Compound "2 min 30 s"
            Number "5"
            Unit "min"
            Number "5"
            Unit "h"
            Number "10"
            Unit "°"
            Number "30"
            Unit "mm"
            Compound "0°30′" = "0° 30′"
            Compound "10 deg 30′" = "10° 30′"
            Number "1"
            Unit "h"
            Number "30"
            Unit "mm"
        "#]],
    );
}

#[test]
fn dates() {
    check(
        "2031-02-11 2031-02-11x 2032-02-29",
        expect![[r#"
        Date "2031-02-11"
        Number "2031"
        DotDot "-"
        Number "02"
        Minus "-"
        Number "11"
        Word "x"
        Date "2032-02-29"
    "#]],
    );
    assert_eq!(lex("2032-02-29").slips, Vec::new());
    assert!(lex("2031-02-29").slips[0].message.contains("no day of the calendar"));
    assert!(lex("2031-13-01").slips[0].message.contains("no day of the calendar"));
}

#[test]
fn every_byte_is_a_token_a_blank_a_comment_or_a_slip() {
    let text = "step s { wait 0.3¤5 mm @ [x] ?V # c\n} \u{0} ; <= ~~ 5";
    let Lexed { tokens, trivia, slips, .. } = lex(text);
    for (at, c) in text.char_indices().filter(|(_, c)| !c.is_whitespace()) {
        let known = tokens.iter().any(|token| token.span.start <= at && at < token.span.end)
            || trivia.comments.iter().any(|comment| comment.span.start <= at && at < comment.span.end)
            || slips.iter().any(|slip| slip.span.start <= at && at < slip.span.end);
        assert!(known, "{c:?} at {at}");
    }
    for token in tokens.iter().filter(|token| token.kind == TokenKind::Error) {
        assert!(
            slips.iter().any(|slip| slip.span.start < token.span.end && token.span.start < slip.span.end)
        );
    }
}

#[test]
fn comments() {
    let text = "# first\nitem a: b # second  \n  #third";
    let comments: Vec<(String, bool)> =
        lex(text).trivia.comments.into_iter().map(|comment| (comment.text, comment.own_line)).collect();
    assert_eq!(
        comments,
        [("first".to_owned(), true), ("second".to_owned(), false), ("third".to_owned(), true)]
    );
}

#[test]
fn after_a_sign_a_letter_for_a_digit_is_a_number_all_the_same() {
    check(
        "22 +O.1 -l.5",
        expect![[r#"
        Number "22"
        Number "+O.1" = "+0.1"
        Number "-l.5" = "-1.5"
    "#]],
    );
}
