//! The TextMate grammar: written from what `grammar/textmate/dwell.json` says and the words and units of the program, and every
//! text of the project cut into tokens with it by the library that Visual Studio Code uses.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::words::{WORDS, Word};
use serde_json::Value;

use super::reader::read;
use super::texts;
use super::words::{by_group, units, written};
use crate::program::reporting::answer;
use crate::recovery::pieces::pieces;

const TEMPLATE: &str = "grammar/textmate/dwell.json";
const GRAMMAR: &str = "editors/vscode/syntaxes/dwell.tmLanguage.json";

/// Of a hundred words of the language, how many must be coloured as such, and of a hundred names, how many must not.
const RIGHT: f64 = 99.5;

fn template() -> Value {
    let text = std::fs::read_to_string(crate::root().join(TEMPLATE)).expect("the template is there");
    serde_json::from_str(&text).expect("the template is JSON")
}

/// What the names between two braces stand for.
fn meanings(template: &Value) -> BTreeMap<String, String> {
    let letter = r"[\p{L}\p{N}]";
    let name = format!(r"\p{{L}}{letter}*(?:-{letter}+)*(?!{letter})");
    let ends = format!(r"(?!{letter}|_|-{letter})");
    let any = |words: &[&str]| format!("(?:{}){ends}", words.join("|"));
    let mut all = BTreeMap::new();
    for (group, words) in by_group() {
        let words: Vec<&str> = words.into_iter().map(Word::text).collect();
        all.extend(words.iter().map(|word| ((*word).to_owned(), any(&[word]))));
        all.insert(group.to_owned(), any(&words));
    }
    for (list, words) in template["lists"].as_object().expect("lists") {
        let words: Vec<&str> =
            words.as_array().expect("a list").iter().map(|word| word.as_str().expect("a word")).collect();
        let odd: Vec<&&str> = words.iter().filter(|word| Word::of(word).is_none()).collect();
        assert!(odd.is_empty(), "{TEMPLATE}: {list} has {odd:?}, which are no words of the language");
        all.insert(list.clone(), any(&words));
    }
    let declaration = all["declaration"].clone();
    all.insert("END".to_owned(), format!("^(?={declaration})"));
    all.insert("<".to_owned(), r"(?<![\p{L}\p{N}_-])".to_owned());
    all.insert("NAME".to_owned(), name);
    all.insert("NUMBER".to_owned(), r"[-+]?\d+(?:\.\d+|(?:[ \t]+\d+)?/\d+)?".to_owned());
    all.insert("UNIT".to_owned(), unit());
    all
}

/// Any unit, the longest first, where it ends as our own lexer lets it end.
fn unit() -> String {
    let mut spellings: Vec<String> = units().into_iter().map(escaped).collect();
    spellings.sort_by_key(|spelling| std::cmp::Reverse(spelling.chars().count()));
    format!(r"(?:{})(?![\p{{L}}\p{{N}}_]|[-/*·^][\p{{L}}\p{{N}}]|\.\p{{L}})", spellings.join("|"))
}

/// A spelling as a pattern; a character that has a twin stands for both.
fn escaped(spelling: &str) -> String {
    let mut pattern = String::new();
    for c in spelling.chars() {
        match c {
            'µ' => pattern.push_str("[µμ]"),
            'Ω' => pattern.push_str("[ΩΩ]"),
            '·' => pattern.push_str("[·⋅∙]"),
            ' ' => pattern.push_str("[ \\t\u{A0}\u{202F}]+"),
            '(' | ')' | '.' | '*' | '^' | '/' | '+' | '?' | '[' | ']' | '$' => {
                pattern.push('\\');
                pattern.push(c);
            }
            c => pattern.push(c),
        }
    }
    pattern
}

