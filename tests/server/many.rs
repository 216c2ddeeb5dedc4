//! Many files: what is open is answered at once, the rest is checked behind, and what is shown of files that are not open is
//! what `dwell check` finds in their folder, whatever is opened, typed, closed, written, deleted or set meanwhile.

use super::Session;
use super::board::{Board, Found, checked};
use serde_json::{Value, json};
use std::fs;

const VEHICLE: &str = r#"item belt-guard: removable "belt guard"
item belt: removable "belt"
"#;

/// A procedure over the vehicle; each tenth leaves something off.
fn procedure(number: usize) -> String {
    let last = if number.is_multiple_of(10) { "" } else { "\n        refit belt-guard" };
    let step =
        "    step look \"Look at the belt\" {\n        remove belt-guard\n        remove belt\n    }\n";
    let restore = format!("    restore {{\n        refit belt{last}\n    }}\n");
    format!("use \"../vehicle.dwell\"\n\nprocedure belt-{number} \"Belt {number}\" {{\n{step}{restore}}}\n")
}

/// The files of a workshop: hundreds, or with `DWELL_TESTS_LONG` ten thousand.
fn files() -> Vec<(String, String)> {
    let many = if std::env::var_os("DWELL_TESTS_LONG").is_some() { 10_000 } else { 300 };
    let mut files = vec![("vehicle.dwell".to_owned(), VEHICLE.to_owned())];
    files.extend(
        (1..many).map(|number| (format!("van-{}/belt-{number}.dwell", number % 20), procedure(number))),
    );
    files
}

fn session(can: Value) -> Session {
    let files = files();
    let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    Session::with(&files, can, true)
}

fn on_disk(session: &mut Session, paths: &[(&str, u8)]) {
    let changes = paths.iter().map(|(path, kind)| json!({ "uri": session.uri(path), "type": kind }));
    let changes: Vec<Value> = changes.collect();
    session.tell("workspace/didChangeWatchedFiles", json!({ "changes": changes }));
}

fn set(session: &mut Session, findings: &str) {
    let settings = json!({ "settings": { "dwell": { "findings": findings } } });
    session.tell("workspace/didChangeConfiguration", settings);
}

