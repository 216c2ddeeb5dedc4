//! The shape of a text: outline, folds, enclosing ranges, colours.

use super::findings::uri_of;
use super::further::Files;
use super::positions::{Encoding, narrow};
use super::state::State;
use crate::ide::folding::{Folded, folding};
use crate::ide::selection::selection;
use crate::ide::symbols::{Entry, Symbol, search, symbols};
use crate::ide::tokens::{SemanticToken as Token, TokenType, tokens};
use crate::ide::{View, What};
use dwell_check::program::Content;
use tower_lsp::ls_types::*;

/// The outline: nested where the editor can show that.
pub(crate) fn outline(state: &State, uri: &Uri, content: &Content) -> DocumentSymbolResponse {
    let all = symbols(content);
    if state.editor.nested_symbols {
        let nested = all.iter().map(|symbol| nested(state.editor.encoding, content, symbol));
        return DocumentSymbolResponse::Nested(nested.collect());
    }
    let mut flat = Vec::new();
    for symbol in &all {
        flatten(state.editor.encoding, uri, content, symbol, None, &mut flat);
    }
    DocumentSymbolResponse::Flat(flat)
}

#[allow(deprecated)]
fn nested(encoding: Encoding, content: &Content, symbol: &Symbol) -> DocumentSymbol {
    let children: Vec<DocumentSymbol> =
        symbol.children.iter().map(|child| nested(encoding, content, child)).collect();
    DocumentSymbol {
        name: symbol.name.clone(),
        detail: (!symbol.detail.is_empty()).then(|| symbol.detail.clone()),
        kind: kind(symbol.entry),
        tags: None,
        deprecated: None,
        range: encoding.range(content, symbol.span),
        selection_range: encoding.range(content, symbol.name_span),
        children: (!children.is_empty()).then_some(children),
    }
}

#[allow(deprecated)]
fn flatten(
    encoding: Encoding,
    uri: &Uri,
    content: &Content,
    symbol: &Symbol,
    within: Option<&str>,
    flat: &mut Vec<SymbolInformation>,
) {
    flat.push(SymbolInformation {
        name: symbol.name.clone(),
        kind: kind(symbol.entry),
        tags: None,
        deprecated: None,
        location: Location { uri: uri.clone(), range: encoding.range(content, symbol.span) },
        container_name: within.map(str::to_owned),
    });
    for child in &symbol.children {
        flatten(encoding, uri, content, child, Some(&symbol.name), flat);
    }
}

/// Names of all files that fit.
#[allow(deprecated)]
pub(crate) fn found(state: &State, query: &str) -> Vec<SymbolInformation> {
    let files = Files::all(state);
    let contents = files.contents();
    let all = search(query, &contents).into_iter().filter_map(|found| {
        let (_, content) = contents.iter().find(|(path, _)| *path == found.path)?;
        Some(SymbolInformation {
            name: found.name,
            kind: kind(found.entry),
            tags: None,
            deprecated: None,
            location: Location {
                uri: uri_of(state, &found.path)?,
                range: state.editor.encoding.range(content, found.span),
            },
            container_name: (!found.within.is_empty()).then_some(found.within),
        })
    });
    all.collect()
}

/// The nearest of the protocol's kinds.
fn kind(entry: Entry) -> SymbolKind {
    match entry {
        Entry::Restore => SymbolKind::NAMESPACE,
        Entry::Case => SymbolKind::EVENT,
        Entry::Named(what) => match what {
            What::Procedure | What::Verb => SymbolKind::FUNCTION,
            What::Step => SymbolKind::NAMESPACE,
            What::Item | What::Tool => SymbolKind::CLASS,
            What::Handling => SymbolKind::INTERFACE,
            What::Spec | What::Table | What::Series => SymbolKind::CONSTANT,
            What::Quantity => SymbolKind::NUMBER,
            What::Variant | What::Positions => SymbolKind::ENUM,
            What::Hazard => SymbolKind::EVENT,
            What::File => SymbolKind::FILE,
            _ => SymbolKind::VARIABLE,
        },
    }
}

/// The folds.
pub(crate) fn folds(content: &Content) -> Vec<FoldingRange> {
    let all = folding(content).into_iter().map(|fold| FoldingRange {
        start_line: narrow(fold.first),
        end_line: narrow(fold.last),
        kind: match fold.what {
            Folded::Block => None,
            Folded::Comments => Some(FoldingRangeKind::Comment),
            Folded::Uses => Some(FoldingRangeKind::Imports),
        },
        ..FoldingRange::default()
    });
    all.collect()
}

/// What encloses a position, from the innermost outwards.
pub(crate) fn enclosing(encoding: Encoding, content: &Content, at: Position) -> SelectionRange {
    let spans = selection(content, encoding.offset(content, at));
    let mut whole: Option<SelectionRange> = None;
    for span in spans.into_iter().rev() {
        let range = encoding.range(content, span);
        whole = Some(SelectionRange { range, parent: whole.map(Box::new) });
    }
    whole.unwrap_or(SelectionRange { range: Range { start: at, end: at }, parent: None })
}

/// What the colours stand for.
pub(crate) fn legend() -> SemanticTokensLegend {
    SemanticTokensLegend {
        token_types: TokenType::ALL.iter().map(|token| colour(*token)).collect(),
        token_modifiers: vec![
            SemanticTokenModifier::DECLARATION,
            SemanticTokenModifier::READONLY,
            SemanticTokenModifier::DEFAULT_LIBRARY,
        ],
    }
}

fn colour(token: TokenType) -> SemanticTokenType {
    match token {
        TokenType::Namespace => SemanticTokenType::NAMESPACE,
        TokenType::Type => SemanticTokenType::TYPE,
        TokenType::Class => SemanticTokenType::CLASS,
        TokenType::Function => SemanticTokenType::FUNCTION,
        TokenType::Variable => SemanticTokenType::VARIABLE,
        TokenType::Property => SemanticTokenType::PROPERTY,
        TokenType::EnumMember => SemanticTokenType::ENUM_MEMBER,
        TokenType::Keyword => SemanticTokenType::KEYWORD,
        TokenType::Number => SemanticTokenType::NUMBER,
        TokenType::String => SemanticTokenType::STRING,
        TokenType::Comment => SemanticTokenType::COMMENT,
        TokenType::Operator => SemanticTokenType::OPERATOR,
    }
}

/// The colours of a range, or of everything: each token counted from the one before it.
pub(crate) fn colours(encoding: Encoding, view: &View, range: Option<Range>) -> Option<SemanticTokens> {
    let source = view.source()?;
    let within = range.map(|range| encoding.span(source, range));
    let wanted = |token: &Token| {
        within.is_none_or(|within| token.span.start < within.end && within.start < token.span.end)
    };
    let mut before = Position { line: 0, character: 0 };
    let mut data = Vec::new();
    for token in tokens(view).into_iter().filter(wanted) {
        let Range { start, end } = encoding.range(source, token.span);
        let new_line = start.line > before.line;
        data.push(SemanticToken {
            delta_line: start.line.saturating_sub(before.line),
            delta_start: if new_line {
                start.character
            } else {
                start.character.saturating_sub(before.character)
            },
            length: end.character.saturating_sub(start.character),
            token_type: narrow(
                TokenType::ALL.iter().position(|known| *known == token.token).unwrap_or_default(),
            ),
            token_modifiers_bitset: u32::from(token.modifiers.declaration)
                | u32::from(token.modifiers.readonly) << 1
                | u32::from(token.modifiers.default_library) << 2,
        });
        before = start;
    }
    Some(SemanticTokens { result_id: None, data })
}
