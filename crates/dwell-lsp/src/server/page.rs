//! The page beside a text: a request of our own, `dwell/page`, answered without keeping the worker.

use super::positions::Encoding;
use crate::ide::View;
use crate::ide::page::{Page, State, Wanted, page};
use dwell_check::program::Content;
use serde_json::{Value, json};
use std::thread;
use tower_lsp::ls_types::{Position, Uri};

/// The name of the request.
pub(crate) const METHOD: &str = "dwell/page";
/// The stack of the thread that writes a page: what is nested in a text is nested in its page.
const STACK: usize = 32 << 20;

/// What was asked.
pub(crate) struct Asked {
    /// The document.
    pub(crate) uri: Uri,
    position: Option<Position>,
    procedure: Option<String>,
    variants: Vec<(String, String)>,
    /// Whether the style sheet is wanted too.
    style: bool,
}

impl Asked {
    /// From the message; none where it names no document.
    pub(crate) fn of(sent: &Value) -> Option<Asked> {
        let uri = sent.get("textDocument")?.get("uri")?.as_str()?.parse().ok()?;
        let number = |name: &str| {
            let number = sent.get("position")?.get(name)?.as_u64()?;
            u32::try_from(number).ok()
        };
        let position =
            number("line").zip(number("character")).map(|(line, character)| Position { line, character });
        let variants = sent.get("variants").and_then(Value::as_object);
        let variants = variants.into_iter().flatten();
        let variants = variants.filter_map(|(name, value)| Some((name.clone(), value.as_str()?.to_owned())));
        Some(Asked {
            uri,
            position,
            procedure: sent.get("procedure").and_then(Value::as_str).map(str::to_owned),
            variants: variants.collect(),
            style: sent.get("style").and_then(Value::as_bool).unwrap_or(false),
        })
    }

    /// The answer, from the document as it was checked: null where it declares no procedure. None where it could not be made.
    pub(crate) fn answered(self, view: &View, encoding: Encoding, version: i32) -> Option<Value> {
        let made = thread::scope(|scope| {
            let made = || {
                let source = view.source()?;
                let at = self.position.map(|position| encoding.offset(source, position));
                let wanted = Wanted { at, procedure: self.procedure, variants: self.variants };
                Some(
                    page(view, &wanted)
                        .map_or(Value::Null, |page| told(&page, source, encoding, version, self.style)),
                )
            };
            thread::Builder::new().stack_size(STACK).spawn_scoped(scope, made).ok()?.join().ok()
        });
        made.flatten()
    }
}

/// The page as it is sent.
fn told(page: &Page, source: &Content, encoding: Encoding, version: i32, style: bool) -> Value {
    let range = |span| {
        let range = encoding.range(source, span);
        json!([range.start.line, range.start.character, range.end.line, range.end.character])
    };
    let procedures =
        page.procedures.iter().map(|(name, span)| json!({ "name": name, "range": range(*span) }));
    let variants = page
        .variants
        .iter()
        .map(|known| json!({ "name": known.name, "values": known.values, "chosen": known.chosen }));
    let troubles = page.troubles.iter().map(|(line, words)| json!({ "line": line, "words": words }));
    let places = page.places.iter().map(|(node, span)| json!({ "node": node, "range": range(*span) }));
    json!({
        "version": version,
        "procedure": page.procedure,
        "procedures": procedures.collect::<Vec<_>>(),
        "state": match page.state {
            State::Whole => "whole",
            State::Errors => "errors",
            State::Partly => "partly",
            State::Unreadable => "unreadable",
        },
        "troubles": troubles.collect::<Vec<_>>(),
        "variants": variants.collect::<Vec<_>>(),
        "card": page.pieces.as_ref().map(|pieces| &pieces.card),
        "ways": page.pieces.as_ref().map(|pieces| &pieces.ways),
        "style": style.then_some(dwell_page::STYLE),
        "places": places.collect::<Vec<_>>(),
        "here": page.here,
        "hereInWays": page.here_in_ways,
    })
}
