//! What can stand at the cursor, the likeliest first: what can be done with the vehicle as it is there, and what the grammar waits for.
//!
//! It works on what stands before the cursor, which need not be finished. The grammar itself says which words, names and amounts
//! could stand there; what kind of name is meant follows from the word before.

mod actions;
mod context;
mod names;
#[cfg(test)]
mod tests;
mod units;

use super::block::{Block, plain};
use super::describe::prose;
use super::keywords;
use super::under::{Zone, zone};
use super::view::View;
use context::Context;
use dwell_syntax::parse::Label;
use dwell_syntax::tree::Span;
use dwell_syntax::words::{Group, Word};

/// What a suggestion is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Sort {
    /// A verb with its item, possible here.
    Action,
    Verb,
    Word,
    Item,
    Tool,
    Spec,
    Quantity,
    Kind,
    Handling,
    Hazard,
    Variant,
    Positions,
    Series,
    Procedure,
    Step,
    Reading,
    Value,
    Unit,
    Rule,
    File,
}

/// Something that can stand at the cursor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suggestion {
    /// What is shown, and held against what was typed.
    pub label: String,
    /// What it is.
    pub sort: Sort,
    /// A few words beside it; may be empty.
    pub detail: String,
    /// What more is to be said.
    pub doc: Vec<Block>,
    /// What it replaces: the word that is being typed.
    pub span: Span,
    /// What is put there.
    pub plain: String,
    /// The same with places to fill in, as the Language Server Protocol writes a snippet: `${1:name}`, and `$`, `}`, `\` escaped; none
    /// where there is nothing to fill in.
    pub snippet: Option<String>,
    /// Its place in the order; lower comes first, equals by their labels.
    pub rank: u32,
}

/// All that can stand at a byte. `files` gives the paths that `use` could name, as they would be written there; there may be
/// thousands of them, so they are asked for only where they are wanted.
pub fn completion(view: &View, at: usize, files: &dyn Fn() -> Vec<String>) -> Vec<Suggestion> {
    let text = view.text();
    let at = text.floor_char_boundary(at);
    let mut found = match zone(text, at) {
        Zone::Comment => Vec::new(),
        Zone::Text(from) => in_text(view, from, at, files),
        Zone::Code => in_code(view, at),
    };
    found.sort_by(|one, other| (one.rank, &one.label).cmp(&(other.rank, &other.label)));
    let mut seen = std::collections::HashSet::new();
    found.retain(|one| seen.insert((one.label.clone(), one.plain.clone())));
    found
}

/// A suggestion of a name.
fn name(label: &str, sort: Sort, span: Span, rank: u32) -> Suggestion {
    let label = label.to_owned();
    let plain = label.clone();
    Suggestion { label, sort, detail: String::new(), doc: Vec::new(), span, plain, snippet: None, rank }
}

/// Between quotes: the path of a file after `use`, a name between braces.
fn in_text(view: &View, from: usize, at: usize, files: &dyn Fn() -> Vec<String>) -> Vec<Suggestion> {
    let text = view.text();
    let before = text.get(..from.saturating_sub(1)).unwrap_or_default();
    let typed = text.get(from..at).unwrap_or_default();
    if before.trim_end().ends_with("use") && before.len() > before.trim_end().len() {
        let rest = text.get(at..).unwrap_or_default();
        let end = rest.find(['"', '\n', '\r']).map_or(text.len(), |end| at + end);
        return files().iter().map(|file| name(file, Sort::File, Span::new(from, end), 0)).collect();
    }
    let Some(open) =
        typed.rfind('{').filter(|open| !typed.get(*open..).is_some_and(|rest| rest.contains('}')))
    else {
        return Vec::new();
    };
    let start = from + open + 1;
    let end = at
        + text.get(at..).unwrap_or_default().chars().take_while(in_name).map(char::len_utf8).sum::<usize>();
    names::shown_in_texts(view, at, Span::new(start, end))
}

fn in_name(letter: &char) -> bool {
    letter.is_alphanumeric() || *letter == '-'
}

fn in_code(view: &View, at: usize) -> Vec<Suggestion> {
    let text = view.text();
    if let Some(units) = units::after_number(view, at) {
        return units;
    }
    let before = text.get(..at).unwrap_or_default();
    let typed: usize = before.chars().rev().take_while(in_name).map(char::len_utf8).sum();
    let start = at - typed;
    let first = before.get(start..).and_then(|typed| typed.chars().next());
    if first.is_some_and(|first| first.is_ascii_digit() || first == '-') {
        return Vec::new();
    }
    let rest = text.get(at..).unwrap_or_default();
    let end = at + rest.chars().take_while(in_name).map(char::len_utf8).sum::<usize>();
    let context = Context::of(text, start, Span::new(start, end));
    let mut found = words(&context);
    for wants in context.wants() {
        found.extend(names::wanted(view, &context, &wants));
    }
    if context.first && context.ahead.has(Label::Statement) && context.in_block() {
        found.extend(actions::actions(view, start, context.span));
    }
    if context.ahead.has(Label::ItemOnLine) {
        found.extend(actions::items_of(view, start, context.word_before(0), context.span));
    }
    found
}

