//! The settings of Visual Studio Code for typing: lines are set in as the formatter sets them, and a word is a name or a number.

use std::collections::BTreeSet;

use dwell_syntax::lex::{TokenKind, lex};
use serde_json::Value;

use super::textmate::modules;
use crate::merle::Merle;
use crate::program::reporting::answer;

const SETTINGS: &str = "editors/vscode/language-configuration.json";

/// How deep each line is set in, and each word by its line and columns.
type Typed = (Vec<i64>, BTreeSet<(usize, usize, usize)>);

fn typed(mut answer: Value) -> Typed {
    let depths = serde_json::from_value(answer["depths"].take()).expect("depths");
    (depths, serde_json::from_value(answer["words"].take()).expect("places"))
}

#[test]
fn lines_are_set_in_and_names_are_words() {
    if modules().is_none() {
        return;
    }
    let files = Merle::read().files;
    let texts: Vec<&str> = files.values().map(String::as_str).collect();
    let path = |path: &str| crate::root().join(path).display().to_string();
    let arguments = [path("tests/grammars/typing.mjs"), path(SETTINGS)];
    let asked = serde_json::to_string(&texts).expect("JSON");
    let answers = answer("node", &arguments.each_ref().map(String::as_str), &asked);
    let answers: Vec<Value> = serde_json::from_str(&answers).expect("JSON");
    let (mut lines, mut deeper, mut names) = (0, 0, 0);
    for ((path, text), (depths, words)) in files.iter().zip(answers.into_iter().map(typed)) {
        assert_eq!(depths.last(), Some(&0), "{path} ends set in");
        for (line, depth) in text.lines().zip(&depths).filter(|(line, _)| !line.is_empty()) {
            lines += 1;
            let blanks = i64::try_from(line.len() - line.trim_start().len()).expect("a short line");
            // A long statement goes on one step further in.
            deeper += usize::from(blanks == depth * 4 + 4);
            assert!(blanks == depth * 4 || blanks == depth * 4 + 4, "{path}: {line}");
        }
        let starts: Vec<usize> =
            std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        for token in lex(text).tokens {
            if !matches!(token.kind, TokenKind::Word | TokenKind::LineWord) {
                continue;
            }
            names += 1;
            let line = starts.partition_point(|start| *start <= token.span.start) - 1;
            let column = |at: usize| text[starts[line]..at].encode_utf16().count();
            let place = (line, column(token.span.start), column(token.span.end));
            assert!(words.contains(&place), "{path}: {:?}", &text[token.span.start..token.span.end]);
        }
    }
    assert!(
        lines > 1000 && deeper * 10 < lines && names > 1000,
        "{lines} lines, {deeper} deeper, {names} names"
    );
}
