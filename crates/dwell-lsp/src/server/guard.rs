//! What stands between the pipes and the server: bad messages are answered and the session goes on, and the process ends
//! when it is told to, when its input ends, or when its editor is gone.

use super::frames;
use serde_json::{Value, json};
use std::io;
use std::path::Path;
use std::time::Duration;
use tokio::io::{AsyncBufRead, AsyncWrite};
use tokio::sync::mpsc::UnboundedSender;
use tokio::sync::watch;

/// How the session ended: the exit status of the process. The protocol asks for 0 after `shutdown` and `exit`, and 1 else.
pub(crate) type Code = u8;

/// Reads messages until the end, lets sound ones on to the server, answers the others, and says with which status to end.
pub(crate) async fn incoming(
    mut input: impl AsyncBufRead + Unpin,
    mut server: impl AsyncWrite + Unpin,
    answers: UnboundedSender<Vec<u8>>,
    editor: watch::Sender<Option<u32>>,
) -> Code {
    let mut shut = false;
    loop {
        let body = match frames::read(&mut input).await {
            Ok(Some(body)) => body,
            Ok(None) => return u8::from(!shut),
            Err(error) if error.kind() == io::ErrorKind::InvalidData => {
                let _ = answers.send(refused(&Value::Null, -32700, &error.to_string()));
                continue;
            }
            Err(_) => return 1,
        };
        match judged(&body) {
            Judged::Exit => return u8::from(!shut),
            Judged::Answer(answer) => {
                let _ = answers.send(answer);
            }
            Judged::On(body, what) => {
                match what {
                    What::Shutdown => shut = true,
                    What::Initialize(process) => {
                        let _ = editor.send(process);
                    }
                    What::Other => {}
                }
                if frames::write(&mut server, &body).await.is_err() {
                    return 1;
                }
            }
        }
    }
}

/// What is to be done with a message.
#[derive(Debug, PartialEq)]
enum Judged {
    /// It goes on to the server.
    On(Vec<u8>, What),
    /// It is answered here.
    Answer(Vec<u8>),
    /// `exit`.
    Exit,
}

/// What the guard itself needs to know of a message.
#[derive(Debug, PartialEq)]
enum What {
    Initialize(Option<u32>),
    Shutdown,
    Other,
}

fn judged(body: &[u8]) -> Judged {
    let message: Value = match serde_json::from_slice(body) {
        Ok(message) => message,
        Err(error) => {
            return Judged::Answer(refused(
                &Value::Null,
                -32700,
                &format!("this message is no JSON: {error}"),
            ));
        }
    };
    let Value::Object(mut fields) = message else {
        return Judged::Answer(refused(
            &Value::Null,
            -32600,
            "a message is one JSON object; batches are not part of the protocol",
        ));
    };
    let id = fields.get("id").cloned();
    let Some(method) = fields.get("method").map(|method| method.as_str().unwrap_or_default().to_owned())
    else {
        return Judged::On(body.to_vec(), What::Other);
    };
    match (method.as_str(), id) {
        ("exit", None) => Judged::Exit,
        ("shutdown", Some(_)) => {
            // Some editors send `"params": null`.
            fields.remove("params");
            Judged::On(Value::Object(fields).to_string().into_bytes(), What::Shutdown)
        }
        ("initialize", Some(_)) => {
            let process =
                fields.get("params").and_then(|params| params.get("processId")).and_then(Value::as_u64);
            Judged::On(
                body.to_vec(),
                What::Initialize(process.and_then(|process| u32::try_from(process).ok())),
            )
        }
        (optional, Some(id)) if optional.starts_with("$/") => {
            Judged::Answer(refused(&id, -32601, &format!("there is no `{optional}`")))
        }
        _ => Judged::On(body.to_vec(), What::Other),
    }
}

/// An error as an answer.
fn refused(id: &Value, code: i64, message: &str) -> Vec<u8> {
    json!({ "jsonrpc": "2.0", "id": id, "error": { "code": code, "message": message } })
        .to_string()
        .into_bytes()
}

/// Comes back when the process that the editor named is gone; never where that cannot be seen.
pub(crate) async fn editor_gone(mut editor: watch::Receiver<Option<u32>>) {
    let process = loop {
        if let Some(process) = *editor.borrow() {
            break process;
        }
        if editor.changed().await.is_err() {
            return std::future::pending().await;
        }
    };
    let place = format!("/proc/{process}");
    if !Path::new(&place).exists() {
        // No such table on this system, or an editor in another container: only the end of the input tells.
        return std::future::pending().await;
    }
    while Path::new(&place).exists() {
        tokio::time::sleep(Duration::from_millis(500)).await;
    }
}

#[cfg(test)]
mod tests {
    use super::{Judged, What, judged};

    fn answer(body: &str) -> String {
        match judged(body.as_bytes()) {
            Judged::Answer(answer) => String::from_utf8_lossy(&answer).into_owned(),
            other => format!("{other:?}"),
        }
    }

    #[test]
    fn bad_messages_are_answered() {
        assert!(answer("{").contains("-32700"));
        assert!(answer("[{}]").contains("-32600"));
        assert!(answer(r#"{"jsonrpc":"2.0","id":7,"method":"$/foo"}"#).contains(r#""id":7"#));
        assert!(matches!(judged(b"\xff\xfe"), Judged::Answer(_)));
    }

    #[test]
    fn the_end_and_the_editor_are_noticed() {
        assert_eq!(judged(br#"{"jsonrpc":"2.0","method":"exit"}"#), Judged::Exit);
        let initialize = br#"{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":42}}"#;
        assert!(matches!(judged(initialize), Judged::On(_, What::Initialize(Some(42)))));
        let shutdown = br#"{"jsonrpc":"2.0","id":2,"method":"shutdown","params":null}"#;
        let Judged::On(body, What::Shutdown) = judged(shutdown) else { unreachable!() };
        assert!(!String::from_utf8_lossy(&body).contains("params"));
        assert!(matches!(
            judged(br#"{"jsonrpc":"2.0","method":"$/cancelRequest"}"#),
            Judged::On(_, What::Other)
        ));
        assert!(matches!(judged(br#"{"jsonrpc":"2.0","id":1,"result":null}"#), Judged::On(_, What::Other)));
    }
}
