//! The library of the Merle in memory, as it is or with an edit, for the checker to read.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use dwell_check::check::{Checked, check};
use dwell_check::finding::Finding;
use dwell_check::program::Sources;

/// The files of the folder `procedures`, by their paths from it, with `/` between.
#[derive(Clone)]
pub(crate) struct Merle {
    /// Path and text.
    pub(crate) files: BTreeMap<String, String>,
}

impl Sources for Merle {
    fn read(&self, path: &str) -> Result<String, String> {
        self.files.get(path).cloned().ok_or_else(|| format!("there is no {path}"))
    }

    fn join(&self, from: &str, used: &str) -> String {
        let mut parts: Vec<&str> = from.split('/').collect();
        parts.pop();
        for part in used.split('/') {
            match part {
                ".." => drop(parts.pop()),
                "." | "" => {}
                part => parts.push(part),
            }
        }
        parts.join("/")
    }
}

impl Merle {
    /// As it stands.
    pub(crate) fn read() -> Merle {
        let mut files = BTreeMap::new();
        gather(&folder(), "", &mut files);
        assert!(files.len() >= 9, "the library is not where it should be: {:?}", files.keys());
        Merle { files }
    }

    /// With another text for one file.
    pub(crate) fn with(mut self, path: &str, text: &str) -> Merle {
        self.files.insert(path.to_owned(), text.to_owned());
        self
    }

    /// What the checker says of all of it.
    pub(crate) fn checked(&self) -> Checked {
        let roots: Vec<String> = self.files.keys().cloned().collect();
        check(&roots, self)
    }

    /// What the checker says of one file and what it uses.
    pub(crate) fn checked_at(&self, root: &str) -> Checked {
        check(&[root.to_owned()], self)
    }
}

/// Where the library is.
pub(crate) fn folder() -> PathBuf {
    crate::root().join("procedures")
}

fn gather(folder: &Path, under: &str, files: &mut BTreeMap<String, String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        let path = if under.is_empty() { name.clone() } else { format!("{under}/{name}") };
        if entry.file_type().unwrap().is_dir() {
            gather(&entry.path(), &path, files);
        } else if name.ends_with(".dwell") {
            files.insert(path, fs::read_to_string(entry.path()).unwrap());
        }
    }
}

/// A finding on one line, for the message of a test: rule, file, line and what is wrong.
pub(crate) fn told(checked: &Checked, finding: &Finding) -> String {
    let file = &checked.program.files[finding.place.file];
    let line = file.lines.line(finding.place.span.start) + 1;
    format!("{} {}:{line} {}", finding.rule, file.path, finding.message)
}

/// All findings, one a line.
pub(crate) fn all_told(checked: &Checked) -> String {
    let told: Vec<String> = checked.findings.iter().map(|finding| told(checked, finding)).collect();
    told.join("\n")
}
