//! The language reference: every page is reached, every example is read, set, checked and run, every word is listed.

mod examples;
mod first;
mod found;
mod links;
mod written;

use std::fs;
use std::path::{Path, PathBuf};

pub(crate) use examples::{BESIDE, all_as_files, whole_files};

/// A page: its path in the folder `grammar`, and its text.
struct Page {
    path: String,
    text: String,
}

/// A file of the folder `grammar`.
fn grammar(path: &str) -> PathBuf {
    crate::root().join("grammar").join(path)
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

/// The index and all pages of the folder.
fn pages() -> Vec<Page> {
    let page = |path: String| Page { text: read(&grammar(&path)), path };
    let entries = fs::read_dir(grammar("reference")).expect("the folder of the pages");
    let names = entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned());
    let mut paths: Vec<String> =
        names.filter(|name| name.ends_with(".md")).map(|name| format!("reference/{name}")).collect();
    paths.sort();
    paths.insert(0, "REFERENCE.md".to_owned());
    paths.into_iter().map(page).collect()
}
