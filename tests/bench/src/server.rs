//! How fast the language server is in a library of ten thousand files: from a key to its findings, questions while somebody
//! types and at rest, a limit that everybody uses changed, and storms of messages. Nothing in it passes or fails.

mod client;
mod keys;
mod library;
mod storms;
mod times;

use std::collections::HashMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use anyhow::{Context, Result};
use serde_json::{Value, json};

use crate::SEED;
use client::{Client, published};
use dwell_tests::chance::Chance;
use keys::{KINDS, Typed, position};
use library::{LIMITS, LONG, VEHICLE};
use times::Times;

/// Keys of each kind, and as many that take them back.
const KEYS: usize = 60;
/// What is asked while somebody types.
const QUESTIONS: [&str; 5] = ["hover", "completion", "inlayHint", "codeLens", "semanticTokens/full"];

/// Measures the server in a library of so many files.
pub(crate) fn report(files: usize) -> Result<()> {
    let mut out = std::io::stdout().lock();
    let program = program()?;
    let folder = std::env::temp_dir().join(format!("dwell-bench-{}", std::process::id()));
    let measured = measured(&mut out, &program, &folder, files);
    std::fs::remove_dir_all(&folder)?;
    measured
}

/// The program beside this one, or the one that `DWELL_PROGRAM` names.
fn program() -> Result<PathBuf> {
    if let Some(named) = std::env::var_os("DWELL_PROGRAM") {
        return Ok(named.into());
    }
    let own = std::env::current_exe()?;
    let beside = own.with_file_name(format!("dwell{}", std::env::consts::EXE_SUFFIX));
    beside.exists().then_some(beside).context("build the server first: cargo build --release -p dwell")
}

fn measured(out: &mut impl Write, program: &Path, folder: &Path, files: usize) -> Result<()> {
    let bytes = library::write(folder, files, SEED)?;
    let folder = folder.canonicalize()?;
    let cores = std::thread::available_parallelism()?;
    writeln!(out, "{files} files, {bytes} bytes, seed {SEED}; {cores} cores; {}", program.display())?;
    let uri = |name: &str| format!("file://{}", folder.join(name).display());
    let text = std::fs::read_to_string(folder.join(LONG))?;
    writeln!(out, "the long file has {} lines, {} bytes\n", text.lines().count(), text.len())?;

    let begun = Instant::now();
    let mut client = Client::start(program, &folder)?;
    let long = uri(LONG);
    client.open(&long, &text)?;
    let (first, found) = client.findings(&long, 1)?;
    writeln!(out, "from the start to the findings of the opened file: {:?} ({found} found)", first - begun)?;
    let mut typed = Typed { text, version: 1 };
    let mut chance = Chance::seeded(SEED);
    writeln!(out, "\nmilliseconds                                    p50       p99       most")?;
    let (keys, _) = keys(&mut client, &long, &mut typed, &mut chance, 20)?;
    writeln!(out, "  a key to its findings, the rest still checked {}", all(&keys))?;
    let (done, _) = client.until(|message| message.pointer("/params/value/kind") == Some(&json!("end")))?;
    let reports = client.reports();
    writeln!(out, "  (all files checked {:?} after the start, {reports} reports of progress)", done - begun)?;
    memory(out, &client, bytes)?;
    client.forget();
    let (keys, asked) = self::keys(&mut client, &long, &mut typed, &mut chance, KEYS)?;
    let all = all(&keys);
    writeln!(out, "  a key to its findings                         {all}")?;
    for (kind, times) in KINDS.iter().zip(&keys) {
        writeln!(out, "    {kind:43} {times}")?;
    }
    for (method, (after, rest)) in QUESTIONS.iter().zip(&asked) {
        writeln!(out, "  {method:20} with a key before it       {after}")?;
        writeln!(out, "  {:20} at rest                  {rest}", "")?;
    }
    if let Some(time) = on_processor(&mut client, &long, &mut typed, &mut chance)? {
        writeln!(out, "  time on a processor for each key {time:?}, whatever else the machine is doing")?;
    }
    hubs(out, &mut client, &uri, &folder)?;
    storms::report(out, &mut client, &uri, &folder)?;
    memory(out, &client, bytes)
}

