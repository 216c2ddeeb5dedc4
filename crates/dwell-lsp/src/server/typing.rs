//! What helps while typing: suggestions, and the shape of a statement.

use super::beside::markup;
use super::positions::narrow;
use super::state::State;
use crate::ide::View;
use crate::ide::block::Block;
use crate::ide::completion::{Sort, Suggestion, completion};
use crate::ide::signature::signature;
use dwell_check::program::Content;
use std::path::{Component, Path, PathBuf};
use tower_lsp::ls_types::*;

/// What can stand at a byte, as the editor can take it.
pub(crate) fn suggested(state: &State, view: &View, at: usize) -> Option<CompletionResponse> {
    let source = view.source()?;
    let all = completion(view, at, &|| beside(state, &view.path)).into_iter().enumerate();
    let items = all.map(|(place, one)| item(state, source, place, one)).collect();
    // The order follows from the state of the vehicle, which each letter may change: the list is asked for again.
    Some(CompletionResponse::List(CompletionList { is_incomplete: false, items }))
}

fn item(state: &State, source: &Content, place: usize, one: Suggestion) -> CompletionItem {
    let editor = &state.editor;
    let snippet = one.snippet.filter(|_| editor.snippets);
    let format = if snippet.is_some() { InsertTextFormat::SNIPPET } else { InsertTextFormat::PLAIN_TEXT };
    let edit =
        TextEdit { range: editor.encoding.range(source, one.span), new_text: snippet.unwrap_or(one.plain) };
    CompletionItem {
        label: one.label,
        kind: Some(kind(one.sort)),
        detail: (!one.detail.is_empty()).then_some(one.detail),
        documentation: (!one.doc.is_empty()).then(|| Documentation::MarkupContent(markup(editor, &one.doc))),
        sort_text: Some(format!("{place:05}")),
        insert_text_format: Some(format),
        text_edit: Some(CompletionTextEdit::Edit(edit)),
        ..CompletionItem::default()
    }
}

/// The nearest of the protocol's kinds.
fn kind(sort: Sort) -> CompletionItemKind {
    match sort {
        Sort::Action => CompletionItemKind::SNIPPET,
        Sort::Verb => CompletionItemKind::METHOD,
        Sort::Word => CompletionItemKind::KEYWORD,
        Sort::Item | Sort::Tool => CompletionItemKind::CLASS,
        Sort::Spec | Sort::Series => CompletionItemKind::CONSTANT,
        Sort::Quantity | Sort::Kind => CompletionItemKind::TYPE_PARAMETER,
        Sort::Handling => CompletionItemKind::INTERFACE,
        Sort::Hazard => CompletionItemKind::EVENT,
        Sort::Variant | Sort::Positions => CompletionItemKind::ENUM,
        Sort::Procedure => CompletionItemKind::FUNCTION,
        Sort::Step => CompletionItemKind::MODULE,
        Sort::Reading => CompletionItemKind::VARIABLE,
        Sort::Value => CompletionItemKind::ENUM_MEMBER,
        Sort::Unit => CompletionItemKind::UNIT,
        Sort::Rule => CompletionItemKind::REFERENCE,
        Sort::File => CompletionItemKind::FILE,
    }
}

/// The other files that are known, as `use` in this one would write them.
fn beside(state: &State, path: &str) -> Vec<String> {
    let Some(folder) = Path::new(path).parent().filter(|folder| folder.is_absolute()) else {
        return Vec::new();
    };
    let known = state.known().into_iter();
    let mut files: Vec<String> = known
        .filter(|other| *other != path && other.ends_with(".dwell") && Path::new(other).is_absolute())
        .map(|other| from(folder, Path::new(other)))
        .collect();
    files.sort();
    files
}

/// The way from a folder to a file, with `/` between.
fn from(folder: &Path, file: &Path) -> String {
    let ours: Vec<Component<'_>> = folder.components().collect();
    let theirs: Vec<Component<'_>> = file.components().collect();
    let same = ours.iter().zip(&theirs).take_while(|(one, other)| one == other).count();
    let up = std::iter::repeat_n(Component::ParentDir, ours.len().saturating_sub(same));
    let way: PathBuf = up.chain(theirs.into_iter().skip(same)).collect();
    super::disk::shown(&way)
}

/// The shape of the statement at a byte.
pub(crate) fn shape(state: &State, content: &Content, at: usize) -> Option<SignatureHelp> {
    let found = signature(&content.text, at)?;
    let units = |byte: usize| narrow(found.words.get(..byte).unwrap_or_default().encode_utf16().count());
    let parameters = found.parts.iter().map(|(start, end)| ParameterInformation {
        // Offsets of a label count UTF-16 units whatever was agreed for documents.
        label: ParameterLabel::LabelOffsets([units(*start), units(*end)]),
        documentation: None,
    });
    let parameters: Vec<ParameterInformation> = parameters.collect();
    let active = Some(narrow(found.active));
    let says = [Block::Prose(found.says.clone())];
    Some(SignatureHelp {
        signatures: vec![SignatureInformation {
            documentation: (!found.says.is_empty())
                .then(|| Documentation::MarkupContent(markup(&state.editor, &says))),
            label: found.words,
            parameters: Some(parameters),
            active_parameter: active,
        }],
        active_signature: Some(0),
        active_parameter: active,
    })
}

#[cfg(test)]
mod tests {
    use super::from;
    use std::path::Path;

    #[test]
    fn a_file_is_named_from_the_folder_of_the_one_that_uses_it() {
        let way = |file: &str| from(Path::new("/w/brakes"), Path::new(file));
        assert_eq!(way("/w/brakes/disc.dwell"), "disc.dwell");
        assert_eq!(way("/w/vehicle.dwell"), "../vehicle.dwell");
        assert_eq!(way("/w/engine/parts.dwell"), "../engine/parts.dwell");
    }
}