/// A pattern with what stands between its braces written out.
fn expanded(pattern: &str, meanings: &BTreeMap<String, String>) -> String {
    let mut out = String::new();
    let mut rest = pattern;
    while let Some((before, after)) = rest.split_once("{{") {
        let (name, after) =
            after.split_once("}}").unwrap_or_else(|| panic!("{pattern}: a brace is not closed"));
        let meaning = meanings.get(name).unwrap_or_else(|| panic!("{pattern}: {name:?} means nothing"));
        out.push_str(before);
        out.push_str(meaning);
        rest = after;
    }
    out + rest
}

fn expand(value: &Value, meanings: &BTreeMap<String, String>) -> Value {
    match value {
        Value::String(text) => Value::String(expanded(text, meanings)),
        Value::Array(all) => all.iter().map(|one| expand(one, meanings)).collect(),
        Value::Object(all) => {
            Value::Object(all.iter().map(|(key, one)| (key.clone(), expand(one, meanings))).collect())
        }
        other => other.clone(),
    }
}

fn grammar() -> Value {
    let template = template();
    expand(&template["grammar"], &meanings(&template))
}

#[test]
fn the_grammar_is_written_from_its_template() {
    written(GRAMMAR, &(serde_json::to_string_pretty(&grammar()).expect("JSON") + "\n"));
}

#[test]
fn the_grammar_has_every_word() {
    fn words(value: &Value, found: &mut BTreeSet<String>) {
        match value {
            Value::String(text) => {
                found.extend(text.split(|c: char| !c.is_ascii_lowercase()).map(str::to_owned));
            }
            Value::Array(all) => all.iter().for_each(|one| words(one, found)),
            Value::Object(all) => all.values().for_each(|one| words(one, found)),
            _ => {}
        }
    }
    let mut found = BTreeSet::new();
    words(&grammar(), &mut found);
    let missing: Vec<&str> =
        WORDS.iter().map(|word| word.text()).filter(|word| !found.contains(*word)).collect();
    assert!(missing.is_empty(), "{TEMPLATE} colours no {missing:?}");
}

/// A token of one line of a text: its bytes and what it is called, the innermost last.
struct Token {
    end: usize,
    scopes: Vec<String>,
}

/// A token as the library tells it: its line from 0, where it begins and ends there, and its scopes.
type Cut = (usize, usize, usize, Vec<String>);

/// Where the library is, with Node.js; said where it is not.
pub(super) fn modules() -> Option<String> {
    let modules = std::env::var("DWELL_TEXTMATE").ok();
    if modules.is_none() {
        use std::io::Write as _;
        _ = writeln!(std::io::stderr(), "skipped: `tests/run` installs the TextMate library where npm is");
    }
    modules
}

/// The tokens of texts, or nothing where the library is not there.
fn tokens(texts: &[&str]) -> Option<Vec<Vec<Token>>> {
    let modules = modules()?;
    let path = |path: &str| crate::root().join(path).display().to_string();
    let asked = serde_json::to_string(texts).expect("JSON");
    let arguments = [path("tests/grammars/tokens.mjs"), modules, path(GRAMMAR)];
    let answers = answer("node", &arguments.each_ref().map(String::as_str), &asked);
    let answers: Vec<Vec<Cut>> = serde_json::from_str(&answers).expect("JSON");
    Some(texts.iter().zip(answers).map(|(text, found)| placed(text, found)).collect())
}

/// Lines and columns of UTF-16 as bytes.
fn placed(text: &str, found: Vec<Cut>) -> Vec<Token> {
    let mut starts = vec![0];
    let bytes = text.as_bytes();
    for (at, byte) in bytes.iter().enumerate() {
        if *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n')) {
            starts.push(at + 1);
        }
    }
    let byte = |line: usize, column: usize| {
        let line = &text[starts[line]..];
        let mut units = 0;
        line.char_indices().find_map(|(at, c)| {
            let here = units >= column;
            units += c.len_utf16();
            here.then_some(at)
        })
    };
    let place =
        |line: usize, column: usize| starts[line] + byte(line, column).unwrap_or(text.len() - starts[line]);
    found.into_iter().map(|(line, _, end, scopes)| Token { end: place(line, end), scopes }).collect()
}