fn all(times: &[Times]) -> Times {
    let mut all = Times::default();
    times.iter().for_each(|times| all.extend(times));
    all
}

fn memory(out: &mut impl Write, client: &Client, bytes: usize) -> Result<()> {
    let Some((now, most)) = client.memory() else { return Ok(()) };
    let mega = |bytes: usize| bytes / 1_000_000;
    let each = now.checked_div(bytes).unwrap_or_default();
    writeln!(
        out,
        "  memory of the server: {} MB, {each} for each byte of source; at most {} MB",
        mega(now),
        mega(most)
    )?;
    Ok(())
}

/// The times of the questions, asked with a key before them and at rest.
type Asked = Vec<(Times, Times)>;

/// Types keys of each kind and takes them back: the time of each to its findings.
fn keys(
    client: &mut Client,
    uri: &str,
    typed: &mut Typed,
    chance: &mut Chance,
    each: usize,
) -> Result<(Vec<Times>, Asked)> {
    let mut asked: Asked = QUESTIONS.iter().map(|_| Default::default()).collect();
    let mut all = Vec::new();
    for kind in KINDS {
        let mut times = Times::default();
        for try_ in 0..each {
            let edit = typed.edit(kind, chance).context("there is a place for every kind")?;
            let (change, back) = typed.make(&edit);
            let sent = client.change(uri, typed.version, change)?;
            times.add(client.findings(uri, typed.version)?.0 - sent);
            let (change, _) = typed.make(&back);
            let sent = client.change(uri, typed.version, change)?;
            times.add(client.findings(uri, typed.version)?.0 - sent);
            let Some((method, (after, rest))) = QUESTIONS.iter().zip(&mut asked).nth(try_ % QUESTIONS.len())
            else {
                continue;
            };
            let (change, back) = typed.make(&edit);
            client.change(uri, typed.version, change)?;
            after.add(ask(client, method, uri, &typed.text, edit.at)?);
            let (change, _) = typed.make(&back);
            client.change(uri, typed.version, change)?;
            client.findings(uri, typed.version)?;
            rest.add(ask(client, method, uri, &typed.text, edit.at)?);
        }
        all.push(times);
    }
    Ok((all, asked))
}

/// The time that the server was on a processor for each of some keys; none where the system does not tell.
fn on_processor(
    client: &mut Client,
    uri: &str,
    typed: &mut Typed,
    chance: &mut Chance,
) -> Result<Option<Duration>> {
    let before = client.on_processor();
    let mut keys = 0;
    for kind in KINDS.iter().cycle().take(KINDS.len() * 10) {
        let mut edit = typed.edit(kind, chance).context("there is a place for every kind")?;
        for _ in 0..2 {
            let (change, back) = typed.make(&edit);
            client.change(uri, typed.version, change)?;
            client.findings(uri, typed.version)?;
            (edit, keys) = (back, keys + 1);
        }
    }
    let times = before.zip(client.on_processor());
    Ok(times.map(|(before, after)| after.saturating_sub(before) / keys))
}

/// Asks something at a byte, as an editor does: how long it took.
fn ask(client: &mut Client, method: &str, uri: &str, text: &str, at: usize) -> Result<Duration> {
    let document = json!({ "uri": uri });
    let (from, to) = (text.get(..at).unwrap_or_default().matches('\n').count(), 40);
    let params = match method {
        "hover" | "completion" => json!({ "textDocument": document, "position": position(text, at) }),
        "inlayHint" => json!({ "textDocument": document, "range": {
            "start": { "line": from.saturating_sub(to), "character": 0 }, "end": { "line": from + to, "character": 0 } } }),
        _ => json!({ "textDocument": document }),
    };
    Ok(client.ask(&format!("textDocument/{method}"), params)?.0)
}

