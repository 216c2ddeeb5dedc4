//! Every name of the library is found, each at its own bytes; names in texts only where braces show them.

use super::{Role, mentions};
use dwell_check::program::Content;
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::Span;
use dwell_syntax::words::Word;
use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};

/// All files of the demo library and of the tests of every construct.
pub(crate) fn library() -> Vec<(PathBuf, Content)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut folders = vec![root.join("procedures"), root.join("tests/library")];
    let mut all = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ext| ext == "dwell") {
                let text = fs::read_to_string(&path).unwrap();
                all.push((path, Content::of(text)));
            }
        }
    }
    assert!(all.len() > 30, "the library was not found");
    all
}

fn there_of(content: &Content, span: Span) -> &str {
    content.text.get(span.start..span.end).unwrap()
}

#[test]
fn every_word_of_the_library_is_a_name_or_a_word_of_the_language_and_every_name_stands_where_it_says() {
    let prelude = include_str!("../../../../dwell-check/src/prelude.dwell").to_owned();
    let prelude = (PathBuf::from("prelude"), Content::of(prelude));
    for (path, content) in library().into_iter().chain([prelude]) {
        if !content.slips.is_empty() {
            continue;
        }
        let all = mentions(&content);
        for mention in &all {
            let there = there_of(&content, mention.span);
            let same = there.trim_matches('"') == mention.name || mention.name == "no-reading";
            let is_unit = matches!(mention.sort, super::Sort::Fixed(super::What::Unit));
            assert!(same || is_unit, "{}: {there} is not {}", path.display(), mention.name);
        }
        let spans: HashSet<_> = all.iter().map(|mention| mention.span).collect();
        assert_eq!(spans.len(), all.len(), "{}: a name is told twice", path.display());
        for token in lex(&content.text).tokens {
            let text = there_of(&content, token.span);
            let named = spans.contains(&token.span);
            let known = match token.kind {
                TokenKind::Word | TokenKind::LineWord => named || Word::of(text).is_some(),
                TokenKind::Unit => named || text == "%" || Word::of(text).is_some(),
                _ => true,
            };
            assert!(known, "{}: `{text}` at {:?} is no name and no word", path.display(), token.span);
        }
    }
}

#[test]
fn names_in_texts_stand_between_braces_also_after_escapes_and_wide_characters() {
    let content = Content::of(
        "procedure p {\n step s {\n ask gap \"mind the gap\"\n note \"😀 \\\"µΩ\\\" { gap } and {gap2}, {gap at left} {\"\n }\n}\n"
            .to_owned(),
    );
    let told: Vec<String> = mentions(&content)
        .iter()
        .map(|mention| {
            let there = there_of(&content, mention.span);
            assert_eq!(there, mention.name);
            format!("{there}{}", if mention.role == Role::Declares { " declared" } else { "" })
        })
        .collect();
    assert_eq!(told, ["p declared", "s declared", "gap declared", "gap", "gap2", "gap", "left"]);
}

#[test]
fn what_can_not_be_read_is_passed_over() {
    let content = Content::of(
        "item belt removable\nprocedure p {\n step {\n remove\n measure : with\n expect\n note \"{\"\n }\n case { gap }\n"
            .to_owned(),
    );
    assert!(!content.slips.is_empty());
    for mention in mentions(&content) {
        assert!(!mention.name.is_empty());
        assert_eq!(there_of(&content, mention.span), mention.name);
    }
}
