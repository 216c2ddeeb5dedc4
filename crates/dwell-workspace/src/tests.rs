//! Folders with ignore files, links and foreign encodings, and paths as they are shown.

use crate::path::plain;
use crate::{Folder, decoded};
use dwell_check::program::Sources;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A folder with these files.
fn folder(files: &[(&str, &[u8])]) -> TempDir {
    let top = TempDir::new().unwrap();
    for (path, bytes) in files {
        let path = top.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    top
}

/// The roots found below `top`, relative to it.
fn found(top: &TempDir, paths: &[&str]) -> Vec<String> {
    let paths: Vec<PathBuf> = paths.iter().map(|path| top.path().join(path)).collect();
    let prefix = format!("{}/", top.path().display());
    let folder = Folder::of(&paths);
    assert_eq!(folder.faults(), []);
    folder.roots().iter().map(|root| root.strip_prefix(&prefix).unwrap().to_owned()).collect()
}

#[test]
fn a_walk_takes_dwell_files_by_name_and_passes_over_hidden_and_ignored_ones() {
    let top = folder(&[
        ("b.dwell", b""),
        ("a/z.dwell", b""),
        ("a/readings.csv", b""),
        ("A.DWELL", b""),
        (".hidden/x.dwell", b""),
        (".git/x.dwell", b""),
        ("build/x.dwell", b""),
        ("draft.dwell", b""),
        (".gitignore", b"build/\n"),
        (".ignore", b"draft.dwell\n"),
    ]);
    assert_eq!(found(&top, &["."]), ["a/z.dwell", "b.dwell"]);
    assert_eq!(
        found(&top, &["draft.dwell", "a/readings.csv"]),
        ["draft.dwell", "a/readings.csv"],
        "named ones are taken"
    );
}

#[test]
fn one_file_by_two_paths_is_one_root() {
    let top = folder(&[("a/x.dwell", b""), ("a/y.dwell", b"")]);
    assert_eq!(found(&top, &["a/x.dwell", "a", "a/../a/x.dwell", "."]), ["a/x.dwell", "a/y.dwell"]);
}

#[cfg(unix)]
#[test]
fn a_link_that_goes_round_ends_and_a_link_to_a_file_is_that_file() {
    let top = folder(&[("a/x.dwell", b"")]);
    std::os::unix::fs::symlink(".", top.path().join("a/round")).unwrap();
    std::os::unix::fs::symlink("a/x.dwell", top.path().join("linked.dwell")).unwrap();
    std::os::unix::fs::symlink("gone", top.path().join("dead.dwell")).unwrap();
    assert_eq!(found(&top, &["."]), ["a/x.dwell"]);
    assert_eq!(found(&top, &["linked.dwell"]), ["linked.dwell"]);
}

#[test]
fn what_is_not_there_is_a_fault_and_the_rest_is_found() {
    let top = folder(&[("a.dwell", b"")]);
    let folder = Folder::of(&[top.path().join("gone"), top.path().join("a.dwell")]);
    assert_eq!(folder.roots().len(), 1);
    let fault = &folder.faults()[0];
    assert!(fault.path.ends_with("/gone") && fault.what.contains("no such file or folder"), "{fault:?}");
}

#[test]
fn used_paths_are_taken_from_the_using_file() {
    let sources = Folder::default();
    for (from, used, joined) in [
        ("charging/belt.dwell", "../vehicle.dwell", "vehicle.dwell"),
        ("belt.dwell", "../vehicle.dwell", "../vehicle.dwell"),
        ("../a/belt.dwell", "./more/../x.dwell", "../a/x.dwell"),
        ("belt.dwell", "x.dwell", "x.dwell"),
        ("/lib/a/belt.dwell", "../../../x.dwell", "/x.dwell"),
        ("a.dwell", "/lib/x.dwell", "/lib/x.dwell"),
    ] {
        assert_eq!(sources.join(from, used), joined, "{from} uses {used}");
    }
}

#[test]
fn a_used_file_has_the_name_that_the_root_has() {
    let top = folder(&[("a/x.dwell", b"use"), ("a/y.dwell", b"")]);
    let odd = top.path().join("a/../a/../../").join(top.path().file_name().unwrap()).join("a/x.dwell");
    let folder = Folder::of(&[odd, top.path().join("a/y.dwell")]);
    let root = &folder.roots()[0];
    assert_eq!(root, &top.path().join("a/x.dwell").display().to_string());
    assert_eq!(&folder.join(&folder.roots()[1], "../a/x.dwell"), root);
    assert_eq!(folder.read(root).unwrap(), "use");
}

#[test]
fn paths_are_worked_out_by_their_letters() {
    for (path, expected) in
        [("./a//b/.", "a/b"), ("a/../../b", "../b"), ("/../a", "/a"), (".", ""), ("..", "..")]
    {
        assert_eq!(plain(Path::new(path)), Path::new(expected), "{path}");
    }
}

#[test]
fn foreign_encodings_are_named_with_the_byte() {
    for (bytes, words) in [
        (
            b"a\n6 \xB0C".to_vec(),
            "it is not UTF-8: byte 4 (line 2) is 0xB0; in Latin-1 or Windows-1252 it would be `°`",
        ),
        (b"a\x81b".to_vec(), "it is not UTF-8: byte 1 (line 1) is 0x81; save it"),
        (b"\xFF\xFEa\0".to_vec(), "it is UTF-16 (little-endian), not UTF-8"),
        (b"\xFE\xFF\0a".to_vec(), "it is UTF-16 (big-endian), not UTF-8"),
        (b"s\0t\0e\0p\0".to_vec(), "it is UTF-16 (little-endian), not UTF-8"),
        (b"\0s\0t\0e\0p".to_vec(), "it is UTF-16 (big-endian), not UTF-8"),
        ("12 °".as_bytes()[..4].to_vec(), "it ends in the middle of a character, at byte 3"),
    ] {
        let error = decoded(bytes.clone()).unwrap_err();
        assert!(error.contains(words), "{error}");
    }
}

#[test]
fn nul_and_byte_order_marks_reach_the_language() {
    assert_eq!(decoded(b"step s1\0{".to_vec()).unwrap(), "step s1\0{");
    assert_eq!(decoded(b"\xEF\xBB\xBFuse".to_vec()).unwrap(), "\u{FEFF}use");
    assert_eq!(decoded(b"\0\0\0\0".to_vec()).unwrap(), "\0\0\0\0");
    assert_eq!(decoded(Vec::new()).unwrap(), "");
}

#[test]
fn a_folder_where_a_file_is_needed_is_said_so() {
    let top = folder(&[]);
    assert_eq!(crate::read(top.path()).unwrap_err(), "this is a folder, and a file is needed here");
}
