//! A tap between an editor and the server: every message is recorded, and held against the protocol's own model where that is here.
//!
//! The model and its checker may not be copied into this project. Where they lie beside it, in `../shared/editors`, they are used.

use crate::program::bench::{Bench, DWELL};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The program to give to an editor, and where its messages are recorded.
pub(super) struct Tap {
    /// The folder that holds a program called `dwell`.
    pub(super) programs: PathBuf,
    records: Option<PathBuf>,
}

/// What checks the messages, if it is here.
fn checker() -> Option<PathBuf> {
    let beside = Path::new(env!("CARGO_MANIFEST_DIR")).parent()?.parent()?.join("shared/editors");
    beside.join("conformance/tap.py").exists().then_some(beside)
}

impl Tap {
    /// The program itself, or the tap in front of it.
    pub(super) fn of(bench: &Bench) -> Tap {
        let Some(checker) = checker() else {
            let _ = writeln!(
                std::io::stderr(),
                "skipped: the model of the protocol is not here, so messages are not held to it"
            );
            return Tap { programs: DWELL.parent().unwrap().to_owned(), records: None };
        };
        let records = bench.path("messages");
        std::fs::create_dir_all(&records).unwrap();
        let tap = checker.join("conformance/tap.py");
        let script = format!(
            "#!/bin/sh\nLSP_TAP='{}' exec python3 '{}' '{}' \"$@\"\n",
            records.join("session").display(),
            tap.display(),
            DWELL.display()
        );
        bench.put("programs/dwell", script.as_bytes());
        let programs = bench.path("programs");
        let mut executable = Command::new("chmod");
        assert!(executable.arg("+x").arg(programs.join("dwell")).status().unwrap().success());
        Tap { programs, records: Some(records) }
    }

    /// Every message that the server sent is as the protocol says, and there were some.
    pub(super) fn is_sound(&self) {
        let (Some(records), Some(checker)) = (&self.records, checker()) else { return };
        let recorded: Vec<PathBuf> =
            std::fs::read_dir(records).unwrap().map(|entry| entry.unwrap().path()).collect();
        assert!(!recorded.is_empty(), "nothing was recorded");
        let said = Command::new("python3")
            .arg(checker.join("conformance/lspcheck.py"))
            .arg(checker.join("meta/metaModel-3.17.json"))
            .args(&recorded)
            .output()
            .unwrap();
        let out = String::from_utf8_lossy(&said.stdout);
        assert!(
            said.status.success() && out.contains("server problems 0"),
            "{out}{}",
            String::from_utf8_lossy(&said.stderr)
        );
    }
}
