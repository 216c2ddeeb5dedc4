//! Texts that change faster than they are checked: every answer is about the text as it is, and none is lost.

use super::Session;
use serde_json::json;

/// A range on the first line.
fn on_first_line(from: usize, to: usize) -> serde_json::Value {
    json!({ "start": { "line": 0, "character": from }, "end": { "line": 0, "character": to } })
}

#[test]
fn two_hundred_keys_end_in_the_right_text() {
    let mut session = Session::plain(&[]);
    let uri = "untitled:a";
    session.open(uri, "");
    let text = format!("item a: hos # {}", "°😀x".repeat(62));
    let mut column = 0;
    for (version, letter) in (2..).zip(text.chars()) {
        session.change(
            uri,
            version,
            json!([{ "range": on_first_line(column, column), "text": letter.to_string() }]),
        );
        column += letter.len_utf16();
    }
    let last = i32::try_from(text.chars().count()).unwrap() + 1;
    let found = session.findings(uri, Some(last));
    assert_eq!(found.len(), 1);
    assert_eq!(found[0]["range"], on_first_line(8, 11));
}

/// Helix 25.01 sends two keys typed close together now and then the other way round.
#[test]
fn keys_that_come_in_another_order_end_in_the_text_of_the_editor() {
    let mut session = Session::plain(&[]);
    let uri = "untitled:a";
    session.open(uri, "");
    let letters: Vec<(i32, (usize, char))> = (2..).zip("item a: hos".chars().enumerate()).collect();
    for pair in letters.chunks(2) {
        for (version, (column, letter)) in pair.iter().rev() {
            let letter = letter.to_string();
            session.change(
                uri,
                *version,
                json!([{ "range": on_first_line(*column, *column), "text": letter }]),
            );
        }
    }
    // The last pair is one key alone, so its version is the newest.
    let found = session.findings(uri, Some(12));
    assert_eq!(found.len(), 1);
    assert_eq!(found[0]["range"], on_first_line(8, 11));
}

#[test]
fn versions_of_findings_never_go_back_and_an_older_text_is_dropped() {
    let mut session = Session::plain(&[]);
    let uri = "untitled:a";
    session.open(uri, "item a: hos\n");
    for version in 2..=100 {
        session.rewrite(uri, version, &"item a: hos\n".repeat(usize::try_from(version).unwrap() % 7 + 1));
    }
    session.rewrite(uri, 50, "item a: hose\nitem b: hos\n");
    session.rewrite(uri, 101, "");
    assert!(session.findings(uri, Some(101)).is_empty());
    let versions: Vec<i64> = session
        .all()
        .iter()
        .filter(|message| message["method"] == "textDocument/publishDiagnostics")
        .map(|message| message["params"]["version"].as_i64().unwrap())
        .collect();
    assert!(versions.is_sorted(), "{versions:?}");
}

#[test]
fn a_large_text_that_is_no_longer_wanted_keeps_nobody_waiting() {
    let mut session = Session::plain(&[]);
    let step = "    step s { measure a: length with b }\n";
    let large = format!("procedure p \"P\" {{\n{}}}\n", step.repeat(4000));
    session.open("untitled:large", &large);
    session.open("untitled:small", "item a: hos\n");
    assert_eq!(session.rules("untitled:small", Some(1)), ["not-found"]);
    let range = on_first_line(0, 1);
    let mut asked = Vec::new();
    for _ in 0..50 {
        let params = json!({ "textDocument": { "uri": "untitled:large" }, "range": range, "context": { "diagnostics": [] } });
        let id = session.begin("textDocument/codeAction", params);
        session.tell("$/cancelRequest", json!({ "id": id }));
        asked.push(id);
    }
    let params = json!({ "textDocument": { "uri": "untitled:small" }, "range": range, "context": { "diagnostics": [] } });
    let id = session.begin("textDocument/codeAction", params);
    session.answer(id);
    for id in asked {
        let answer = session.answer(id);
        assert!(answer["error"]["code"] == -32800 || answer.get("result").is_some(), "{answer}");
    }
}

#[test]
fn questions_are_answered_while_the_editor_lets_its_own_answers_wait() {
    let can = json!({ "workspace": { "configuration": true, "didChangeWatchedFiles": { "dynamicRegistration": true } } });
    let mut session = Session::with(&[], can, true);
    session.open("untitled:a", "item a:   hose\n");
    for _ in 0..4 {
        session.tell("workspace/didChangeConfiguration", json!({ "settings": null }));
        session.tell("textDocument/didSave", json!({ "textDocument": { "uri": "untitled:a" } }));
    }
    let options = json!({ "tabSize": 4, "insertSpaces": true });
    let params = json!({ "textDocument": { "uri": "untitled:a" }, "options": options });
    let asked: Vec<i64> =
        (0..400).map(|_| session.begin("textDocument/formatting", params.clone())).collect();
    for id in asked {
        assert_eq!(session.answer(id)["result"][0]["newText"], "item a: hose\n");
    }
    // Null, and a list with null in it, mean that nothing is set.
    let request = session.until(|message| message["method"] == "workspace/configuration");
    session.send(&json!({ "jsonrpc": "2.0", "id": request["id"], "result": [null] }));
    assert_eq!(session.ask("textDocument/formatting", params)[0]["newText"], "item a: hose\n");
}

#[test]
fn fifty_questions_about_two_million_bytes_that_are_called_off_keep_nobody_waiting() {
    let step = "    step s { measure a: length with b }\n";
    let large = format!("procedure p \"P\" {{\n{}}}\n", step.repeat(2_000_000 / step.len()));
    let mut session = Session::plain(&[]);
    session.open("untitled:small", "item a: hos\n");
    assert_eq!(session.rules("untitled:small", Some(1)), ["not-found"]);
    session.open("untitled:large", &large);
    let place = json!({ "line": 30_000, "character": 14 });
    let params = json!({ "textDocument": { "uri": "untitled:large" }, "position": place });
    let mut asked = Vec::new();
    for _ in 0..50 {
        let id = session.begin("textDocument/completion", params.clone());
        std::thread::sleep(std::time::Duration::from_millis(5));
        session.tell("$/cancelRequest", json!({ "id": id }));
        asked.push(id);
    }
    let begun = std::time::Instant::now();
    let place = json!({ "line": 0, "character": 1 });
    let hover = json!({ "textDocument": { "uri": "untitled:small" }, "position": place });
    assert!(session.ask("textDocument/hover", hover)["contents"].is_object());
    // A fifth of a second is meant; a machine that builds beside it is slower, but never as slow as a check of the large text.
    assert!(begun.elapsed() < std::time::Duration::from_secs(3), "{:?}", begun.elapsed());
    for id in &asked {
        let answer = session.answer(*id);
        assert_eq!(answer["error"]["code"], -32800, "{answer}");
    }
    // Each was answered once, and a key does not wait for the check of the text that it changes.
    session.rewrite("untitled:large", 2, "item a: hos\n");
    assert_eq!(session.rules("untitled:large", Some(2)), ["not-found"]);
    let again = session.all().iter().filter(|message| asked.iter().any(|id| message["id"] == *id)).count();
    assert_eq!(again, 0);
}
