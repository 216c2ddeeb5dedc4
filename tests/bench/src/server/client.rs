//! An editor's side of a session with the real server, which notes when each message came.

use std::collections::VecDeque;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};

/// How long anything may take before the measurement is given up.
const PATIENCE: Duration = Duration::from_secs(600);

/// A running server, and what came from it.
pub(crate) struct Client {
    process: Child,
    input: ChildStdin,
    output: Receiver<(Instant, Value)>,
    /// What came and was not asked for yet.
    kept: VecDeque<(Instant, Value)>,
    requests: i64,
}

impl Client {
    /// Starts `dwell lsp` and presents an editor that can show progress and has this folder open.
    pub(crate) fn start(program: &Path, folder: &Path) -> Result<Client> {
        let mut process = Command::new(program)
            .arg("lsp")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .with_context(|| format!("{} cannot be started", program.display()))?;
        let input = process.stdin.take().context("a pipe")?;
        let mut output = BufReader::new(process.stdout.take().context("a pipe")?);
        let (sender, receiver) = channel();
        std::thread::spawn(move || {
            while let Some(body) = frame(&mut output) {
                let came = Instant::now();
                let Ok(message) = serde_json::from_slice(&body) else { return };
                if sender.send((came, message)).is_err() {
                    return;
                }
            }
        });
        let mut client = Client { process, input, output: receiver, kept: VecDeque::new(), requests: 0 };
        let can = json!({
            "window": { "workDoneProgress": true },
            "workspace": { "configuration": true },
            "textDocument": {
                "publishDiagnostics": { "relatedInformation": true },
                "completion": { "completionItem": { "snippetSupport": true } },
                "hover": { "contentFormat": ["markdown"] },
            },
        });
        let uri = format!("file://{}", folder.display());
        let params = json!({ "processId": null, "rootUri": uri, "capabilities": can,
                             "workspaceFolders": [{ "uri": uri, "name": "library" }] });
        client.ask("initialize", params)?;
        client.tell("initialized", json!({}))?;
        Ok(client)
    }

    /// The number of the server's process.
    pub(crate) fn process(&self) -> u32 {
        self.process.id()
    }

    /// Sends one message; when it was sent.
    fn send(&mut self, message: &Value) -> Result<Instant> {
        let body = message.to_string();
        let sent = Instant::now();
        write!(self.input, "Content-Length: {}\r\n\r\n{body}", body.len())?;
        self.input.flush()?;
        Ok(sent)
    }

