//! What is shown for the place under the pointer: an amount in other units, a band as a scale, a thing in a few lines, a rule's page,
//! a word of the language, the state of the vehicle.

use super::bands;
use super::block::Block;
use super::blocks;
use super::describe::{self, prose, title};
use super::keywords;
use super::under::{Zone, amount, under, zone};
use super::vehicle;
use super::view::View;
use dwell_check::model::{Item, Thing};
use dwell_check::rules;
use dwell_syntax::lex::{Lexed, TokenKind, lex};
use dwell_syntax::tree::{Procedure, Span, StatementKind};
use dwell_syntax::words::Word;

/// What is shown, and of what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hover {
    /// The token, or the number with its unit.
    pub span: Span,
    /// The blocks.
    pub blocks: Vec<Block>,
}

/// What is to be said of a byte; nothing on blanks, and where nothing is known. With the page of each rule that found
/// something there.
pub fn hover(view: &View, at: usize) -> Option<Hover> {
    let text = view.text();
    let at = text.floor_char_boundary(at);
    let lexed = lex(text);
    let place = under(&lexed, at).filter(|_| zone(text, at) == Zone::Code);
    let mut hover = match place {
        Some(place) => token(view, &lexed, place),
        None => {
            // In a text in quotes nothing is said but of what was found there.
            let inside = lexed.tokens.iter().find(|token| token.span.start < at && at < token.span.end)?;
            Hover { span: inside.span, blocks: Vec::new() }
        }
    };
    hover.blocks.extend(found(view, hover.span, at));
    (!hover.blocks.is_empty()).then_some(hover)
}

/// The pages of the rules that found something at a byte.
fn found(view: &View, span: Span, at: usize) -> Vec<Block> {
    let mut seen: Vec<&str> = Vec::new();
    let mut blocks = Vec::new();
    for finding in view.findings() {
        let place = finding.place.span;
        let here = place.start <= at && at <= place.end && (place.holds(span) || span.holds(place));
        if here && !seen.contains(&finding.rule) {
            seen.push(finding.rule);
            blocks.extend(page(finding.rule, false));
        }
    }
    blocks
}

/// The page of a rule: its heading, what it says, and with `whole` its examples too.
fn page(rule: &str, whole: bool) -> Vec<Block> {
    let Some(rule) = rules::named(rule) else { return Vec::new() };
    let mut blocks = Vec::new();
    let mut lines: Vec<&str> = Vec::new();
    let mut drawn = false;
    let mut flush = |lines: &mut Vec<&str>, drawn: bool| {
        let joined = if drawn { lines.join("\n") } else { without_marks(&lines.join(" ")) };
        if !joined.trim().is_empty() {
            blocks.push(if drawn { Block::Drawn(joined) } else { Block::Prose(joined) });
        }
        lines.clear();
        blocks.len()
    };
    let mut titles: Vec<(usize, String)> = Vec::new();
    let until = if whole { None } else { rule.page.find("\n## ") };
    for line in rule.page.get(..until.unwrap_or(rule.page.len())).unwrap_or_default().lines() {
        if line.starts_with("```") {
            flush(&mut lines, drawn);
            drawn = !drawn;
        } else if !drawn && line.starts_with('#') {
            let place = flush(&mut lines, false);
            titles.push((place + titles.len(), line.trim_start_matches('#').trim().to_owned()));
        } else if !drawn && line.is_empty() {
            flush(&mut lines, false);
        } else {
            lines.push(line);
        }
    }
    flush(&mut lines, drawn);
    for (place, heading) in titles {
        blocks.insert(place.min(blocks.len()), title(&heading));
    }
    blocks
}

/// A line of a page without its marks: `[rule](#rule)` is the rule.
fn without_marks(line: &str) -> String {
    let mut all = String::new();
    let mut rest = line;
    while let Some((before, after)) = rest.split_once('[') {
        all.push_str(before);
        match after.split_once("](").and_then(|(words, after)| Some((words, after.split_once(')')?.1))) {
            Some((words, after)) => {
                all.push_str(words);
                rest = after;
            }
            None => {
                all.push('[');
                rest = after;
            }
        }
    }
    all.push_str(rest);
    all.replace('`', "")
}

/// A token by what it is.
fn token(view: &View, lexed: &Lexed, place: usize) -> Hover {
    let text = view.text();
    let Some(token) = lexed.tokens.get(place) else {
        return Hover { span: Span::default(), blocks: Vec::new() };
    };
    let word = text.get(token.span.start..token.span.end).unwrap_or_default();
    let at = token.span.start;
    if let Some((number, unit, span)) = amount(lexed, place, text) {
        let band = bands::at(view, at).map(|written| describe::band(view, &written)).unwrap_or_default();
        let alone = if unit.is_some() || token.kind == TokenKind::Compound {
            describe::amount(number, unit)
        } else {
            None
        };
        return Hover { span, blocks: if band.is_empty() { alone.unwrap_or_default() } else { band } };
    }
    let blocks = match token.kind {
        TokenKind::Word | TokenKind::LineWord => self::word(view, lexed, place, word),
        TokenKind::PlusMinus | TokenKind::DotDot => {
            bands::at(view, at).map(|written| describe::band(view, &written)).unwrap_or_default()
        }
        TokenKind::OpenBrace | TokenKind::CloseBrace => state(view, token.span.end),
        _ => Vec::new(),
    };
    Hover { span: token.span, blocks }
}

/// The state of the vehicle at a byte, in a step.
fn state(view: &View, at: usize) -> Vec<Block> {
    vehicle::here(view, at).map(|here| vehicle::shown(&here)).unwrap_or_default()
}

