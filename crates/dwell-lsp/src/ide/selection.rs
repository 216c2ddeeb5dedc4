//! What is selected as a selection grows: the name, the amount, the band, the test, the line, the block, the part, the file.

use super::mentions::{between_quotes, mentions, parts};
use dwell_check::program::Content;
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::Span;

/// The spans around a byte, the smallest first, each larger than the one before and the last one the whole text. In a text in
/// quotes the word comes first, then what stands between the quotes.
pub fn selection(content: &Content, at: usize) -> Vec<Span> {
    let text = content.text.as_str();
    let lexed = lex(text);
    let mut spans = parts(content);
    spans.extend(mentions(content).iter().map(|mention| mention.span));
    for token in &lexed.tokens {
        if matches!(token.kind, TokenKind::Str | TokenKind::LineStr) {
            let inside = between_quotes(text, token.span);
            spans.extend([word(text, inside, at), Some(inside)].into_iter().flatten());
        }
        // Signs such as braces and commas are nothing to select by themselves.
        if !matches!(
            token.kind,
            TokenKind::OpenBrace
                | TokenKind::CloseBrace
                | TokenKind::OpenParen
                | TokenKind::CloseParen
                | TokenKind::Comma
                | TokenKind::Colon
        ) {
            spans.push(token.span);
        }
    }
    for comment in &lexed.trivia.comments {
        spans.extend([word(text, comment.span, at), Some(comment.span)].into_iter().flatten());
    }
    spans.retain(|span| span.start <= at && at <= span.end && span.start < span.end);
    spans.push(Span::new(0, text.len()));
    spans.sort_by_key(|span| (span.end - span.start, span.start));
    nested(spans)
}

/// Each that holds the one before; of two neighbours that touch at the byte the one in front is kept.
fn nested(spans: Vec<Span>) -> Vec<Span> {
    let mut kept: Vec<Span> = Vec::new();
    for span in spans {
        if kept.last().is_none_or(|last| span.holds(*last) && span != *last) {
            kept.push(span);
        }
    }
    kept
}

/// The word of a prose text that a byte lies in.
fn word(text: &str, within: Span, at: usize) -> Option<Span> {
    if at < within.start || within.end < at {
        return None;
    }
    let is_part = |letter: char| letter.is_alphanumeric() || letter == '-';
    let before = text.get(within.start..at)?;
    let after = text.get(at..within.end)?;
    let start = before.char_indices().rev().take_while(|(_, letter)| is_part(*letter)).last();
    let start = start.map_or(at, |(offset, _)| within.start + offset);
    let end = after.char_indices().take_while(|(_, letter)| is_part(*letter)).last();
    let end = end.map_or(at, |(offset, letter)| at + offset + letter.len_utf8());
    (start < end).then(|| Span::new(start, end))
}

#[cfg(test)]
mod tests {
    use super::selection;
    use dwell_check::program::Content;
    use expect_test::expect;

    fn told(marked: &str) -> String {
        let at = marked.find('‸').unwrap();
        let content = Content::of(marked.replacen('‸', "", 1));
        let spans = selection(&content, at).into_iter();
        let texts = spans.map(|span| content.text.get(span.start..span.end).unwrap().replace('\n', " | "));
        texts.collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn it_grows_from_the_name_to_the_file() {
        expect![[r#"
            within
            gap within 1 ± 0.5 mm
            if gap within 1 ± 0.5 mm { note "no" }
            { | if gap within 1 ± 0.5 mm { note "no" } | }
            step s { | if gap within 1 ± 0.5 mm { note "no" } | }
            { | step s { | if gap within 1 ± 0.5 mm { note "no" } | } | }
            procedure p "P" { | step s { | if gap within 1 ± 0.5 mm { note "no" } | } | }
            item x: hose | procedure p "P" { | step s { | if gap within 1 ± 0.5 mm { note "no" } | } | } | "#]].assert_eq(&told(
            "item x: hose\nprocedure p \"P\" {\nstep s {\nif gap wi‸thin 1 ± 0.5 mm { note \"no\" }\n}\n}\n",
        ));
        expect![[r#"
            0.5
            0.5 mm
            1 ± 0.5 mm
            check 1 ± 0.5 mm when a is b
            spec s: length { check 1 ± 0.5 mm when a is b }"#]]
        .assert_eq(&told("spec s: length { check 1 ± 0‸.5 mm when a is b }"));
        expect![[r#"
            µ-meter
            the 😀 µ-meter, °
            "the 😀 µ-meter, °"
            note "the 😀 µ-meter, °"
            { note "the 😀 µ-meter, °" }
            step s { note "the 😀 µ-meter, °" }
            { step s { note "the 😀 µ-meter, °" } }
            procedure p { step s { note "the 😀 µ-meter, °" } }"#]]
        .assert_eq(&told("procedure p { step s { note \"the 😀 µ-me‸ter, °\" } }"));
    }

    #[test]
    fn in_comments_and_in_what_can_not_be_read_it_grows_too() {
        expect![[r#"
            bc
            # a bc
            # a bc | item x: hose"#]]
        .assert_eq(&told("# a b‸c\nitem x: hose"));
        expect![[r#"
            bc
            item %% bc {
            item x: hose | item %% bc { | "#]]
        .assert_eq(&told("item x: hose\nitem %% b‸c {\n"));
        expect![[r#""#]].assert_eq(&told("‸"));
    }
}
