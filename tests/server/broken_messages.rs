//! Messages that are wrong are answered, and the session goes on.

use super::Session;
use serde_json::json;

/// Whether it still answers.
fn goes_on(session: &mut Session) {
    session.open("untitled:a", "item a: hos\n");
    assert_eq!(session.rules("untitled:a", None), ["not-found"]);
}

#[test]
fn what_is_no_json_or_no_object_is_answered() {
    for (bytes, code) in [
        (&b"Content-Length: 9\r\n\r\n{\"jsonrpc"[..], -32700),
        (&b"Content-Length: 4\r\n\r\n\"\xff\xfe\""[..], -32700),
        (&b"Content-Length: 4\r\n\r\n[{}]"[..], -32600),
        (&b"X-Nothing: 1\r\n\r\n"[..], -32700),
    ] {
        let mut session = Session::plain(&[]);
        session.raw(bytes);
        let answer = session.until(|message| message.get("error").is_some());
        assert_eq!((&answer["error"]["code"], &answer["id"]), (&json!(code), &json!(null)), "{answer}");
        goes_on(&mut session);
    }
}

#[test]
fn headers_may_be_written_in_any_way() {
    let mut session = Session::plain(&[]);
    let body = json!({ "jsonrpc": "2.0", "id": 900, "method": "dwell/none" }).to_string();
    let types = "content-type: application/vscode-jsonrpc; charset=utf-8\r\n";
    for byte in format!("{types}content-length: {}\r\n\r\n{body}", body.len()).into_bytes() {
        session.raw(&[byte]);
    }
    assert_eq!(session.answer(900)["error"]["code"], -32601);
}

#[test]
fn what_is_not_known_or_has_the_wrong_parameters_is_refused() {
    let mut session = Session::plain(&[]);
    assert_eq!(session.ask("dwell/none", json!({}))["code"], -32601);
    assert_eq!(session.ask("$/none", json!({}))["code"], -32601);
    assert_eq!(session.ask("textDocument/formatting", json!({ "position": 1 }))["code"], -32602);
    session.tell("dwell/none", json!({}));
    session.tell("$/cancelRequest", json!({ "id": 77 }));
    session.tell("textDocument/didChange", json!({ "nothing": true }));
    goes_on(&mut session);
}