fn close(session: &mut Session, uri: &str) {
    session.tell("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
}

#[test]
fn one_file_is_answered_while_the_others_are_checked_behind_with_progress() {
    let mut session = session(json!({ "window": { "workDoneProgress": true } }));
    let uri = session.uri("van-10/belt-10.dwell");
    session.open(&uri, &procedure(10));
    assert_eq!(session.rules(&uri, Some(1)), ["not-restored"]);
    let hover = json!({ "textDocument": { "uri": uri }, "position": { "line": 4, "character": 16 } });
    assert!(session.ask("textDocument/hover", hover)["contents"].is_object());
    let ended = |message: &Value| message["params"]["value"]["kind"] == "end";
    assert!(!session.has(ended), "it was answered before the rest was done");
    let asked = session.until(|message| message["method"] == "window/workDoneProgress/create");
    session.send(&json!({ "jsonrpc": "2.0", "id": asked["id"], "result": null }));
    let token = asked["params"]["token"].clone();
    let mut kinds = Vec::new();
    while kinds.last().is_none_or(|kind| kind != "end") {
        let note = session.until(|message| message["method"] == "$/progress");
        assert_eq!(note["params"]["token"], token);
        kinds.push(note["params"]["value"]["kind"].as_str().unwrap().to_owned());
    }
    assert_eq!(kinds[0], "begin");
    assert!(kinds.len() > 2 && kinds[1..kinds.len() - 1].iter().all(|kind| kind == "report"), "{kinds:?}");
    let mut found = checked(&session);
    assert!(found.len() > 10);
    found.remove("van-10/belt-10.dwell");
    Board::default().becomes(&mut session, &found);
}

#[test]
fn what_is_typed_in_a_used_file_is_seen_in_files_that_are_not_open_and_so_is_its_end() {
    let mut session = session(json!({}));
    let (sound, mut board) = (checked(&session), Board::default());
    board.becomes(&mut session, &sound);
    let vehicle = session.uri("vehicle.dwell");
    session.open(&vehicle, VEHICLE);
    session.rewrite(&vehicle, 2, &VEHICLE.replace("item belt:", "item strap:"));
    // What is found is what would be found if it were saved.
    session.bench.put("vehicle.dwell", VEHICLE.replace("item belt:", "item strap:").as_bytes());
    let broken = checked(&session);
    session.bench.put("vehicle.dwell", VEHICLE.as_bytes());
    assert!(broken.len() > sound.len() * 5);
    board.becomes(&mut session, &broken);
    session.rewrite(&vehicle, 3, VEHICLE);
    board.becomes(&mut session, &sound);
    session.rewrite(&vehicle, 4, "");
    close(&mut session, &vehicle);
    board.becomes(&mut session, &sound);
}

#[test]
fn only_open_files_have_findings_while_the_user_wants_it_so() {
    let mut session = session(json!({}));
    let uri = session.uri("van-10/belt-10.dwell");
    session.open(&uri, &procedure(10));
    let (all, mut board) = (checked(&session), Board::default());
    let open: Found = all
        .iter()
        .filter(|(file, _)| *file == "van-10/belt-10.dwell")
        .map(|(a, b)| (a.clone(), b.clone()))
        .collect();
    assert_eq!(open.len(), 1);
    // Also while the rest is still being checked.
    set(&mut session, "open files");
    board.becomes(&mut session, &open);
    set(&mut session, "workspace");
    board.becomes(&mut session, &all);
    set(&mut session, "open files");
    board.becomes(&mut session, &open);
    close(&mut session, &uri);
    board.becomes(&mut session, &Found::new());
    set(&mut session, "workspace");
    board.becomes(&mut session, &all);
}

#[test]
fn files_that_come_change_and_go_have_the_findings_that_they_should() {
    let mut session = session(json!({}));
    let mut board = Board::default();
    let found = checked(&session);
    board.becomes(&mut session, &found);
    // Faults in files that are changed, new, in a new folder, or passed over; and a fault that goes with its file.
    session.bench.put("van-1/belt-1.dwell", procedure(10).replace("belt-10", "belt-1").as_bytes());
    session.bench.put("new/belt.dwell", procedure(10).as_bytes());
    session.bench.put(".ignore", b"passed-over\n");
    session.bench.put("passed-over/belt.dwell", procedure(10).as_bytes());
    fs::remove_file(session.bench.path("van-0/belt-20.dwell")).unwrap();
    let paths = [
        ("van-1/belt-1.dwell", 2),
        ("new/belt.dwell", 1),
        ("passed-over/belt.dwell", 1),
        ("van-0/belt-20.dwell", 3),
    ];
    on_disk(&mut session, &paths);
    let found = checked(&session);
    assert!(found.contains_key("new/belt.dwell") && !found.contains_key("passed-over/belt.dwell"));
    board.becomes(&mut session, &found);
    // A file that all use goes and comes back.
    fs::remove_file(session.bench.path("vehicle.dwell")).unwrap();
    on_disk(&mut session, &[("vehicle.dwell", 3)]);
    let gone = checked(&session);
    assert!(gone.len() > found.len() * 5);
    board.becomes(&mut session, &gone);
    session.bench.put("vehicle.dwell", VEHICLE.as_bytes());
    on_disk(&mut session, &[("vehicle.dwell", 1)]);
    board.becomes(&mut session, &found);
}

#[test]
fn settings_count_for_all_files_as_they_are_in_the_editor() {
    let mut session = session(json!({}));
    let (sound, mut board) = (checked(&session), Board::default());
    board.becomes(&mut session, &sound);
    let uri = session.uri("dwell.toml");
    // Not on the disk at all.
    session.open(&uri, "[levels]\nnot-restored = \"off\"\n");
    board.becomes(&mut session, &Found::new());
    session.rewrite(&uri, 2, "[levels]\nnot-restored = \"loud\"\n");
    session.bench.put("dwell.toml", b"[levels]\nnot-restored = \"loud\"\n");
    let wrong = checked(&session);
    assert_eq!(wrong["dwell.toml"].len(), 1);
    board.becomes(&mut session, &wrong);
    let params = json!({ "textDocument": { "uri": uri }, "options": { "tabSize": 4, "insertSpaces": true } });
    assert_eq!(session.ask("textDocument/formatting", params), Value::Null, "settings are no procedure");
    // Saved and closed the same is found, and its end too.
    close(&mut session, &uri);
    on_disk(&mut session, &[("dwell.toml", 1)]);
    board.becomes(&mut session, &wrong);
    fs::remove_file(session.bench.path("dwell.toml")).unwrap();
    on_disk(&mut session, &[("dwell.toml", 3)]);
    board.becomes(&mut session, &sound);
}

#[cfg(unix)]
#[test]
fn a_file_that_is_reached_by_two_paths_is_one() {
    let mut session = Session::silent(&[("real/parts.dwell", VEHICLE), ("real/van/belt.dwell", "")]);
    let belt = procedure(10).replace("../vehicle", "parts");
    session.bench.put("real/van/belt.dwell", belt.as_bytes());
    std::os::unix::fs::symlink("../parts.dwell", session.bench.path("real/van/parts.dwell")).unwrap();
    std::os::unix::fs::symlink("real", session.bench.path("work")).unwrap();
    // The folder is open by a link: what is shown has the path that it was opened with.
    let folders = json!([{ "uri": session.uri("work"), "name": "work" }]);
    session.ask("initialize", json!({ "processId": null, "capabilities": {}, "workspaceFolders": folders }));
    session.tell("initialized", json!({}));
    let mut board = Board::default();
    let left_off: Found = [("work/van/belt.dwell".to_owned(), vec!["5:9 not-restored".to_owned()])].into();
    board.becomes(&mut session, &left_off);
    // Typed in by one path, seen through the other.
    let parts = session.uri("work/parts.dwell");
    session.open(&parts, &VEHICLE.replace("belt-guard:", "belt-lid:"));
    let missing = session.until(|message| message["params"]["diagnostics"][0]["code"] == "not-found");
    assert_eq!(missing["params"]["uri"], session.uri("work/van/belt.dwell"));
    // Opened by its real path it is the same document, and is answered there.
    let real = session.uri("real/van/belt.dwell");
    session.open(&real, &belt);
    assert!(session.rules(&real, Some(1)).contains(&"not-found".to_owned()));
    session.rewrite(&parts, 2, VEHICLE);
    assert_eq!(session.rules(&real, Some(1)), ["not-restored"]);
    let place = json!({ "textDocument": { "uri": real }, "position": { "line": 4, "character": 16 } });
    let declared = session.ask("textDocument/definition", place);
    assert_eq!(declared[0]["uri"], parts, "where it is open");
}

#[test]
fn a_used_file_that_is_not_there_yet_is_seen_when_it_comes() {
    let mut session = Session::with(&[("van/belt.dwell", &procedure(1))], json!({}), true);
    let mut board = Board::default();
    let missing = checked(&session);
    assert_eq!(missing.len(), 1);
    board.becomes(&mut session, &missing);
    // First only in the editor, then on the disk.
    let vehicle = session.uri("vehicle.dwell");
    session.open(&vehicle, VEHICLE);
    board.becomes(&mut session, &Found::new());
    close(&mut session, &vehicle);
    board.becomes(&mut session, &missing);
    session.bench.put("vehicle.dwell", VEHICLE.as_bytes());
    on_disk(&mut session, &[("vehicle.dwell", 1)]);
    let found = checked(&session);
    board.becomes(&mut session, &found);
}
