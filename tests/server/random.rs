//! Random edits, sound and broken, on files of the library: after each the findings are those of a fresh check of the text that the
//! editor has, no question fails, and what is set or mended can be read.
//!
//! `DWELL_EDITS=100000` says how many, `DWELL_SEED` which ones.

use super::Session;
use super::edits::edited;
use crate::program::bench::library;
use dwell_check::check::check_with;
use dwell_check::options::Options;
use dwell_check::program::Sources;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};

/// The files as the editor has them: one is open, the others lie on the disk.
struct Seen<'a>(&'a str, &'a str);

impl Sources for Seen<'_> {
    fn read(&self, path: &str) -> Result<String, String> {
        if path == self.0 { Ok(self.1.to_owned()) } else { dwell_workspace::read(Path::new(path)) }
    }

    fn join(&self, from: &str, used: &str) -> String {
        let mut path = PathBuf::from(from);
        path.pop();
        for part in used.split('/') {
            match part {
                ".." => drop(path.pop()),
                "." => {}
                part => path.push(part),
            }
        }
        path.to_str().unwrap().to_owned()
    }
}

/// What a fresh check finds, as rule and range.
fn fresh(path: &str, text: &str) -> Vec<String> {
    let day =
        String::from_utf8(std::process::Command::new("date").args(["-u", "+%F"]).output().unwrap().stdout)
            .unwrap();
    let options = Options { day: Some(day.trim().to_owned()), ..Options::default() };
    let checked = check_with(&[path.to_owned()], &Seen(path, text), &options);
    let place = |at: usize| {
        let before = text.get(..at).unwrap();
        let line = before.matches('\n').count() + before.replace("\r\n", "").matches('\r').count();
        let start = before.rfind(['\n', '\r']).map_or(0, |end| end + 1);
        format!("{line}:{}", before[start..].encode_utf16().count())
    };
    let found = checked.findings.iter().filter(|finding| finding.place.file == 1);
    let mut all: Vec<String> = found
        .map(|finding| {
            format!("{} {}-{}", finding.rule, place(finding.place.span.start), place(finding.place.span.end))
        })
        .collect();
    all.sort();
    all
}

/// What the server found, in the same words.
fn told(found: &[Value]) -> Vec<String> {
    let place = |at: &Value| format!("{}:{}", at["line"], at["character"]);
    let mut all: Vec<String> = found
        .iter()
        .map(|one| {
            format!(
                "{} {}-{}",
                one["code"].as_str().unwrap(),
                place(&one["range"]["start"]),
                place(&one["range"]["end"])
            )
        })
        .collect();
    all.sort();
    all
}

/// A small generator (Steele, Lea, Flood: splitmix64), so that a seed gives the same edits everywhere.
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % u64::try_from(end.max(1)).unwrap()).unwrap()
    }
}

/// What is typed or pasted.
const BITS: &[&str] = &[
    " ",
    "\n",
    "x",
    "\"",
    "{",
    "}",
    "#",
    "1",
    ",",
    ".",
    "°",
    "😀",
    "é",
    "\r\n",
    "otherwise",
    "remove belt-guard\n",
    " 62 ± 3 Hz",
    "step s \"S\" {\n}\n",
    "end failed",
    "\u{202E}",
    "\t",
    "expect ",
    " again",
    "waive not-restored because \"x\"\n",
    "-",
    "µ",
    "\u{a0}",
    "\u{2028}",
];

/// One edit of a text: its range in bytes and the new text.
fn edit(chance: &mut Chance, text: &str) -> (usize, usize, String) {
    let at = |chance: &mut Chance| {
        let mut at = chance.below(text.len() + 1);
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        // Between CR and LF there is no position in the protocol.
        if at > 0 && text.as_bytes().get(at) == Some(&b'\n') && text.as_bytes()[at - 1] == b'\r' {
            at - 1
        } else {
            at
        }
    };
    let start = at(chance);
    let mut end = start;
    if chance.below(2) == 0 {
        let far = if chance.below(12) == 0 { 400 } else { 6 };
        end = (start + chance.below(far)).min(text.len());
        while !text.is_char_boundary(end)
            || (end < text.len()
                && text.as_bytes()[end] == b'\n'
                && end > 0
                && text.as_bytes()[end - 1] == b'\r')
        {
            end += 1;
        }
    }
    let new = match chance.below(3) {
        0 if end > start => String::new(),
        _ => BITS[chance.below(BITS.len())].to_owned(),
    };
    (start, end, new)
}

fn position(text: &str, at: usize) -> Value {
    let before = &text[..at];
    let line = before.matches('\n').count() + before.replace("\r\n", "").matches('\r').count();
    let start = before.rfind(['\n', '\r']).map_or(0, |end| end + 1);
    json!({ "line": line, "character": before[start..].encode_utf16().count() })
}