/// The words of the language that could stand there.
fn words(context: &Context) -> Vec<Suggestion> {
    let begins = |word: Word| word.begins_statement() || word.begins_part() || word.begins_declaration();
    let fits = |word: &Word| {
        if context.first {
            // What goes on with the statement above is possible, but not what is meant on a new line.
            let other =
                matches!(word.group(), Group::Clause | Group::Fold) && context.ahead.has(Label::Statement);
            let line = context.ahead.has(Label::Line) && !context.line_can_be(*word);
            return !other
                && !line
                && (!word.is_hard()
                    || begins(*word)
                    || matches!(word, Word::Otherwise | Word::Else | Word::At | Word::By | Word::Not));
        }
        !(begins(*word)
            && (context.ahead.has(Label::Statement)
                || context.ahead.has(Label::Part)
                || context.ahead.has(Label::Declaration)))
            && !(word.group() == Group::Line && context.ahead.has(Label::Line) && !context.after_brace())
    };
    // Only a case can end so by itself.
    let referred = |word: &Word| *word != Word::Referred || context.header() == "case";
    let words = context.ahead.words().filter(fits).filter(referred);
    words
        .map(|word| {
            let doc = vec![prose(keywords::line(word).replace('`', ""))];
            let snippet = template(word).filter(|_| context.first);
            let detail = plain(&doc);
            Suggestion {
                snippet: snippet.map(str::to_owned),
                doc,
                detail,
                ..name(word.text(), Sort::Word, context.span, 20)
            }
        })
        .collect()
}

/// A statement or declaration with places to fill in.
fn template(word: Word) -> Option<&'static str> {
    Some(match word {
        Word::Measure => "measure ${1:reading}: ${2:kind} with ${3:tool}",
        Word::Read => "read ${1:reading}: ${2:kind} from \"${3:where}\"",
        Word::Expect => "expect ${1:reading} meets ${2:spec}\notherwise { ${3:end failed \"${4:why}\"} }",
        Word::Adjust => {
            "adjust ${1:reading} to ${2:spec} up to ${3:5} times by {\n\t$4\n}\notherwise { end failed \"${5:why}\" }"
        }
        Word::If => "if ${1:condition} {\n\t$2\n}",
        Word::For => "for each ${1:positions} {\n\t$2\n}",
        Word::Ask => "ask ${1:answer} \"${2:question}?\" one of ${3:values}",
        Word::Wait => "wait ${1:2 min}",
        Word::Perform => "perform ${1:procedure}",
        Word::Refer => "refer to ${1:procedure}",
        Word::Back => "back to ${1:step} up to ${2:3} times",
        Word::On => "on to ${1:step}",
        Word::End => "end ${1|passed,failed,unfinished|} \"${2:why}\"",
        Word::Cause => "cause ${1:item} \"${2:why}\"",
        Word::Choose => "choose ${1:size} from ${2:series} nearest ${3:formula}",
        Word::Let => "let ${1:name}: ${2:kind} = ${3:formula}",
        Word::Do => "do \"${1:what}\"",
        Word::Note => "note \"${1:text}\"",
        Word::Keep => "keep ${1:item} ${2:state}",
        Word::Waive => "waive ${1:rule} because \"${2:reason}\"",
        Word::Otherwise => "otherwise {\n\t$1\n}",
        Word::Step => "step ${1:name} \"${2:title}\" {\n\t$3\n}",
        Word::Restore => "restore {\n\t$1\n}",
        Word::Needs => "needs {\n\t$1\n}",
        Word::Case => "case \"${1:title}\" {\n\t$2\n\tends ${3|passed,failed,unfinished,referred|}\n}",
        Word::Revision => "revision ${1:1} on ${2:date} \"${3:why}\"",
        Word::Applies => "applies to ${1:variant} ${2:values}",
        Word::Procedure => {
            "procedure ${1:name} \"${2:title}\" {\n\tstep ${3:name} \"${4:title}\" {\n\t\t$5\n\t}\n}"
        }
        Word::Item => "item ${1:name}: ${2:handling} \"${3:label}\"",
        Word::Tool => {
            "tool ${1:name}: ${2:handling} \"${3:label}\" { measures ${4:kind} ${5:range} resolution ${6:step} accuracy ± ${7:accuracy} }"
        }
        Word::Spec => "spec ${1:name}: ${2:kind} {\n\tcheck ${3:band}\n\tsource \"${4:where}\"\n}",
        Word::Quantity => "quantity ${1:name}: ${2:kind} \"${3:what}\"",
        Word::Hazard => "hazard ${1:name}: ${2|danger,warning,caution,notice|} \"${3:caution}\"",
        Word::Variant => "variant ${1:name}: ${2:values}",
        Word::Positions => "positions ${1:name}: ${2:values}",
        Word::Use => "use \"${1:file}\"",
        _ => return None,
    })
}
