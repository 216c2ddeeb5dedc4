//! The shape of a statement or a declaration, with the part marked that the cursor stands in.

use super::keywords;
use super::under::{Zone, zone};
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::words::Word;

/// The shape of a statement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signature {
    /// All of it: "wait TIME [since VERB ITEM] ["TEXT"]".
    pub words: String,
    /// Its parts, each with its first byte and the byte after the last.
    pub parts: Vec<(usize, usize)>,
    /// The part at the cursor.
    pub active: usize,
    /// What the statement is for.
    pub says: String,
}

/// A part of a shape: the words or signs that it begins with, and how it is written.
type Part = (&'static [&'static str], &'static str);

const TEXT: Part = (&["\""], "[\"TEXT\"]");
const WITH: Part = (&["with"], "[with TOOL]");
const OTHERWISE: Part = (&["otherwise"], "[otherwise [low|high|no reading] { … }]");
const KIND: Part = (&[":"], "[: KIND]");
const BRACES: Part = (&["{"], "{ … }");
const HANDLINGS: Part = (&[":"], ": HANDLING, …");
const TIMES: Part = (&["up"], "[up to N times]");

/// The parts of a statement or declaration that begins with this word, the word itself left out.
fn shape(word: &str) -> Option<&'static [Part]> {
    Some(match word {
        "measure" => &[
            (&[], "READING"),
            KIND,
            (&["again"], "[again]"),
            WITH,
            (&["at"], "[at PLACE]"),
            (&["after"], "[after TIME]"),
            (&["every"], "[every TIME]"),
            (&["averaging"], "[averaging TIME]"),
            (&["over"], "[over TIME]"),
            (&["times", "time"], "[N times]"),
            (&["take"], "[take mean|highest|lowest|spread|last]"),
            (&["until"], "[until CONDITION]"),
            TEXT,
        ],
        "read" => {
            &[(&[], "READING"), KIND, (&["from"], "from \"PLACE\""), (&["expected"], "[expected BAND]")]
        }
        "expect" => &[(&[], "CONDITION"), (&["proves"], "[proves ITEM is STATE]"), OTHERWISE],
        "adjust" => &[(&[], "READING"), (&["to"], "to SPEC"), TIMES, (&["by"], "by { … }"), OTHERWISE],
        "keep" => &[
            (&[], "ITEM STATE | QUANTITY"),
            (&["within"], "within BAND"),
            WITH,
            TEXT,
            (&["{"], "[{ … }]"),
            OTHERWISE,
        ],
        "wait" => &[(&[], "TIME"), (&["since"], "[since VERB ITEM]"), TEXT],
        "ask" => &[(&[], "ANSWER"), (&["\""], "\"QUESTION?\""), (&["one"], "[one of VALUE, …]")],
        "choose" => {
            &[(&[], "SIZE"), (&["from"], "from SERIES"), (&["nearest"], "nearest FORMULA"), OTHERWISE]
        }
        "let" => {
            &[(&[], "NAME"), KIND, (&["="], "= FORMULA | BAND"), (&["never"], "[never above|below LIMIT]")]
        }
        "do" => &[
            (&["\""], "\"TEXT\""),
            (&["brings"], "[brings HAZARD | ITEM is STATE, …]"),
            (&["zeroes"], "[zeroes TOOL]"),
        ],
        "perform" => &[(&[], "PROCEDURE | STEP"), OTHERWISE],
        "refer" => &[(&["to"], "to PROCEDURE"), TEXT],
        "back" => &[(&["to"], "to STEP"), TIMES, OTHERWISE],
        "on" => &[(&["to"], "to STEP")],
        "end" => &[(&[], "passed | failed | unfinished"), TEXT],
        "cause" => &[(&[], "ITEM"), TEXT],
        "waive" => &[(&[], "RULE"), (&["because"], "because \"REASON\"")],
        "note" => &[(&["\""], "\"TEXT\"")],
        "danger" | "warning" | "caution" | "notice" => &[(&[], "HAZARD"), TEXT],
        "if" => &[(&[], "CONDITION"), BRACES, (&["else"], "[else { … }]")],
        "for" => &[(&["each"], "each POSITIONS"), (&["where"], "[where CONDITION]"), BRACES],
        "procedure" => &[(&[], "NAME"), TEXT, BRACES],
        "step" => &[(&[], "NAME"), TEXT, (&["signed"], "[signed [twice]]"), BRACES],
        "applies" => &[(&["to"], "to VARIANT VALUE, …")],
        "revision" => &[(&[], "NUMBER"), (&["on"], "on DATE"), TEXT],
        "case" => &[(&["\""], "\"TITLE\""), (&["{"], "{ VARIANT VALUE  READING AMOUNT  ends OUTCOME }")],
        "item" => &[(&[], "NAME"), HANDLINGS, (&["at"], "[at each POSITIONS]"), TEXT, (&["{"], "[{ … }]")],
        "tool" => &[
            (&[], "NAME"),
            HANDLINGS,
            TEXT,
            (&["{"], "[{ measures KIND RANGE resolution AMOUNT accuracy ± AMOUNT }]"),
        ],
        "quantity" => {
            &[(&[], "NAME"), (&[":"], ": KIND"), (&["at"], "[at each POSITIONS]"), TEXT, (&["{"], "[{ … }]")]
        }
        "spec" => {
            &[(&[], "NAME"), (&[":"], ": KIND"), (&["{"], "{ check BAND  adjust BAND  source \"TEXT\" }")]
        }
        "table" => &[
            (&[], "NAME"),
            (&[":"], ": KIND"),
            (&["by"], "by KIND"),
            (&["{"], "{ at POINT: BAND  between rows linear  outside rows refuse }"),
        ],
        "series" => &[(&[], "NAME"), (&[":"], ": KIND RANGE"), (&["steps"], "steps of AMOUNT")],
        "hazard" => &[(&[], "NAME"), (&[":"], ": danger|warning|caution|notice"), TEXT],
        "variant" | "positions" => &[(&[], "NAME"), (&[":"], ": VALUE, …")],
        "handling" => &[(&[], "NAME"), (&["{"], "{ states NORMAL, …  VERB: STATE -> STATE }")],
        "measures" | "sets" => &[
            (&[], "KIND RANGE"),
            (&["resolution"], "[resolution AMOUNT]"),
            (&["accuracy"], "[accuracy ± AMOUNT | ± N % of reading | ± N digits]"),
            (&["needs"], "[needs ITEM is STATE, …]"),
        ],
        "check" => &[(&[], "BAND"), (&["target"], "[target AMOUNT]"), (&["when"], "[when VARIANT is VALUE]")],
        _ => return None,
    })
}