#[test]
fn findings_after_any_edit_are_those_of_a_fresh_check() {
    let number = |name: &str| std::env::var(name).ok().and_then(|set| set.parse::<usize>().ok());
    let long = std::env::var_os("DWELL_TESTS_LONG").is_some();
    let edits = number("DWELL_EDITS").unwrap_or(if long { 1500 } else { 60 });
    let mut chance = Chance(u64::try_from(number("DWELL_SEED").unwrap_or(7)).unwrap());
    let files = [
        "charging/belt-and-charging.dwell",
        "cooling/pressure-test.dwell",
        "steering/front-toe.dwell",
        "vehicle.dwell",
    ];
    let can = json!({ "textDocument": { "completion": { "completionItem": { "snippetSupport": true } } } });
    let mut session = Session::with(&[], can, false);
    let mut done = 0;
    while done < edits {
        let file = library().join(files[chance.below(files.len())]);
        let path = file.to_str().unwrap();
        let uri = format!("file://{path}");
        let sound = fs::read_to_string(&file).unwrap();
        let mut text = sound.clone();
        session.open(&uri, &text);
        assert_eq!(told(&session.findings(&uri, Some(1))), fresh(path, &text));
        let mut version = 1;
        while version < 22 {
            version += 1;
            let (start, end, new) = edit(&mut chance, &text);
            let range = json!({ "start": position(&text, start), "end": position(&text, end) });
            text.replace_range(start..end, &new);
            session.change(&uri, version, json!([{ "range": range, "text": new }]));
            let found = session.findings(&uri, Some(version));
            assert_eq!(
                told(&found),
                fresh(path, &text),
                "after edit {done} of {path}, {start}..{end} by {new:?}:\n{text}"
            );
            asked(&mut session, &uri, &text, start.min(text.len()));
            done += 1;
            if chance.below(4) == 0
                && let Some((title, mended)) = repair(&mut session, &mut chance, &uri, &text)
            {
                version += 1;
                session.rewrite(&uri, version, &mended);
                let after = session.findings(&uri, Some(version));
                assert_eq!(told(&after), fresh(path, &mended), "after {title} in {path}:\n{mended}");
                let slips = |text: &str| dwell_syntax::parse::parse(text).slips.len();
                let broken = slips(&mended) > slips(&text) || (errors(&found) == 0 && errors(&after) > 0);
                assert!(!broken, "{title} breaks {path}:\n{text}\n\nwhich becomes\n{mended}\n{after:#?}");
                text = mended;
            }
        }
        session.tell("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
        session.findings(&uri, None);
    }
}

/// How many of these are errors.
fn errors(found: &[Value]) -> usize {
    found.iter().filter(|one| one["severity"] == 1).count()
}

/// One of the repairs that are offered anywhere in the text, or all of them at once: its title, and the text after it. None
/// where nothing is offered, or another file would be changed too.
fn repair(session: &mut Session, chance: &mut Chance, uri: &str, text: &str) -> Option<(String, String)> {
    let whole = json!({ "start": position(text, 0), "end": position(text, text.len()) });
    let only = if chance.below(3) == 0 { json!(["source.fixAll"]) } else { Value::Null };
    let context = json!({ "diagnostics": [], "only": only });
    let params = json!({ "textDocument": { "uri": uri }, "range": whole, "context": context });
    let actions = session.ask("textDocument/codeAction", params);
    let actions = actions.as_array().unwrap();
    let action = actions.get(chance.below(actions.len()))?;
    let changes = action["edit"]["changes"].as_object()?;
    let edits = changes.get(uri).filter(|_| changes.len() == 1)?;
    Some((action["title"].to_string(), edited(text, edits)))
}

/// Asks what an editor asks while somebody types: nothing fails, and what is set or mended can be read.
fn asked(session: &mut Session, uri: &str, text: &str, at: usize) {
    let at = (0..=at).rev().find(|at| text.is_char_boundary(*at)).unwrap();
    let document = json!({ "uri": uri });
    let here = json!({ "textDocument": document, "position": position(text, at) });
    let range = json!({ "start": here["position"], "end": here["position"] });
    for method in [
        "textDocument/hover",
        "textDocument/completion",
        "textDocument/documentHighlight",
        "textDocument/signatureHelp",
    ] {
        let id = session.begin(method, here.clone());
        let answer = session.answer(id);
        assert!(answer.get("error").is_none(), "{method}: {answer}\n{text}");
    }
    for (method, params) in [
        ("textDocument/semanticTokens/full", json!({ "textDocument": document })),
        ("textDocument/documentSymbol", json!({ "textDocument": document })),
        ("textDocument/foldingRange", json!({ "textDocument": document })),
        ("textDocument/codeLens", json!({ "textDocument": document })),
    ] {
        let id = session.begin(method, params);
        let answer = session.answer(id);
        assert!(answer.get("error").is_none(), "{method}: {answer}\n{text}");
    }
    let was = dwell_syntax::parse::parse(text).slips.len();
    let set = session.ask(
        "textDocument/formatting",
        json!({ "textDocument": document, "options": { "tabSize": 4, "insertSpaces": true } }),
    );
    let after = dwell_syntax::parse::parse(&edited(text, &set)).slips.len();
    assert!(if was > 0 { set == json!([]) } else { after == 0 }, "set: {text}");
    let actions = session.ask(
        "textDocument/codeAction",
        json!({ "textDocument": document, "range": range, "context": { "diagnostics": [] } }),
    );
    for action in actions.as_array().unwrap() {
        let Some(edits) = action["edit"]["changes"].get(uri) else { continue };
        let after = dwell_syntax::parse::parse(&edited(text, edits)).slips.len();
        assert!(after <= was, "{} breaks the text:\n{text}", action["title"]);
    }
}
