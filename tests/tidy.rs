//! Promises about the tree itself: first lines, file lengths, no leftovers, dependencies that say what they are for.

use std::path::{Path, PathBuf};

/// The most lines of a file; a table may be longer, and is named here.
const MOST_LINES: usize = 500;
const LONGER: &[&str] = &["crates/dwell-quantity/src/unit/table"];

fn files(ending: &str) -> Vec<PathBuf> {
    fn walk(folder: &Path, ending: &str, all: &mut Vec<PathBuf>) {
        for entry in std::fs::read_dir(folder).expect("a folder").flatten() {
            let path = entry.path();
            let name = entry.file_name().to_string_lossy().into_owned();
            if path.is_dir() {
                if !name.starts_with("target") && !name.starts_with('.') && name != "node_modules" {
                    walk(&path, ending, all);
                }
            } else if name.ends_with(ending) {
                all.push(path);
            }
        }
    }
    let mut all = Vec::new();
    walk(&crate::root(), ending, &mut all);
    all.sort();
    all
}

fn shown(path: &Path) -> String {
    path.strip_prefix(crate::root()).unwrap_or(path).to_string_lossy().replace('\\', "/")
}

#[test]
fn every_source_file_begins_with_what_it_is_for() {
    for path in files(".rs") {
        let text = std::fs::read_to_string(&path).expect("a text");
        let first = text.lines().next().unwrap_or_default();
        assert!(first.starts_with("//! ") && first.len() > 20, "{} begins with {first:?}", shown(&path));
    }
}

#[test]
fn no_source_file_is_too_long() {
    for path in files(".rs") {
        let name = shown(&path);
        let lines = std::fs::read_to_string(&path).expect("a text").lines().count();
        let table = LONGER.iter().any(|table| name.starts_with(table));
        assert!(table || lines <= MOST_LINES, "{name} has {lines} lines: cut it by subject");
    }
}

#[test]
fn nothing_is_left_over() {
    let macros = ["todo", "unimplemented", "dbg"].map(|name| format!("{name}!("));
    let marks = ["ignore", "should_panic", "allow(dead_code"].map(|name| format!("#[{name}"));
    for path in files(".rs").into_iter().filter(|path| !path.ends_with("tests/tidy.rs")) {
        let text = std::fs::read_to_string(&path).expect("a text");
        for word in macros.iter().chain(&marks) {
            assert!(!text.contains(word.as_str()), "{} has {word}", shown(&path));
        }
    }
}

#[test]
fn no_folder_is_called_by_what_it_is_not() {
    let vague = ["utils", "common", "helpers", "types", "manager", "misc"];
    for path in files(".rs") {
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        assert!(
            !vague.contains(&name.as_str()) && name != "mod",
            "{}: name it by what it holds",
            shown(&path)
        );
    }
}

#[test]
fn every_dependency_says_what_it_is_for() {
    let manifest = std::fs::read_to_string(crate::root().join("Cargo.toml")).expect("the manifest");
    let (_, list) = manifest.split_once("[workspace.dependencies]").expect("the list of dependencies");
    let (list, _) = list.split_once("\n[").expect("an end of the list");
    for line in list.lines().filter(|line| line.contains('=') && !line.contains("path =")) {
        assert!(line.split_once('#').is_some_and(|(_, why)| why.trim().len() > 15), "no reason: {line}");
    }
}

#[test]
fn every_crate_says_what_it_is_for() {
    for path in files("Cargo.toml").into_iter().filter(|path| *path != crate::root().join("Cargo.toml")) {
        let text = std::fs::read_to_string(&path).expect("a manifest");
        assert!(text.contains("description = \""), "{} has no description", shown(&path));
        assert!(text.contains("[lints]\nworkspace = true"), "{} does not keep the lints", shown(&path));
    }
}

#[test]
fn links_between_pages_lead_somewhere() {
    for path in files(".md") {
        let text = std::fs::read_to_string(&path).expect("a page");
        for part in text.split("](").skip(1) {
            let target = part.split([')', '#', ' ']).next().unwrap_or_default();
            let inside =
                !target.is_empty() && !target.contains("://") && target.chars().all(|c| c.is_ascii_graphic());
            if inside && part.contains(')') && !target.contains('`') {
                let found = path.parent().is_some_and(|folder| folder.join(target).exists());
                assert!(found, "{} links to {target}, which is not there", shown(&path));
            }
        }
    }
}

#[test]
fn the_commands_of_the_readme_are_there() {
    let readme = std::fs::read_to_string(crate::root().join("README.md")).expect("the README");
    assert!(readme.contains("cargo run --release -- run "), "the README shows the main job");
    assert!(readme.contains("tests/run"), "the README shows the test command");
    let ci = std::fs::read_to_string(crate::root().join(".ci/run")).expect("the CI command");
    let calls = ci.lines().filter(|line| !line.starts_with('#') && line.contains("tests/run")).count();
    assert_eq!(calls, 1, "CI calls the README's test command and nothing else");
}
