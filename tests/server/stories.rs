//! Whole sessions as files that a person reads: the files, then what is asked and what is answered.
//!
//! A block that begins with three backticks, `dwell` and a name is a file; the first of them is open in the editor. A heading
//! such as ``## hover at `remove belt-g‸uard` `` asks at the place of `‸`; the block under it is the answer.
//! `UPDATE_EXPECT=1` rewrites the answers.

use super::Session;
use super::edits::edited;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

#[test]
fn every_story_goes_as_it_is_told() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("server/stories");
    let mut stories: Vec<_> = fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    stories.sort();
    assert!(stories.len() > 3);
    for path in stories {
        let told = fs::read_to_string(&path).unwrap();
        let went = retold(&told);
        if std::env::var_os("UPDATE_EXPECT").is_some() {
            fs::write(&path, &went).unwrap();
        } else {
            assert_eq!(told, went, "{}", path.display());
        }
    }
}

/// The story with the answers that are given now.
fn retold(told: &str) -> String {
    let files = files(told);
    let pairs: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let can = json!({ "textDocument": {
        "hover": { "contentFormat": ["plaintext"] },
        "completion": { "completionItem": { "snippetSupport": false } },
        "documentSymbol": { "hierarchicalDocumentSymbolSupport": true },
    }});
    let mut session = Session::with(&pairs, can, true);
    let (name, text) = files.first().unwrap();
    let uri = session.uri(name);
    session.open(&uri, text);
    let mut out = String::new();
    let mut lines = told.lines().peekable();
    while let Some(line) = lines.next() {
        out.push_str(line);
        out.push('\n');
        let Some(asked) = line.strip_prefix("## ") else { continue };
        let answer = answer(&mut session, &uri, text, asked);
        while lines.peek().is_some_and(|next| !next.starts_with("```")) {
            out.push_str(lines.next().unwrap());
            out.push('\n');
        }
        out.push_str("```text\n");
        out.push_str(answer.trim_end());
        out.push_str("\n```\n");
        lines.next();
        while lines.next().is_some_and(|old| old != "```") {}
    }
    out
}

/// The files of a story.
fn files(told: &str) -> Vec<(String, String)> {
    let mut files = Vec::new();
    let mut lines = told.lines();
    while let Some(line) = lines.next() {
        if let Some(name) = line.strip_prefix("```dwell ") {
            let text: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
            files.push((name.to_owned(), text.join("\n") + "\n"));
        }
    }
    files
}

/// The answer to "hover at `…`", in words.
fn answer(session: &mut Session, uri: &str, text: &str, asked: &str) -> String {
    let (what, place) = asked.split_once(" at ").unwrap_or((asked, ""));
    let document = json!({ "uri": uri });
    let at = json!({ "textDocument": document, "position": position(text, place.trim_matches('`')) });
    let with = |more: Value| {
        let mut all = at.clone();
        all.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        all
    };
    match what.split_once(' ').unwrap_or((what, "")) {
        ("findings", _) => {
            let found = session.findings(uri, Some(1));
            found
                .iter()
                .map(|one| {
                    format!(
                        "{} {}: {}",
                        range(text, &one["range"]),
                        one["code"].as_str().unwrap(),
                        one["message"].as_str().unwrap()
                    )
                })
                .collect::<Vec<_>>()
                .join("\n\n")
        }
        ("hover", _) => {
            let hover = session.ask("textDocument/hover", at);
            if hover.is_null() {
                return "nothing".to_owned();
            }
            format!("{}\n\n{}", range(text, &hover["range"]), hover["contents"]["value"].as_str().unwrap())
        }
        ("declaration", _) => {
            let found = session.ask("textDocument/definition", at);
            places(session, &found)
        }
        ("uses", _) => {
            let asked = with(json!({ "context": { "includeDeclaration": true } }));
            let found = session.ask("textDocument/references", asked);
            places(session, &found)
        }
        ("rename", to) => {
            let renamed =
                session.ask("textDocument/rename", with(json!({ "newName": to.trim_start_matches("to ") })));
            match renamed["message"].as_str() {
                Some(refused) => format!("refused: {refused}"),
                None => renamed["changes"]
                    .as_object()
                    .unwrap()
                    .iter()
                    .map(|(file, edits)| {
                        let name = file.rsplit('/').next().unwrap();
                        let before = session.bench.get(name);
                        let after = edited(&before, edits);
                        let changed = before.lines().zip(after.lines()).filter(|(old, new)| old != new);
                        changed
                            .map(|(_, new)| format!("{name}: {}", new.trim()))
                            .collect::<Vec<_>>()
                            .join("\n")
                    })
                    .collect::<Vec<_>>()
                    .join("\n"),
            }
        }
        ("complete", _) => {
            let list = session.ask("textDocument/completion", at);
            let items = list["items"].as_array().or(list.as_array()).cloned().unwrap_or_default();
            let mut items: Vec<(String, String)> = items
                .iter()
                .map(|item| {
                    let words = format!(
                        "{}  {}",
                        item["label"].as_str().unwrap(),
                        item["detail"].as_str().unwrap_or_default()
                    );
                    (item["sortText"].as_str().unwrap_or_default().to_owned(), words.trim_end().to_owned())
                })
                .collect();
            items.sort();
            items.into_iter().take(12).map(|(_, words)| words).collect::<Vec<_>>().join("\n")
        }
        ("page", chosen) => {
            let variants: serde_json::Map<String, Value> = chosen
                .split_whitespace()
                .filter_map(|one| one.split_once('='))
                .map(|(name, value)| (name.to_owned(), json!(value)))
                .collect();
            page(text, &session.ask("dwell/page", with(json!({ "variants": variants }))))
        }
        ("outline", _) => {
            outline(&session.ask("textDocument/documentSymbol", json!({ "textDocument": document })), 0)
        }
        (other, _) => panic!("nothing is known of `{other}`"),
    }
}