/// A verb with its item.
const HANDLE: &[Part] = &[
    (&[], "ITEM"),
    (&["to"], "[to LIMIT | ITEM]"),
    (&["at"], "[at each POSITIONS | at PLACE]"),
    (&["with"], "[with TOOL, …]"),
    TEXT,
];

/// The shape of what stands at a byte; nothing between statements, and in comments.
pub fn signature(text: &str, at: usize) -> Option<Signature> {
    let before = text.get(..at)?;
    if zone(text, at) == Zone::Comment {
        return None;
    }
    let lexed = lex(before);
    let words =
        |token: &dwell_syntax::lex::Token| before.get(token.span.start..token.span.end).unwrap_or_default();
    let heads = |token: &dwell_syntax::lex::Token| {
        token.kind == TokenKind::LineWord
            && Word::of(words(token))
                .is_none_or(|word| !word.is_hard() || matches!(word, Word::If | Word::For))
    };
    let head = lexed.tokens.iter().rposition(heads)?;
    let token = lexed.tokens.get(head)?;
    // The word itself is still being typed, or what stands behind it is closed already.
    let rest = lexed.tokens.get(head + 1..).unwrap_or_default();
    let braces = rest.iter().any(|token| matches!(token.kind, TokenKind::OpenBrace | TokenKind::CloseBrace));
    let blank_line = before.get(rest.last().unwrap_or(token).span.end..)?.contains('\n');
    if token.span.end == at || braces || blank_line {
        return None;
    }
    let word = words(token);
    let (parts, says) = match shape(word) {
        Some(parts) => (parts, Word::of(word).map_or("", keywords::line)),
        None if Word::of(word).is_none() => (HANDLE, "Something is done with a thing."),
        None => return None,
    };
    let mut active = 0;
    for token in rest {
        let word = words(token);
        let begins = |starts: &[&str]| {
            starts.iter().any(|start| word == *start || (*start == "\"" && word.starts_with('"')))
        };
        active = parts.iter().position(|(starts, _)| begins(starts)).unwrap_or(active);
    }
    if let Zone::Text(_) = zone(text, at) {
        active = parts.iter().position(|(starts, _)| starts.contains(&"\"")).unwrap_or(active);
    }
    let mut all = word.to_owned();
    let mut places = Vec::new();
    for (_, written) in parts {
        if !written.starts_with(':') {
            all.push(' ');
        }
        places.push((all.len(), all.len() + written.len()));
        all.push_str(written);
    }
    Some(Signature { words: all, parts: places, active, says: says.replace('`', "") })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> String {
        let at = text.find('‸').unwrap();
        let text = text.replacen('‸', "", 1);
        signature(&text, at).map_or_else(
            || "nothing".to_owned(),
            |found| {
                let (from, to) = found.parts[found.active];
                let cut = |from, to| found.words.get(from..to).unwrap_or_default();
                format!("{}‹{}›{}", cut(0, from), cut(from, to), cut(to, found.words.len()))
            },
        )
    }

    #[test]
    fn the_part_at_the_cursor_is_marked() {
        assert_eq!(at("step s \"é°\" {\n  wait ‸"), "wait ‹TIME› [since VERB ITEM] [\"TEXT\"]");
        assert_eq!(at("  wait 2 min since ‸"), "wait TIME ‹[since VERB ITEM]› [\"TEXT\"]");
        assert_eq!(at("  wait 2 min \"µ‸"), "wait TIME [since VERB ITEM] ‹[\"TEXT\"]›");
        assert!(at("  measure a: force with ‸").contains("‹[with TOOL]›"));
        assert!(at("  adjust a to ‸").contains("‹to SPEC›"));
        assert!(at("item a: ‸").starts_with("item NAME‹: HANDLING, …›"));
        assert!(at("  tighten bolt to ‸ with wrench").starts_with("tighten ITEM ‹[to LIMIT | ITEM]›"));
        assert!(at("  otherwise { choose x from ‸").contains("‹from SERIES›"));
    }

    #[test]
    fn nothing_where_nothing_is_being_written() {
        assert_eq!(at("  # wait ‸"), "nothing");
        assert_eq!(at("  wait‸"), "nothing");
        assert_eq!(at("  wait 2 min\n  ‸"), "nothing");
        assert_eq!(at("step s { ‸"), "nothing");
        assert_eq!(at("‸"), "nothing");
    }
}
