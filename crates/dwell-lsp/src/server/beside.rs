//! What is shown beside a text: hovers, hints, lenses and what they do.

use super::editor::Editor;
use super::state::State;
use crate::ide::block::{Block, markdown, plain};
use crate::ide::lenses::{Does, Lens, count_ways, lenses, run_cases};
use crate::ide::{View, hints, hover};
use serde_json::{Value, json};
use tower_lsp::ls_types::*;

/// The commands behind the lenses.
pub(crate) const COMMANDS: [&str; 3] = ["dwell.runCase", "dwell.runCases", "dwell.countWays"];

/// What is to be said of a byte.
pub(crate) fn said(state: &State, view: &View, at: usize) -> Option<Hover> {
    let found = hover::hover(view, at)?;
    Some(Hover {
        contents: HoverContents::Markup(markup(&state.editor, &found.blocks)),
        range: Some(state.editor.encoding.range(view.source()?, found.span)),
    })
}

/// The blocks as the editor can show them.
pub(crate) fn markup(editor: &Editor, blocks: &[Block]) -> MarkupContent {
    if editor.markdown {
        MarkupContent { kind: MarkupKind::Markdown, value: markdown(blocks) }
    } else {
        MarkupContent { kind: MarkupKind::PlainText, value: plain(blocks) }
    }
}

/// The hints of a range.
pub(crate) fn hinted(state: &State, view: &View, range: Range) -> Option<Vec<InlayHint>> {
    let source = view.source()?;
    let encoding = state.editor.encoding;
    let set = state.settings;
    let wanted = hints::Wanted { units: set.hint_unit, bands: set.hint_limit, owed: set.hint_owed };
    let all = hints::hints(view, encoding.span(source, range), wanted).into_iter().map(|hint| InlayHint {
        position: encoding.position(source, hint.at),
        label: InlayHintLabel::String(hint.words),
        kind: None,
        text_edits: None,
        tooltip: (!hint.more.is_empty()).then_some(InlayHintTooltip::String(hint.more)),
        padding_left: Some(true),
        padding_right: None,
        data: None,
    });
    Some(all.collect())
}

/// The lenses of a file.
pub(crate) fn above(state: &State, uri: &Uri, view: &View) -> Option<Vec<CodeLens>> {
    let source = view.source()?;
    let all = lenses(view).into_iter().map(|lens| CodeLens {
        range: state.editor.encoding.range(source, lens.span),
        command: Some(command(uri, lens)),
        data: None,
    });
    Some(all.collect())
}

fn command(uri: &Uri, lens: Lens) -> Command {
    let (command, about) = match &lens.does {
        Does::RunCase(title) => (COMMANDS[0], title.as_str()),
        Does::RunCases(name) => (COMMANDS[1], name.as_str()),
        Does::CountWays(name) => (COMMANDS[2], name.as_str()),
        // Editors show a lens whose command is empty as words.
        Does::Nothing => ("", ""),
    };
    let arguments = (!command.is_empty()).then(|| {
        vec![json!({ "uri": uri.as_str(), "of": about, "command": lens.command.unwrap_or_default() })]
    });
    Command { title: lens.words, command: command.to_owned(), arguments }
}

/// Does what a lens says, and gives words for the person who pressed it, and whether all is well.
pub(crate) fn done(view: &View, command: &str, of: &str) -> Option<(bool, String)> {
    let now = time::OffsetDateTime::now_utc();
    let at = now.format(&time::format_description::well_known::Rfc3339).ok()?;
    let of = of.to_owned();
    let does = match command {
        "dwell.runCase" => Does::RunCase(of),
        "dwell.runCases" => Does::RunCases(of),
        "dwell.countWays" => {
            let words = count_ways(view, &of, &at);
            return Some((
                words.is_some(),
                words.unwrap_or_else(|| format!("{of} has no card: mend its errors first")),
            ));
        }
        _ => return None,
    };
    let outcomes = run_cases(view, &does, &at);
    let well = !outcomes.is_empty() && outcomes.iter().all(|outcome| outcome.as_it_says == Some(true));
    let lines = outcomes.iter().map(|outcome| format!("{}: {}", outcome.title, outcome.words));
    let words = lines.collect::<Vec<_>>().join("\n");
    Some((well, if words.is_empty() { "there is no such case any more".to_owned() } else { words }))
}

/// What a lens sends: the document, and what of it.
pub(crate) fn argument(arguments: &[Value]) -> Option<(Uri, String)> {
    let sent = arguments.first()?;
    let uri = sent.get("uri")?.as_str()?.parse().ok()?;
    Some((uri, sent.get("of")?.as_str()?.to_owned()))
}