/// A page: how far it is whole, what is wrong, what the cursor stands in, and what the page says there.
fn page(text: &str, page: &Value) -> String {
    if page["state"].is_null() {
        return "nothing".to_owned();
    }
    let mut lines =
        vec![format!("{}: {}", page["procedure"].as_str().unwrap(), page["state"].as_str().unwrap())];
    for trouble in page["troubles"].as_array().unwrap() {
        lines.push(format!(
            "line {}: {}",
            trouble["line"].as_u64().unwrap() + 1,
            trouble["words"].as_str().unwrap()
        ));
    }
    for variant in page["variants"].as_array().unwrap() {
        let chosen = variant["chosen"].as_str().unwrap_or("all");
        lines.push(format!("{}: {chosen}", variant["name"].as_str().unwrap()));
    }
    for (name, piece) in [("here", "card"), ("hereInWays", "ways")] {
        let Some(node) = page[name].as_u64() else { continue };
        let place = page["places"].as_array().unwrap().iter().find(|place| place["node"] == node).unwrap();
        let of = |at: usize| place["range"][at].as_u64().unwrap();
        let there = json!({
            "start": { "line": of(0), "character": of(1) },
            "end": { "line": of(2), "character": of(3) },
        });
        let html = page[piece].as_str().unwrap();
        let at = html.find(&format!("data-node=\"{node}\"")).unwrap();
        let end = html[at + 10..].find("data-node").map_or(html.len(), |next| at + 10 + next);
        let mut inside = false;
        let says: String = html[at..end]
            .split_once('>')
            .unwrap()
            .1
            .chars()
            .map(|letter| {
                inside = letter == '<' || inside && letter != '>';
                if inside || letter == '>' { ' ' } else { letter }
            })
            .collect();
        let says = says.split_whitespace().collect::<Vec<_>>().join(" ");
        lines.push(format!("{piece}, {}: {says}", range(text, &there)));
    }
    lines.join("\n")
}

/// Each place as its file, its line, and what stands there.
fn places(session: &Session, found: &Value) -> String {
    let all = found.as_array().map(Vec::as_slice).unwrap_or_default().iter().map(|place| {
        let name = place["uri"].as_str().unwrap().rsplit('/').next().unwrap().to_owned();
        let text = fs::read_to_string(session.bench.path(&name)).unwrap_or_default();
        format!("{name} {}", range(&text, &place["range"]))
    });
    let all: Vec<String> = all.collect();
    if all.is_empty() { "nothing".to_owned() } else { all.join("\n") }
}

/// "line 4 `belt-guard`".
fn range(text: &str, range: &Value) -> String {
    let line = usize::try_from(range["start"]["line"].as_u64().unwrap()).unwrap();
    let units: Vec<u16> = text.lines().nth(line).unwrap_or_default().encode_utf16().collect();
    let of = |end: &str| usize::try_from(range[end]["character"].as_u64().unwrap()).unwrap();
    let same = range["start"]["line"] == range["end"]["line"];
    let end = if same { of("end").min(units.len()) } else { units.len() };
    format!(
        "line {} `{}`",
        line + 1,
        String::from_utf16_lossy(units.get(of("start")..end).unwrap_or_default())
    )
}

/// Where `‸` stands in the only place of the text that reads like this.
fn position(text: &str, place: &str) -> Value {
    if place.is_empty() {
        return json!({ "line": 0, "character": 0 });
    }
    let before = place.find('‸').expect("a place has a cursor");
    let plain = place.replacen('‸', "", 1);
    assert_eq!(text.matches(&plain).count(), 1, "{plain}");
    let whole = &text[..text.find(&plain).unwrap() + before];
    let line = whole.matches('\n').count();
    let column = whole.rsplit('\n').next().unwrap().encode_utf16().count();
    json!({ "line": line, "character": column })
}

fn outline(symbols: &Value, depth: usize) -> String {
    let mut out = String::new();
    for symbol in symbols.as_array().map(Vec::as_slice).unwrap_or_default() {
        let detail = symbol["detail"].as_str().unwrap_or_default();
        out.push_str(
            format!("{}{}  {detail}", "    ".repeat(depth), symbol["name"].as_str().unwrap()).trim_end(),
        );
        out.push('\n');
        out.push_str(&outline(&symbol["children"], depth + 1));
    }
    out
}
