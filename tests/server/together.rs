//! Several files: what is open before what is on disk, findings of files that are not open, files that come and go.

use super::Session;
use serde_json::json;
use std::fs;

const BELT: &str = "use \"vehicle.dwell\"\nprocedure p \"P\" { step s \"S\" { remove belt-guard }  restore { refit belt-guard } }\n";
const VEHICLE: &str = "item belt-guard: removable \"belt guard\"\n";

fn on_disk(session: &mut Session, path: &str, kind: u8) {
    let uri = session.uri(path);
    session.tell("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": uri, "type": kind }] }));
}

#[test]
fn the_open_text_counts_before_the_one_on_disk_until_it_is_closed() {
    let mut session = Session::plain(&[("belt.dwell", BELT), ("vehicle.dwell", VEHICLE)]);
    let (belt, vehicle) = (session.uri("belt.dwell"), session.uri("vehicle.dwell"));
    session.open(&belt, BELT);
    assert!(session.rules(&belt, Some(1)).is_empty());
    session.open(&vehicle, "item belt-cover: removable \"belt cover\"\n");
    assert!(session.rules(&belt, Some(1)).contains(&"not-found".to_owned()));
    // The disk says something else: the open text still counts.
    fs::write(session.bench.path("vehicle.dwell"), VEHICLE.replace("belt-guard:", "belt-lid:")).unwrap();
    on_disk(&mut session, "vehicle.dwell", 2);
    session.rewrite(&vehicle, 2, VEHICLE);
    assert!(session.rules(&belt, Some(1)).is_empty());
    session.tell("textDocument/didClose", json!({ "textDocument": { "uri": vehicle } }));
    assert!(session.rules(&belt, Some(1)).contains(&"not-found".to_owned()));
}

#[test]
fn findings_of_closed_files_appear_and_go_away() {
    let bad = BELT.replace("refit belt-guard", "");
    let mut session =
        Session::with(&[("a b/belt.dwell", &bad), ("a b/vehicle.dwell", VEHICLE)], json!({}), true);
    let belt = session.uri("a b/belt.dwell");
    assert_eq!(session.rules(&belt, None), ["not-restored"]);
    session.bench.put("a b/belt.dwell", BELT.as_bytes());
    on_disk(&mut session, "a b/belt.dwell", 2);
    assert!(session.rules(&belt, None).is_empty());
    session.bench.put("a b/belt.dwell", bad.as_bytes());
    on_disk(&mut session, "a b/belt.dwell", 2);
    assert_eq!(session.rules(&belt, None), ["not-restored"]);
    fs::remove_file(session.bench.path("a b/belt.dwell")).unwrap();
    on_disk(&mut session, "a b/belt.dwell", 3);
    assert!(session.rules(&belt, None).is_empty());
}

#[test]
fn a_closed_document_has_no_findings_and_its_file_has_its_own() {
    let bad = BELT.replace("refit belt-guard", "");
    let mut session = Session::plain(&[("belt.dwell", BELT), ("vehicle.dwell", VEHICLE)]);
    let belt = session.uri("belt.dwell");
    session.open(&belt, &bad);
    assert_eq!(session.rules(&belt, Some(1)), ["not-restored"]);
    session.tell("textDocument/didClose", json!({ "textDocument": { "uri": belt } }));
    assert!(session.rules(&belt, None).is_empty());
    // With its folder open the file on disk is checked instead.
    let mut session = Session::with(&[("belt.dwell", &bad), ("vehicle.dwell", VEHICLE)], json!({}), true);
    let belt = session.uri("belt.dwell");
    assert_eq!(session.rules(&belt, None), ["not-restored"]);
    session.open(&belt, BELT);
    assert!(session.rules(&belt, Some(1)).is_empty());
    session.tell("textDocument/didClose", json!({ "textDocument": { "uri": belt } }));
    assert!(session.rules(&belt, None).is_empty());
    assert_eq!(session.rules(&belt, None), ["not-restored"]);
}

#[test]
fn one_file_under_two_spellings_is_one_and_a_diff_view_is_none() {
    let mut session = Session::plain(&[("vehicle.dwell", VEHICLE), ("belt.dwell", BELT)]);
    let odd = session.uri("vehicle.dwell").replace("vehicle", "%76ehicle");
    let belt = session.uri("belt.dwell");
    session.open(&odd, "item other: hos\n");
    assert_eq!(session.rules(&odd, Some(1)), ["not-found"]);
    session.open(&belt, BELT);
    assert!(session.rules(&belt, Some(1)).contains(&"not-found".to_owned()));
    session.rewrite(&odd, 2, VEHICLE);
    assert!(session.rules(&belt, Some(1)).is_empty());
    let view = session.uri("vehicle.dwell").replace("file://", "git:") + "?ref=HEAD";
    session.open(&view, "item nothing: hose\n");
    assert!(session.rules(&view, Some(1)).is_empty());
    session.rewrite(&belt, 2, &format!("{BELT}\n"));
    assert!(session.rules(&belt, Some(2)).is_empty(), "the old revision took the place of the file");
}

#[test]
fn settings_count_from_the_file_upwards_wherever_the_editor_was_started() {
    let settings = "[levels]\nname-unused = \"off\"\n";
    let text = "item a: hose\nprocedure p \"P\" { step s \"S\" { do \"Look.\" } }\n";
    let files = [("dwell.toml", settings), ("brakes/a.dwell", text)];
    for open in [false, true] {
        let mut session = Session::with(&files, json!({}), open);
        let uri = session.uri("brakes/a.dwell");
        session.open(&uri, text);
        assert!(session.rules(&uri, Some(1)).is_empty());
        fs::remove_file(session.bench.path("dwell.toml")).unwrap();
        on_disk(&mut session, "dwell.toml", 3);
        assert_eq!(session.rules(&uri, Some(1)), ["name-unused"]);
    }
}

#[test]
fn an_editor_that_asks_for_findings_is_not_sent_them_too() {
    let can = json!({ "textDocument": { "diagnostic": {} } });
    let mut session = Session::with(&[], can, false);
    session.open("untitled:a", "item a: hos\n");
    let report = session.ask("textDocument/diagnostic", json!({ "textDocument": { "uri": "untitled:a" } }));
    assert_eq!((&report["kind"], &report["items"][0]["code"]), (&json!("full"), &json!("not-found")));
    let sent = session.all();
    assert!(sent.iter().all(|message| message["method"] != "textDocument/publishDiagnostics"), "{sent:?}");
}
