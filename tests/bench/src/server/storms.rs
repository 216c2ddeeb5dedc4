//! Storms of messages: many changes without a pause, an editor that lets its own answers wait, questions that are called off.

use std::io::Write;
use std::path::Path;
use std::time::Duration;

use anyhow::Result;
use serde_json::{Value, json};

use super::client::Client;
use super::keys::position;
use super::library::LONG;
use crate::corpus::one_text;

/// The bytes of the large text.
const LARGE: usize = 2_000_000;

/// All of them, with what came of each.
pub(crate) fn report(
    out: &mut impl Write,
    client: &mut Client,
    uri: &impl Fn(&str) -> String,
    folder: &Path,
) -> Result<()> {
    writeln!(out, "\nstorms")?;
    changes(out, client, &uri("van-00/storm.dwell"))?;
    waiting(out, client, &uri(LONG))?;
    called_off(out, client, uri, folder)
}

/// 200 changes, each a letter more, then a question, without a pause.
fn changes(out: &mut impl Write, client: &mut Client, uri: &str) -> Result<()> {
    client.open(uri, "# \nitem a: hos\n")?;
    client.findings(uri, 1)?;
    let mut sent = None;
    for version in 2..202 {
        let place = json!({ "line": 0, "character": version });
        let change = json!([{ "range": { "start": place, "end": place }, "text": "µ" }]);
        sent.get_or_insert(client.change(uri, version, change)?);
    }
    let at = json!({ "line": 1, "character": 5 });
    let (id, _) =
        client.begin("textDocument/hover", json!({ "textDocument": { "uri": uri }, "position": at }))?;
    let (came, answer) = client.answer(id)?;
    let (found, count) = client.findings(uri, 201)?;
    let took = sent.map(|sent| (came - sent, found - sent)).unwrap_or_default();
    writeln!(
        out,
        "  200 changes and a question: answered ({}) after {:?}, {count} finding of the last version after {:?}",
        if answer.pointer("/result/contents").is_some() { "rightly" } else { "wrongly" },
        took.0,
        took.1
    )?;
    client.close(uri)?;
    Ok(())
}

/// Four messages after which the server asks for its settings, and 400 questions before it gets them.
fn waiting(out: &mut impl Write, client: &mut Client, uri: &str) -> Result<()> {
    client.forget();
    let mut sent = None;
    for _ in 0..4 {
        sent.get_or_insert(client.tell("workspace/didChangeConfiguration", json!({ "settings": null }))?);
    }
    let params = json!({ "textDocument": { "uri": uri }, "position": { "line": 0, "character": 5 } });
    let mut asked = Vec::new();
    for _ in 0..400 {
        asked.push(client.begin("textDocument/hover", params.clone())?.0);
    }
    let is_asked = |message: &Value| message.get("method") == Some(&json!("workspace/configuration"));
    let mut requests = Vec::new();
    for _ in 0..4 {
        requests.push(client.until(is_asked)?.1);
    }
    let mut last = sent;
    let count = asked.len();
    for id in asked {
        last = Some(client.answer(id)?.0);
    }
    for request in requests {
        client.reply(&request)?;
    }
    let took = sent.zip(last).map(|(sent, last)| last - sent).unwrap_or_default();
    writeln!(out, "  {count} questions while the server waits for the editor: all answered after {took:?}")?;
    Ok(())
}

/// 50 questions about a text of 2 MB, each called off after 5 ms, then one about another text.
fn called_off(
    out: &mut impl Write,
    client: &mut Client,
    uri: &impl Fn(&str) -> String,
    folder: &Path,
) -> Result<()> {
    let large = uri("van-00/large.dwell");
    let text = one_text(LARGE);
    let sent = client.open(&large, &text)?;
    let at = text.len() / 2;
    let params = json!({ "textDocument": { "uri": large }, "position": position(&text, at) });
    let mut asked = Vec::new();
    for _ in 0..50 {
        let (id, _) = client.begin("textDocument/completion", params.clone())?;
        std::thread::sleep(Duration::from_millis(5));
        client.tell("$/cancelRequest", json!({ "id": id }))?;
        asked.push(id);
    }
    let long = std::fs::read_to_string(folder.join(LONG))?;
    let place = position(&long, long.find("measure").unwrap_or_default() + 2);
    let params = json!({ "textDocument": { "uri": uri(LONG) }, "position": place });
    let (took, _) = client.ask("textDocument/hover", params)?;
    let mut off = 0;
    for id in &asked {
        let (_, answer) = client.answer(*id)?;
        off += usize::from(answer.pointer("/error/code") == Some(&json!(-32800)));
    }
    writeln!(
        out,
        "  {} questions about {} bytes, each called off: all answered, {off} as called off; a question about another text {took:?} after",
        asked.len(),
        text.len()
    )?;
    let (came, found) = client.findings(&large, 1)?;
    writeln!(
        out,
        "  (the {} bytes were checked {:?} after they were opened, {found} found)",
        text.len(),
        came - sent
    )?;
    client.close(&large)?;
    Ok(())
}
