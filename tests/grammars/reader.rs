//! Asks the parser that tree-sitter makes: `parser.c` and `scanner.c` as they are committed, built once, and read by its library.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use serde_json::{Value, json};

use crate::program::reporting::answer;

/// The folder of the grammar.
pub(super) fn folder() -> PathBuf {
    crate::root().join("grammar/tree-sitter")
}

/// A capture of a query.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Capture {
    pub(super) name: String,
    pub(super) start: usize,
    pub(super) end: usize,
    /// Which pattern of the query, from 0; where two capture the same bytes the later one holds.
    pub(super) pattern: u64,
}

/// What is found in one text.
#[derive(Clone, Debug)]
pub(super) struct Seen {
    /// What could not be read: bytes, and what it is called.
    pub(super) errors: Vec<(usize, usize, String)>,
    /// By query.
    pub(super) captures: BTreeMap<String, Vec<Capture>>,
    pub(super) tree: String,
}

/// The parser as a shared library.
fn library() -> &'static Path {
    static BUILT: OnceLock<(tempfile::TempDir, PathBuf)> = OnceLock::new();
    let (_, path) = BUILT.get_or_init(|| {
        let into = tempfile::tempdir().expect("a folder");
        let path = into.path().join("dwell.so");
        let source = folder().join("src");
        let built = Command::new("cc")
            .args(["-std=c11", "-O1", "-Wall", "-Wextra", "-Werror", "-Wno-unused-parameter"])
            .args(["-shared", "-fPIC"])
            .arg("-I")
            .arg(&source)
            .args([source.join("parser.c"), source.join("scanner.c")])
            .arg("-o")
            .arg(&path)
            .output()
            .expect("cc starts");
        assert!(built.status.success(), "{}", String::from_utf8_lossy(&built.stderr));
        (into, path)
    });
    path
}

/// Reads texts, with the queries of these names.
pub(super) fn read(texts: &[&str], queries: &[&str], trees: bool) -> Vec<Seen> {
    let queries: BTreeMap<&str, String> = queries
        .iter()
        .map(|name| {
            let path = folder().join("queries").join(format!("{name}.scm"));
            (*name, std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{name}.scm: {error}")))
        })
        .collect();
    let asked = json!({ "queries": queries, "texts": texts, "trees": trees });
    let script = crate::root().join("tests/grammars/read.py");
    let (script, library) = (script.display().to_string(), library().display().to_string());
    let answers = answer("python3", &[&script, &library], &asked.to_string());
    let answers: Value = serde_json::from_str(&answers).expect("the answer is JSON");
    answers.as_array().expect("a list").iter().map(seen).collect()
}

fn seen(answer: &Value) -> Seen {
    let place = |value: &Value| usize::try_from(value.as_u64().expect("a place")).expect("a small one");
    let word = |value: &Value| value.as_str().expect("a word").to_owned();
    let list = |value: &Value| value.as_array().expect("a list").clone();
    let capture = |found: &Value| Capture {
        name: word(&found[0]),
        start: place(&found[1]),
        end: place(&found[2]),
        pattern: found[3].as_u64().expect("a number"),
    };
    Seen {
        errors: list(&answer["errors"]).iter().map(|e| (place(&e[0]), place(&e[1]), word(&e[2]))).collect(),
        captures: answer["captures"]
            .as_object()
            .expect("an object")
            .iter()
            .map(|(query, found)| (query.clone(), list(found).iter().map(capture).collect()))
            .collect(),
        tree: word(&answer["tree"]),
    }
}