/// What the innermost of these scopes says: a word of the language, a name and so on.
fn said(scopes: &[String]) -> &'static str {
    let Some(last) = scopes.last() else { return "" };
    let begins = |heads: &[&str]| heads.iter().any(|head| last.starts_with(head));
    match () {
        () if begins(&["keyword.other.unit"]) => "unit",
        () if begins(&["keyword.operator.word"]) => "word",
        () if begins(&["keyword.operator", "punctuation.separator", "punctuation.section"]) => "sign",
        () if begins(&["keyword", "storage", "support.function", "constant.language"]) => "word",
        () if begins(&["constant.numeric", "constant.other.date"]) => "number",
        () if scopes.iter().any(|scope| scope.starts_with("string")) => "text",
        () if begins(&["entity", "variable", "source"]) => "name",
        () => "other",
    }
}

/// A text, what stands in it, and what it is called there; the last place where it stands counts.
const CALLED: [(&str, &str, &str); 24] = [
    ("# a \"note\"", "note", "comment.line.number-sign.dwell"),
    ("use \"a.dwell\"", "use", "keyword.control.import.dwell"),
    ("item a: b \"say \\\"so\\\" now\"", "\\\"", "constant.character.escape.dwell"),
    ("item a: b \"say \\\"so\\\" now\"", "now", "string.quoted.double.dwell"),
    ("item a: b \"a \\n\"", "\\n", "invalid.illegal.escape.dwell"),
    ("procedure p { note \"{gap} # no comment\" }", "{gap}", "constant.other.placeholder.dwell"),
    ("procedure p { note \"{gap} # no comment\" }", "comment", "string.quoted.double.dwell"),
    ("procedure p { note \"not closed\n    remove cap\n}", "remove", "entity.name.function.verb.dwell"),
    ("procedure p {\n    step s {\nspec t: k { check 5 mm }", "t", "variable.other.constant.dwell"),
    ("spec t: k {\n    check 5 mm\nprocedure q \"Q\" {", "q", "entity.name.function.procedure.dwell"),
    ("procedure p { step s \"S\" { } }", "s", "entity.name.function.step.dwell"),
    ("procedure p { step s { measure torque: torque with tool } }", "torque", "source.dwell"),
    ("procedure p { step s { measure torque: torque with tool } }", "tool", "source.dwell"),
    ("procedure p { step s {\n measure gap 3 times } }", "times", "keyword.control.loop.dwell"),
    ("procedure p { step s {\n turn turn\n } }", "turn", "source.dwell"),
    ("procedure p { step s {\n wait 5 turn\n } }", "turn", "keyword.other.unit.dwell"),
    ("spec t: k { check 20 ± 2 N·m }", "N·m", "keyword.other.unit.dwell"),
    ("spec t: k { check 20 ± 2 N⋅m }", "N⋅m", "keyword.other.unit.dwell"),
    ("spec t: k { check 20 parsec }", "parsec", "source.dwell"),
    ("spec t: k { check 2 1/4 in }", "2 1/4", "constant.numeric.dwell"),
    ("spec t: k { check -0° 30′ .. 1° }", "-0° 30′", "constant.numeric.compound.dwell"),
    ("procedure p { revision 1 on 2031-02-11 }", "2031-02-11", "constant.other.date.dwell"),
    ("procedure p { step s { end failed } }", "failed", "constant.language.outcome.dwell"),
    ("procedure p { case \"c\" { failed yes  ends failed } }", "failed", "constant.language.outcome.dwell"),
];

