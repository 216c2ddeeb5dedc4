//! Layout and repairs, as edits of the document.

use super::Session;
use serde_json::{Value, json};

/// A text with edits made, as an editor makes them: all of them on the text as it was.
pub(crate) fn edited(text: &str, edits: &Value) -> String {
    let lines: Vec<Vec<u16>> = text.split_inclusive('\n').map(|line| line.encode_utf16().collect()).collect();
    let whole: Vec<u16> = text.encode_utf16().collect();
    let offset = |place: &Value| {
        let (line, character) = (place["line"].as_u64().unwrap(), place["character"].as_u64().unwrap());
        let before: usize = lines.iter().take(usize::try_from(line).unwrap()).map(Vec::len).sum();
        before + usize::try_from(character).unwrap()
    };
    let mut all: Vec<(usize, usize, &str)> = edits
        .as_array()
        .unwrap()
        .iter()
        .map(|edit| {
            (
                offset(&edit["range"]["start"]),
                offset(&edit["range"]["end"]),
                edit["newText"].as_str().unwrap(),
            )
        })
        .collect();
    all.sort_by_key(|(start, end, _)| (*start, *end));
    let mut out = Vec::new();
    let mut at = 0;
    for (start, end, new) in all {
        assert!(at <= start, "edits touch each other");
        out.extend_from_slice(&whole[at..start]);
        out.extend(new.encode_utf16());
        at = end;
    }
    out.extend_from_slice(&whole[at..]);
    String::from_utf16(&out).unwrap()
}

#[test]
fn a_text_is_set_as_the_program_sets_it_and_left_alone_while_it_cannot_be_read() {
    let text = "# 😀 é\nitem   a:hose # why\n\n\n\nspec gap: length{check 1 .. 2 mm}\n";
    let mut session = Session::plain(&[("a.dwell", text)]);
    let uri = session.uri("a.dwell");
    session.open(&uri, text);
    let params =
        json!({ "textDocument": { "uri": uri }, "options": { "tabSize": 8, "insertSpaces": false } });
    let edits = session.ask("textDocument/formatting", params.clone());
    session.bench.run(&["format", "a.dwell"]);
    assert_eq!(edited(text, &edits), session.bench.get("a.dwell"));
    session.rewrite(&uri, 2, &format!("{text}step s {{ check = }}\n"));
    assert_eq!(session.ask("textDocument/formatting", params), json!([]));
}

#[test]
fn a_repair_is_offered_at_its_finding_and_all_of_them_at_once() {
    let text = "item guard: removabel\nspec gap: length { check 1,5 .. 2.5 mm }\n";
    let can = json!({ "workspace": { "workspaceEdit": { "documentChanges": true } } });
    let mut session = Session::with(&[], can, false);
    session.open("untitled:a", text);
    assert_eq!(session.rules("untitled:a", Some(1)), ["not-found", "look-alike-character"]);
    let at = |line: u32, only: Value| {
        let place = json!({ "line": line, "character": 0 });
        let end = json!({ "line": line, "character": 99 });
        json!({ "textDocument": { "uri": "untitled:a" }, "range": { "start": place, "end": end },
                "context": { "diagnostics": [], "only": only } })
    };
    let one = session.ask("textDocument/codeAction", at(1, Value::Null));
    assert_eq!(one.as_array().unwrap().len(), 1);
    assert_eq!(one[0]["title"], "Write `1.5`");
    assert_eq!(one[0]["diagnostics"][0]["code"], "look-alike-character");
    assert_eq!(one[0]["edit"]["documentChanges"][0]["textDocument"]["version"], 1);
    let all = session.ask("textDocument/codeAction", at(0, json!(["source.fixAll"])));
    let edits = &all[0]["edit"]["documentChanges"][0]["edits"];
    let mended = edited(text, edits);
    assert_eq!(mended, "item guard: removable\nspec gap: length { check 1.5 .. 2.5 mm }\n");
    session.rewrite("untitled:a", 2, &mended);
    assert!(session.rules("untitled:a", Some(2)).is_empty());
}