/// Changes a file that others use, and waits until all of them say so; then the same taken back.
fn hubs(
    out: &mut impl Write,
    client: &mut Client,
    uri: &impl Fn(&str) -> String,
    folder: &Path,
) -> Result<()> {
    writeln!(out, "\na name changed in a file that others use: until the findings of all of them are right")?;
    for (hub, from, to) in
        [(VEHICLE, "item battery-posts", "item battery-pins"), (LIMITS, "spec bolt-torque", "spec bolt-tork")]
    {
        let text = std::fs::read_to_string(folder.join(hub))?;
        let users = users(folder, hub)?;
        let hub = uri(hub);
        client.open(&hub, &text)?;
        client.findings(&hub, 1)?;
        client.forget();
        everywhere(out, client, &hub, &text, from)?;
        let broken = text.replace(from, to);
        let sent = client.change(&hub, 2, json!([{ "text": broken }]))?;
        let missing = |message: &Value| rules(message).any(|rule| rule == "not-found");
        let last = settled(client, &users, missing)?;
        writeln!(out, "  {} files use it: all say what is missing after {:?}", users.len(), last - sent)?;
        let sent = client.change(&hub, 3, json!([{ "text": text }]))?;
        let last = settled(client, &users, |message| !missing(message))?;
        writeln!(
            out,
            "  {} files use it: none misses anything {:?} after it is there again",
            users.len(),
            last - sent
        )?;
        client.close(&hub)?;
        client.forget();
    }
    Ok(())
}

/// Asks where a name is used, and for its change in all files that use it.
fn everywhere(out: &mut impl Write, client: &mut Client, hub: &str, text: &str, named: &str) -> Result<()> {
    let at = text.find(named).and_then(|at| Some(at + named.find(' ')? + 1)).context("the name is there")?;
    let at = json!({ "textDocument": { "uri": hub }, "position": position(text, at) });
    let with = |more: Value| {
        let mut all = at.clone();
        if let (Some(all), Some(more)) = (all.as_object_mut(), more.as_object()) {
            all.extend(more.clone());
        }
        all
    };
    let context = with(json!({ "context": { "includeDeclaration": true } }));
    let (took, places) = client.ask("textDocument/references", context)?;
    let places = places.as_array().map_or(0, Vec::len);
    writeln!(out, "  `{named}` stands at {places} places: found after {took:?}")?;
    let (took, change) = client.ask("textDocument/rename", with(json!({ "newName": "another-name" })))?;
    let plain = change.get("changes").and_then(Value::as_object).map_or(0, serde_json::Map::len);
    let versioned = change.get("documentChanges").and_then(Value::as_array).map_or(0, Vec::len);
    let files = plain.max(versioned);
    writeln!(out, "  its change in {files} files is there after {took:?}")?;
    Ok(())
}

/// The addresses of the files that name what the hub declares, as their texts say.
fn users(folder: &Path, hub: &str) -> Result<Vec<String>> {
    let within = if hub == VEHICLE { folder.join("van-00") } else { folder.to_owned() };
    let mut found = Vec::new();
    let mut folders = vec![within];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.file_name().is_some_and(|name| name != "workshop.dwell" && name != "limits.dwell")
                && (hub != VEHICLE || !path.ends_with("vehicle.dwell"))
            {
                found.push(format!("file://{}", path.display()));
            }
        }
    }
    Ok(found)
}

/// The rules of the findings that were sent of a document.
fn rules(message: &Value) -> impl Iterator<Item = &str> {
    let found = message.pointer("/params/diagnostics").and_then(Value::as_array);
    found.into_iter().flatten().filter_map(|one| one.get("code")?.as_str())
}

/// Waits until the last findings of each of these files are as they should be: when the last of them came.
fn settled(client: &mut Client, users: &[String], right: impl Fn(&Value) -> bool) -> Result<Instant> {
    let mut open: HashMap<&str, bool> = users.iter().map(|uri| (uri.as_str(), false)).collect();
    let mut left = open.len();
    let mut last = Instant::now();
    while left > 0 {
        let (came, message): (Instant, Value) = client.until(|message| published(message).is_some())?;
        let Some((uri, _)) = published(&message) else { continue };
        let Some(known) = open.get_mut(uri) else { continue };
        match (right(&message), *known) {
            (true, false) => left -= 1,
            (false, true) => left += 1,
            _ => {}
        }
        *known = right(&message);
        last = came;
    }
    Ok(last)
}