#[test]
fn what_stands_there_is_called_what_it_is() {
    let texts: Vec<&str> = CALLED.iter().map(|(text, _, _)| *text).collect();
    let Some(cut) = tokens(&texts) else { return };
    for ((text, part, scope), tokens) in CALLED.iter().zip(cut) {
        let start = text.rfind(part).expect("it stands there");
        let at = tokens.partition_point(|token| token.end <= start);
        let own = tokens[at].scopes.iter().rfind(|scope| !scope.starts_with("meta"));
        assert_eq!(own.map(String::as_str), Some(*scope), "{part:?} in {text:?}");
    }
}

/// What the parser for editors takes for a verb or the name of a procedure or step is coloured as one here too.
#[test]
fn both_grammars_colour_the_same_verbs() {
    let sound = texts::sound();
    let all: Vec<&str> = sound.iter().map(|text| text.text.as_str()).collect();
    let Some(cut) = tokens(&all) else { return };
    let mut count = 0;
    for ((text, tokens), seen) in sound.iter().zip(cut).zip(read(&all, &["highlights"], false)) {
        for verb in
            seen.captures["highlights"].iter().filter(|it| matches!(it.name.as_str(), "function" | "label"))
        {
            count += 1;
            let at = tokens.partition_point(|token| token.end <= verb.start);
            let own = tokens[at].scopes.last().map_or("", String::as_str);
            let name = &text.text[verb.start..verb.end];
            let used = text.text[..verb.start].trim_end().ends_with(" to");
            assert!(own.starts_with("entity.name.function") || used, "{}: {name:?} is {own:?}", text.at);
        }
    }
    assert!(count > 1500, "only {count} verbs");
}

#[test]
fn words_names_numbers_units_and_texts_are_told_apart() {
    let sound = texts::sound();
    let all: Vec<&str> = sound.iter().map(|text| text.text.as_str()).collect();
    let Some(cut) = tokens(&all) else { return };
    let mut wrong = String::new();
    let (mut count, mut mistakes) = (BTreeMap::new(), BTreeMap::new());
    for (text, tokens) in sound.iter().zip(cut) {
        let names = pieces(&text.text).names;
        for token in lex(&text.text).tokens {
            let (start, end) = (token.span.start, token.span.end);
            let own = &text.text[start..end];
            let at = tokens.partition_point(|token| token.end <= start);
            let Some(found) = tokens.get(at) else { continue };
            let colour = said(&found.scopes);
            let outcome = found.scopes.last().is_some_and(|scope| scope.starts_with("constant.language"));
            let nothing = text.text[start..].starts_with("no reading");
            let expected = match token.kind {
                TokenKind::Word | TokenKind::LineWord => {
                    let word = Word::of(own).is_some() && (outcome || nothing || !names.contains(&start));
                    if word { "word" } else { "name" }
                }
                TokenKind::Str | TokenKind::LineStr => "text",
                TokenKind::Number | TokenKind::Compound | TokenKind::Date => "number",
                TokenKind::Unit if Word::of(own).is_some() && colour == "word" => "word",
                TokenKind::Unit => "unit",
                _ => "sign",
            };
            *count.entry(expected).or_insert(0_u32) += 1;
            if colour != expected {
                *mistakes.entry(expected).or_insert(0_u32) += 1;
                let line = text.text[..start].matches('\n').count();
                let shown = text.text.lines().nth(line).unwrap_or_default().trim();
                _ = writeln!(
                    wrong,
                    "{}:{}: {own:?} is {colour:?}, not {expected:?}: {shown}",
                    text.at,
                    line + 1
                );
            }
        }
    }
    if let Some(path) = std::env::var_os("DWELL_COLOURS") {
        std::fs::write(path, format!("{count:?}\n{mistakes:?}\n{wrong}")).expect("the list can be written");
    }
    for (kind, count) in count {
        let right = 100.0 - 100.0 * f64::from(mistakes.get(kind).copied().unwrap_or(0)) / f64::from(count);
        assert!(count > 500 && right >= RIGHT, "{kind}: {right:.2} % of {count}\n{wrong}");
    }
}