    /// Something that has no answer.
    pub(crate) fn tell(&mut self, method: &str, params: Value) -> Result<Instant> {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }))
    }

    /// Sends a question: its number, and when it was sent.
    pub(crate) fn begin(&mut self, method: &str, params: Value) -> Result<(i64, Instant)> {
        self.requests += 1;
        let id = self.requests;
        let sent = self.send(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }))?;
        Ok((id, sent))
    }

    /// The answer to a question, and when it came; an error is an answer too.
    pub(crate) fn answer(&mut self, id: i64) -> Result<(Instant, Value)> {
        self.until(|message| message.get("id") == Some(&json!(id)) && message.get("method").is_none())
    }

    /// Asks and waits: how long it took, and the result.
    pub(crate) fn ask(&mut self, method: &str, params: Value) -> Result<(Duration, Value)> {
        let (id, sent) = self.begin(method, params)?;
        let (came, answer) = self.answer(id)?;
        if let Some(error) = answer.get("error") {
            bail!("{method}: {error}");
        }
        Ok((came.duration_since(sent), answer.get("result").cloned().unwrap_or_default()))
    }

    /// The first message that fits, of those that came already and those to come. What the server asks is answered with
    /// nothing.
    pub(crate) fn until(&mut self, fits: impl Fn(&Value) -> bool) -> Result<(Instant, Value)> {
        if let Some(place) = self.kept.iter().position(|(_, message)| fits(message)) {
            return self.kept.remove(place).context("it was there");
        }
        let end = Instant::now() + PATIENCE;
        loop {
            let left = end.saturating_duration_since(Instant::now());
            let (came, message) = self.output.recv_timeout(left).context("nothing comes any more")?;
            if message.get("method").is_some()
                && let Some(id) = message.get("id")
                && !fits(&message)
            {
                let answer = json!({ "jsonrpc": "2.0", "id": id, "result": null });
                self.send(&answer)?;
                continue;
            }
            if fits(&message) {
                return Ok((came, message));
            }
            self.kept.push_back((came, message));
        }
    }

    /// Answers something that the server asked.
    pub(crate) fn reply(&mut self, asked: &Value) -> Result<()> {
        let id = asked.get("id").cloned().unwrap_or_default();
        self.send(&json!({ "jsonrpc": "2.0", "id": id, "result": [null] })).map(drop)
    }

    /// How many reports of progress came and were not asked for.
    pub(crate) fn reports(&self) -> usize {
        let report = |message: &Value| message.pointer("/params/value/kind") == Some(&json!("report"));
        self.kept.iter().filter(|(_, message)| report(message)).count()
    }

    /// Forgets all that came and was not asked for.
    pub(crate) fn forget(&mut self) {
        self.kept.extend(self.output.try_iter());
        self.kept.clear();
    }

    /// Opens a document with its first version.
    pub(crate) fn open(&mut self, uri: &str, text: &str) -> Result<Instant> {
        let document = json!({ "uri": uri, "languageId": "dwell", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }))
    }

    /// Closes it.
    pub(crate) fn close(&mut self, uri: &str) -> Result<Instant> {
        self.tell("textDocument/didClose", json!({ "textDocument": { "uri": uri } }))
    }

    /// Changes a document.
    pub(crate) fn change(&mut self, uri: &str, version: i32, changes: Value) -> Result<Instant> {
        let document = json!({ "uri": uri, "version": version });
        self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }))
    }

    /// The findings of one version of a document, and when they came.
    pub(crate) fn findings(&mut self, uri: &str, version: i32) -> Result<(Instant, usize)> {
        let (came, message) = self.until(|message| {
            published(message).is_some_and(|(of, _)| {
                of == uri && message.pointer("/params/version") == Some(&json!(version))
            })
        })?;
        Ok((came, published(&message).map_or(0, |(_, count)| count)))
    }

    /// How long the server's threads have been on a processor; none where the system does not tell.
    pub(crate) fn on_processor(&self) -> Option<Duration> {
        let mut all = Duration::ZERO;
        for thread in std::fs::read_dir(format!("/proc/{}/task", self.process())).ok()? {
            let told = std::fs::read_to_string(thread.ok()?.path().join("schedstat")).ok()?;
            all += Duration::from_nanos(told.split_whitespace().next()?.parse().ok()?);
        }
        Some(all)
    }

    /// How much memory the server has in use, and the most that it had, in bytes; none where the system does not tell.
    pub(crate) fn memory(&self) -> Option<(usize, usize)> {
        let told = std::fs::read_to_string(format!("/proc/{}/status", self.process())).ok()?;
        let of = |name: &str| {
            let line = told.lines().find_map(|line| line.strip_prefix(name))?;
            line.split_whitespace().next()?.parse::<usize>().ok().map(|kilobytes| kilobytes * 1024)
        };
        Some((of("VmRSS:")?, of("VmHWM:")?))
    }
}

impl Drop for Client {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// The document that findings were sent of, and how many.
pub(crate) fn published(message: &Value) -> Option<(&str, usize)> {
    if message.get("method")? != "textDocument/publishDiagnostics" {
        return None;
    }
    let count = message.pointer("/params/diagnostics")?.as_array()?.len();
    Some((message.pointer("/params/uri")?.as_str()?, count))
}

/// The body of the next frame.
fn frame(output: &mut impl BufRead) -> Option<Vec<u8>> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if output.read_line(&mut line).ok()? == 0 {
            return None;
        }
        match line.trim_end() {
            "" => break,
            header => {
                if let Some(told) = header.strip_prefix("Content-Length: ") {
                    length = told.parse().ok()?;
                }
            }
        }
    }
    let mut body = vec![0; length];
    output.read_exact(&mut body).ok()?;
    Some(body)
}
