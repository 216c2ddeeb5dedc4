//! An editor's side of a session: messages out, messages in, with a limit on every wait.

use crate::program::bench::{Bench, DWELL};
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Command, ExitStatus, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// How long anything may take before the test fails: far more than it takes, for machines that are busy.
const PATIENCE: Duration = Duration::from_secs(60);

/// A running server and what came from it.
pub(crate) struct Session {
    process: Child,
    input: Option<ChildStdin>,
    output: Receiver<Value>,
    /// What came and was not asked for yet.
    kept: Vec<Value>,
    requests: i64,
    /// Where its files lie.
    pub(crate) bench: Bench,
}

impl Session {
    /// A server that nobody has spoken to, with these files on the disk.
    pub(crate) fn silent(files: &[(&str, &str)]) -> Session {
        let bench = Bench::new(files);
        let mut process = Command::new(&*DWELL)
            .arg("lsp")
            .current_dir(bench.0.path())
            .env("XDG_CACHE_HOME", bench.0.path().join(".cache"))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let input = process.stdin.take();
        let output = BufReader::new(process.stdout.take().unwrap());
        let (sender, receiver) = channel();
        std::thread::spawn(move || {
            let mut output = output;
            while let Some(message) = frame(&mut output) {
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        Session { process, input, output: receiver, kept: Vec::new(), requests: 0, bench }
    }

    /// A server that knows an editor which can do nothing special and has no folder open.
    pub(crate) fn plain(files: &[(&str, &str)]) -> Session {
        Session::with(files, json!({}), false)
    }

    /// A server that knows an editor with these capabilities, and the folder of the files where `open` is set.
    pub(crate) fn with(files: &[(&str, &str)], capabilities: Value, open: bool) -> Session {
        let mut session = Session::silent(files);
        let root = session.uri("");
        let folders = json!([{ "uri": root, "name": "work" }]);
        let answer = session.ask(
            "initialize",
            json!({
                "processId": null, "rootUri": null, "capabilities": capabilities,
                "workspaceFolders": if open { folders } else { Value::Null },
            }),
        );
        assert!(answer["capabilities"].is_object(), "{answer}");
        session.tell("initialized", json!({}));
        session
    }

    /// The address of a file.
    pub(crate) fn uri(&self, path: &str) -> String {
        let whole = self.bench.path(path);
        format!("file://{}", whole.to_str().unwrap().trim_end_matches('/').replace(' ', "%20"))
    }

    /// Bytes as they are.
    pub(crate) fn raw(&mut self, bytes: &[u8]) {
        let input = self.input.as_mut().unwrap();
        input.write_all(bytes).unwrap();
        input.flush().unwrap();
    }

    /// One message.
    pub(crate) fn send(&mut self, message: &Value) {
        let body = message.to_string();
        self.raw(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes());
    }

    /// Something that has no answer.
    pub(crate) fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    /// Sends a question and gives its number.
    pub(crate) fn begin(&mut self, method: &str, params: Value) -> i64 {
        self.requests += 1;
        let mut message = json!({ "jsonrpc": "2.0", "id": self.requests, "method": method });
        if !params.is_null() {
            message["params"] = params;
        }
        self.send(&message);
        self.requests
    }

    /// The whole answer to a question.
    pub(crate) fn answer(&mut self, id: i64) -> Value {
        self.until(|message| message["id"] == id && message.get("method").is_none())
    }

    /// Asks and waits; the result, or the error.
    pub(crate) fn ask(&mut self, method: &str, params: Value) -> Value {
        let id = self.begin(method, params);
        let mut answer = self.answer(id);
        if answer.get("error").is_some() { answer["error"].take() } else { answer["result"].take() }
    }

    /// The first message that fits, of those that came already and those to come.
    pub(crate) fn until(&mut self, fits: impl Fn(&Value) -> bool) -> Value {
        if let Some(place) = self.kept.iter().position(&fits) {
            return self.kept.remove(place);
        }
        let end = Instant::now() + PATIENCE;
        loop {
            let left = end.saturating_duration_since(Instant::now());
            let message = self.output.recv_timeout(left);
            let message = message.unwrap_or_else(|why| panic!("{why}; so far came {:#?}", self.kept));
            if fits(&message) {
                return message;
            }
            self.kept.push(message);
        }
    }

    /// The next message that comes within a time; those that came already first.
    pub(crate) fn next(&mut self, within: Duration) -> Option<Value> {
        if self.kept.is_empty() { self.output.recv_timeout(within).ok() } else { Some(self.kept.remove(0)) }
    }

    /// Whether such a message came already.
    pub(crate) fn has(&mut self, fits: impl Fn(&Value) -> bool) -> bool {
        self.kept.extend(self.output.try_iter());
        self.kept.iter().any(fits)
    }

    /// All that came so far, once an answer to a last question is there.
    pub(crate) fn all(&mut self) -> Vec<Value> {
        let id = self.begin("dwell/none", json!({}));
        self.answer(id);
        std::mem::take(&mut self.kept)
    }

    /// Opens a document with its first version.
    pub(crate) fn open(&mut self, uri: &str, text: &str) {
        self.tell(
            "textDocument/didOpen",
            json!({ "textDocument": { "uri": uri, "languageId": "dwell", "version": 1, "text": text } }),
        );
    }

    /// Gives a document a new text.
    pub(crate) fn rewrite(&mut self, uri: &str, version: i32, text: &str) {
        self.change(uri, version, json!([{ "text": text }]));
    }

    /// Changes a document.
    pub(crate) fn change(&mut self, uri: &str, version: i32, changes: Value) {
        let document = json!({ "uri": uri, "version": version });
        self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
    }

    /// The findings of one version of a document; without a version, of whatever comes next.
    pub(crate) fn findings(&mut self, uri: &str, version: Option<i32>) -> Vec<Value> {
        let message = self.until(|message| {
            message["method"] == "textDocument/publishDiagnostics"
                && message["params"]["uri"] == uri
                && version.is_none_or(|version| message["params"]["version"] == version)
        });
        message["params"]["diagnostics"].as_array().unwrap().clone()
    }

    /// The same, only the rules.
    pub(crate) fn rules(&mut self, uri: &str, version: Option<i32>) -> Vec<String> {
        let found = self.findings(uri, version);
        found.iter().map(|finding| finding["code"].as_str().unwrap().to_owned()).collect()
    }

    /// Closes the input.
    pub(crate) fn hang_up(&mut self) {
        self.input = None;
    }

    /// Waits for the end of the process.
    pub(crate) fn ended(&mut self, within: Duration) -> Option<ExitStatus> {
        let end = Instant::now() + within;
        while Instant::now() < end {
            if let Some(status) = self.process.try_wait().unwrap() {
                return Some(status);
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        None
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// The next frame, read as strictly as the protocol is written: nothing else may stand on the standard output.
fn frame(output: &mut impl BufRead) -> Option<Value> {
    let mut length = None;
    loop {
        let mut line = String::new();
        if output.read_line(&mut line).ok()? == 0 {
            return None;
        }
        assert!(line.ends_with("\r\n"), "a header ends in CR LF: {line:?}");
        let line = line.trim_end();
        if line.is_empty() {
            break;
        }
        let (name, value) = line.split_once(": ").unwrap_or_else(|| panic!("{line:?} is no header"));
        assert_eq!(name, "Content-Length");
        length = Some(value.parse::<usize>().unwrap());
    }
    let mut body = vec![0; length.unwrap()];
    output.read_exact(&mut body).ok()?;
    Some(serde_json::from_slice(&body).unwrap())
}