/// The words of the tokens before one, the nearest first.
fn before<'t>(lexed: &'t Lexed, place: usize, text: &'t str) -> impl Iterator<Item = &'t str> {
    let tokens = lexed.tokens.get(..place).unwrap_or_default().iter().rev();
    tokens.map(move |token| text.get(token.span.start..token.span.end).unwrap_or_default())
}

fn word(view: &View, lexed: &Lexed, place: usize, word: &str) -> Vec<Block> {
    let text = view.text();
    let Some(token) = lexed.tokens.get(place) else { return Vec::new() };
    let at = token.span.start;
    let last = before(lexed, place, text).next().unwrap_or_default();
    if last == "waive" {
        return page(word, true);
    }
    let keyword = Word::of(word);
    let next = lexed.tokens.get(place + 1).and_then(|next| text.get(next.span.start..next.span.end));
    let procedure = blocks::procedure(view, at);
    let begins = procedure.is_some_and(|procedure| {
        blocks::statements(procedure).iter().any(|statement| statement.span.start == at)
    });
    // A verb with its item.
    if token.kind == TokenKind::LineWord
        && let Some(item) = next.and_then(|next| item(view, next))
        && (begins || !keyword.is_some_and(Word::begins_statement))
        && has_verb(view, item, word)
    {
        let mut blocks = describe::verb(view, word, item);
        blocks.extend(state(view, at));
        return blocks;
    }
    if let Some(keyword) = keyword.filter(|keyword| keyword.is_hard() || begins || names_nothing(view, word))
    {
        let mut blocks = vec![title(word), prose(keywords::line(keyword).replace('`', ""))];
        if begins {
            blocks.extend(state(view, at));
        }
        return blocks;
    }
    if let Some(blocks) = procedure.and_then(|procedure| local(view, procedure, word)) {
        return blocks;
    }
    if let Some(blocks) = value(view, lexed, place, word) {
        return blocks;
    }
    bands::thing(view, word).map(|thing| describe::thing(view, thing)).unwrap_or_default()
}

fn names_nothing(view: &View, word: &str) -> bool {
    bands::thing(view, word).is_none()
}

/// The item or tool of that name.
fn item<'v>(view: &'v View, name: &str) -> Option<&'v Item> {
    match bands::thing(view, name)? {
        Thing::Item(place) | Thing::Tool(place) => view.checked.model.items.get(place),
        _ => None,
    }
}

fn has_verb(view: &View, item: &Item, verb: &str) -> bool {
    let mut handlings =
        item.handlings.iter().filter_map(|handling| view.checked.model.handlings.get(*handling));
    handlings.any(|handling| handling.has_verb(verb))
}

/// A state after `is`, or the value of a variant.
fn value(view: &View, lexed: &Lexed, place: usize, word: &str) -> Option<Vec<Block>> {
    let text = view.text();
    let back: Vec<&str> = before(lexed, place, text).take(12).collect();
    let of = back.iter().position(|word| matches!(*word, "is" | "are")).and_then(|is| back.get(is + 1));
    let of = of.or(back.first()).copied()?;
    let known = |values: &[String]| values.iter().any(|value| value == word);
    match bands::thing(view, of)? {
        Thing::Item(item) | Thing::Tool(item) => {
            let item = view.checked.model.items.get(item)?;
            let mut handlings =
                item.handlings.iter().filter_map(|one| view.checked.model.handlings.get(*one));
            let handling = handlings.find(|handling| known(&handling.states))?;
            let says =
                format!("A state of the {} ({}): {}.", item.label, handling.name, handling.states.join(", "));
            Some(vec![title(word), prose(says)])
        }
        Thing::Variant(variant) => {
            let variant = view.checked.model.variants.get(variant)?;
            let says = format!("A value of {}: {}.", variant.name, variant.values.join(", "));
            known(&variant.values).then(|| vec![title(word), prose(says)])
        }
        _ => None,
    }
}

/// A reading, an answer or a step of the procedure.
fn local(view: &View, procedure: &Procedure, name: &str) -> Option<Vec<Block>> {
    if let Some(step) = blocks::steps(procedure).find(|step| step.name.text == name) {
        let says = step.title.as_ref().map(|title| format!(": {}", title.text)).unwrap_or_default();
        return Some(vec![title(name), prose(format!("A step{says}."))]);
    }
    let line = |span: Span| {
        let text = view.text().get(span.start..span.end)?;
        Some(text.lines().next().unwrap_or_default().trim().to_owned())
    };
    blocks::statements(procedure).into_iter().find_map(|statement| {
        let what = match &statement.kind {
            StatementKind::Measure(measure) if !measure.again => {
                let reading = measure.readings.iter().find(|reading| reading.name.text == name)?;
                let kind = reading.kind.as_ref().map_or(name, |kind| kind.text.as_str());
                format!("A reading of {kind}, measured here.")
            }
            StatementKind::Read { name: known, .. } if known.text == name => {
                "A reading that is read off.".to_owned()
            }
            StatementKind::Let { name: known, .. } if known.text == name => {
                "A value that is computed.".to_owned()
            }
            StatementKind::LetBand { name: known, .. } if known.text == name => {
                "A limit that is computed.".to_owned()
            }
            StatementKind::Choose { name: known, .. } if known.text == name => {
                "A size that is chosen.".to_owned()
            }
            StatementKind::Ask { name: known, text, answers } if known.text == name => {
                let answers: Vec<&str> = answers.iter().map(|answer| answer.text.as_str()).collect();
                let answers = if answers.is_empty() { "yes, no".to_owned() } else { answers.join(", ") };
                format!("A question: {} Answers: {answers}.", text.text)
            }
            _ => return None,
        };
        let mut blocks = vec![title(name), prose(what)];
        blocks.extend(line(statement.span).map(Block::Drawn));
        Some(blocks)
    })
}

#[cfg(test)]
mod tests;
