//! From the first message to the end of the process, as section "Server lifecycle" of the Language Server Protocol 3.17 asks.

use super::Session;
use serde_json::{Value, json};
use std::process::{Command, Stdio};
use std::time::Duration;

const SOON: Duration = Duration::from_secs(5);

#[test]
fn shutdown_then_exit_ends_with_0_and_exit_alone_with_1() {
    let mut session = Session::plain(&[]);
    assert_eq!(session.ask("shutdown", Value::Null), Value::Null);
    session.tell("exit", Value::Null);
    assert_eq!(session.ended(SOON).unwrap().code(), Some(0));
    let mut session = Session::plain(&[]);
    session.tell("exit", Value::Null);
    assert_eq!(session.ended(SOON).unwrap().code(), Some(1));
}

#[test]
fn it_ends_with_its_input_and_with_its_editor() {
    let mut session = Session::plain(&[]);
    session.hang_up();
    assert_eq!(session.ended(SOON).unwrap().code(), Some(1));
    if !std::path::Path::new("/proc/self").exists() {
        return;
    }
    let mut editor = Command::new("sleep").arg("600").stdout(Stdio::null()).spawn().unwrap();
    let mut session = Session::silent(&[]);
    let params = json!({ "processId": editor.id(), "rootUri": null, "capabilities": {} });
    session.ask("initialize", params);
    assert!(session.ended(Duration::from_millis(700)).is_none(), "the editor is still there");
    editor.kill().unwrap();
    editor.wait().unwrap();
    assert_eq!(session.ended(SOON).unwrap().code(), Some(1));
}

#[test]
fn nothing_is_answered_before_initialize_and_nothing_after_shutdown() {
    let hover =
        json!({ "textDocument": { "uri": "file:///a.dwell" }, "position": { "line": 0, "character": 0 } });
    let mut session = Session::silent(&[]);
    assert_eq!(session.ask("textDocument/hover", hover.clone())["code"], -32002);
    let mut session = Session::plain(&[]);
    // Some editors send `"params": null`.
    session.send(&json!({ "jsonrpc": "2.0", "id": "end", "method": "shutdown", "params": null }));
    let answer = session.until(|message| message["id"] == "end");
    assert_eq!(answer.get("result"), Some(&Value::Null), "{answer}");
    assert_eq!(session.ask("textDocument/hover", hover)["code"], -32600);
}

#[test]
fn an_editor_that_can_do_nothing_is_asked_nothing() {
    let mut session = Session::plain(&[("a.dwell", "item a: hose\n")]);
    let uri = session.uri("a.dwell");
    session.open(&uri, "item a: hos\n");
    assert_eq!(session.rules(&uri, Some(1)), ["not-found"]);
    for message in session.all() {
        assert!(message.get("id").is_none() || message.get("method").is_none(), "it asked: {message}");
    }
}

#[test]
fn nothing_is_said_before_the_editor_is_ready() {
    let mut session = Session::silent(&[("a.dwell", "item a: hos\n")]);
    let can = json!({
        "workspace": { "configuration": true, "didChangeWatchedFiles": { "dynamicRegistration": true } },
        "textDocument": { "synchronization": { "dynamicRegistration": true } },
        "window": { "workDoneProgress": true },
    });
    let folders = json!([{ "uri": session.uri(""), "name": "work" }]);
    let answer = session.ask(
        "initialize",
        json!({ "processId": null, "rootUri": null, "capabilities": can, "workspaceFolders": folders }),
    );
    assert!(answer["capabilities"].is_object());
    assert!(session.all().is_empty(), "before `initialized` nothing may be sent");
    session.tell("initialized", json!({}));
    let mut asked = Vec::new();
    for _ in 0..3 {
        let request = session.until(|message| message.get("id").is_some() && message.get("method").is_some());
        asked.push(request["method"].as_str().unwrap().to_owned());
    }
    asked.sort();
    let register = "client/registerCapability";
    assert_eq!(asked, [register, register, "workspace/configuration"]);
}

#[test]
fn an_editor_that_can_do_nothing_is_asked_nothing_in_a_folder_of_many_files_either() {
    let files: Vec<(String, &str)> =
        (0..40).map(|number| (format!("{number}.dwell"), "item a: hos\n")).collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), *text)).collect();
    let mut session = Session::with(&files, json!({}), true);
    for (name, _) in &files {
        let uri = session.uri(name);
        assert_eq!(session.rules(&uri, None), ["not-found"]);
    }
    for message in session.all() {
        assert!(message.get("id").is_none() && message["method"] != "$/progress", "it sent: {message}");
    }
}

#[test]
fn suggestions_are_plain_for_an_editor_that_takes_no_snippets() {
    for (takes, marks) in [(false, false), (true, true)] {
        let can =
            json!({ "textDocument": { "completion": { "completionItem": { "snippetSupport": takes } } } });
        let mut session = Session::with(&[], can, false);
        session.open("untitled:a", "procedure p \"P\" {\n    \n}\n");
        let place = json!({ "line": 1, "character": 4 });
        let params = json!({ "textDocument": { "uri": "untitled:a" }, "position": place });
        let answer = session.ask("textDocument/completion", params);
        let items = answer["items"].as_array().unwrap();
        assert!(items.iter().any(|item| item["label"] == "step"));
        let is_snippet = |item: &Value| {
            item["insertTextFormat"] == 2 || item["textEdit"]["newText"].to_string().contains("${")
        };
        assert_eq!(items.iter().any(is_snippet), marks);
    }
}
