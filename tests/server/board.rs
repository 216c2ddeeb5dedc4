//! The findings of all documents as an editor shows them: of each the last that were sent.

use super::Session;
use serde_json::Value;
use std::collections::BTreeMap;
use std::time::{Duration, Instant};

/// How long anything may take before the test fails: far more than it takes, for machines that are busy.
const PATIENCE: Duration = Duration::from_secs(300);
/// How long nothing more must come; more than files wait to be checked while somebody types.
const QUIET: Duration = Duration::from_millis(400);

/// Rule, line and column of each finding, by file.
pub(crate) type Found = BTreeMap<String, Vec<String>>;

/// What is shown.
#[derive(Default)]
pub(crate) struct Board(BTreeMap<String, Vec<String>>);

impl Board {
    /// Notes a message, if it has findings.
    fn note(&mut self, message: &Value) {
        if message["method"] != "textDocument/publishDiagnostics" {
            return;
        }
        let found = message["params"]["diagnostics"].as_array().unwrap().iter().map(|one| {
            let start = &one["range"]["start"];
            let count = |name: &str| start[name].as_u64().unwrap() + 1;
            format!("{}:{} {}", count("line"), count("character"), one["code"].as_str().unwrap())
        });
        let mut found: Vec<String> = found.filter(|one| !hangs_on_others(one)).collect();
        found.sort();
        self.0.insert(message["params"]["uri"].as_str().unwrap().to_owned(), found);
    }

    /// What is shown now, without files that have no findings, by their paths in the folder of the session.
    pub(crate) fn shown(&self, session: &Session) -> Found {
        let top = format!("{}/", session.uri(""));
        let named = self.0.iter().filter(|(_, found)| !found.is_empty());
        named.map(|(uri, found)| (uri.strip_prefix(&top).unwrap_or(uri).to_owned(), found.clone())).collect()
    }

    /// Waits until this is shown, and stays so for a while.
    pub(crate) fn becomes(&mut self, session: &mut Session, expected: &Found) {
        let end = Instant::now() + PATIENCE;
        loop {
            session.all().iter().for_each(|message| self.note(message));
            let right = self.shown(session) == *expected;
            match session.next(if right { QUIET } else { end.saturating_duration_since(Instant::now()) }) {
                Some(message) => self.note(&message),
                None if right => return,
                None => {
                    let shown = self.shown(session);
                    let differs = |file: &&String| shown.get(*file) != expected.get(*file);
                    let wrong: Vec<&String> =
                        expected.keys().chain(shown.keys()).filter(differs).take(5).collect();
                    let of = wrong.iter().map(|file| (file, shown.get(*file), expected.get(*file)));
                    panic!("nothing more comes; file, shown, expected: {:?}", of.collect::<Vec<_>>());
                }
            }
        }
    }
}

/// What `dwell check` finds in the folder of the session.
pub(crate) fn checked(session: &Session) -> Found {
    let said = session.bench.run(&["check", ".", "--format", "lines"]);
    let mut found = Found::new();
    for line in said.out.lines() {
        let mut parts = line.splitn(4, ':');
        let (file, row, column) = (parts.next().unwrap(), parts.next().unwrap(), parts.next().unwrap());
        let rule = line.rsplit_once('[').unwrap().1.trim_end_matches(']');
        found.entry(file.to_owned()).or_default().push(format!("{row}:{column} {rule}"));
    }
    for found in found.values_mut() {
        found.retain(|one| !hangs_on_others(one));
        found.sort();
    }
    found.retain(|_, found| !found.is_empty());
    found
}

/// Whether a finding hangs on files that the file does not use: the server looks at each file with what it uses, the program
/// at all of them together.
fn hangs_on_others(found: &str) -> bool {
    found.ends_with(" name-unused")
}
