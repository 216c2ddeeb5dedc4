//! The parser for editors takes what our own takes, and refuses what it refuses.

use std::fmt::Write as _;

use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::parse::parse;
use dwell_syntax::words::WORDS;

use super::reader::{Seen, read};
use super::texts;
use crate::recovery::damage::{self, Kind, Sound};

/// Of a hundred texts in which one thing is changed, how many both parsers must agree about.
const AGREE: f64 = 99.0;

fn seen(texts: &[&str]) -> Vec<Seen> {
    read(texts, &[], false)
}

/// The line of a place and what stands there.
fn line(text: &str, at: usize) -> String {
    let before = text.get(..at).unwrap_or(text);
    let number = before.matches('\n').count();
    format!("line {}: {}", number + 1, text.lines().nth(number).unwrap_or_default().trim())
}

#[test]
fn every_text_that_is_sound_is_read() {
    let sound = texts::sound();
    let all: Vec<&str> = sound.iter().map(|text| text.text.as_str()).collect();
    let mut wrong = String::new();
    for (text, seen) in sound.iter().zip(seen(&all)) {
        if let Some((start, _, what)) = seen.errors.first() {
            _ = writeln!(wrong, "{}: {what} in {}", text.at, line(&text.text, *start));
        }
    }
    assert!(wrong.is_empty(), "our own parser reads these:\n{wrong}");
}

/// What must be refused, one for each thing that the grammar says; each is refused by both parsers.
const FAULTS: &str = "tests/grammars/faults.txt";

#[test]
fn every_fault_of_the_list_is_refused() {
    let list = std::fs::read_to_string(crate::root().join(FAULTS)).expect("the list of faults");
    let faults: Vec<(&str, &str)> = list
        .split("\n---\n")
        .map(|fault| fault.split_once('\n').expect("a line that says what it is, then the text"))
        .collect();
    assert!(faults.len() >= 60, "only {} faults", faults.len());
    let texts: Vec<&str> = faults.iter().map(|(_, text)| *text).collect();
    for ((what, text), seen) in faults.iter().zip(seen(&texts)) {
        assert!(!parse(text).slips.is_empty(), "our own parser takes it: {what}\n{text}");
        assert!(!seen.errors.is_empty(), "the parser for editors takes it: {what}\n{text}");
    }
}

#[test]
fn both_parsers_agree_where_a_token_got_lost() {
    let files = damage::sound();
    let lost = damage::all(&files).into_iter().filter(|slip| slip.kind == Kind::Token);
    agree(sample(lost.map(|slip| changed(&files[slip.file], slip.start, slip.end, "")).collect(), 500));
}

#[test]
fn both_parsers_agree_where_a_line_ends() {
    let files = damage::sound();
    let mut all = Vec::new();
    for file in &files {
        for gap in lex(&file.text).tokens.windows(2) {
            let (start, end) = (gap[0].span.end, gap[1].span.start);
            let blank = file.text.get(start..end).unwrap_or_default();
            let instead: &[&str] = match blank {
                "" => &[" "],
                _ if blank.contains('#') => &[],
                _ if blank.contains('\n') => &[" ", "\n\n", "\r\n"],
                _ => &["\n", " # so\n", "\t\u{A0}", ""],
            };
            all.extend(instead.iter().map(|instead| changed(file, start, end, instead)));
        }
    }
    agree(sample(all, 600));
}

#[test]
fn both_parsers_agree_where_a_word_is_another() {
    let files = damage::sound();
    let mut all = Vec::new();
    let mut next = WORDS.iter().cycle();
    for file in &files {
        let tokens = lex(&file.text).tokens.into_iter();
        for token in tokens.filter(|token| matches!(token.kind, TokenKind::Word | TokenKind::LineWord)) {
            let word = next.next().map_or("", |word| word.text());
            all.push(changed(file, token.span.start, token.span.end, word));
            all.push(changed(file, token.span.start, token.span.end, "so-and-so"));
        }
    }
    agree(sample(all, 600));
}

/// A text with one change.
struct Changed {
    /// The file, and what was changed there.
    at: String,
    text: String,
    start: usize,
}

fn changed(file: &Sound, start: usize, end: usize, by: &str) -> Changed {
    let old = &file.text[start..end];
    let text = format!("{}{by}{}", &file.text[..start], &file.text[end..]);
    Changed { at: format!("{}: {by:?} for {old:?}: {}", file.path, line(&file.text, start)), text, start }
}

/// So many of them, evenly spread; ten times as many in the long mode.
fn sample(all: Vec<Changed>, most: usize) -> Vec<Changed> {
    let most = if std::env::var_os("DWELL_TESTS_LONG").is_some() { 10 * most } else { most };
    let step = (all.len() / most).max(1);
    all.into_iter().step_by(step).collect()
}

/// Both parsers take or refuse these; `DWELL_SLIPS=FILE` writes those of which they think differently.
fn agree(all: Vec<Changed>) {
    let texts: Vec<&str> = all.iter().map(|one| one.text.as_str()).collect();
    let (mut laxer, mut stricter) = (Vec::new(), Vec::new());
    let (mut near, mut found) = (0, 0);
    for (one, seen) in all.iter().zip(seen(&texts)) {
        match (parse(&one.text).slips.is_empty(), seen.errors.first()) {
            (false, None) => laxer.push(one.at.clone()),
            (true, Some((at, _, what))) => {
                stricter.push(format!("{} ({what}, {})", one.at, line(&one.text, *at)));
            }
            (false, Some((at, _, _))) => {
                found += 1;
                let between = one.text.get(one.start.min(*at)..one.start.max(*at)).unwrap_or_default();
                near += usize::from(between.matches('\n').count() <= 1);
            }
            (true, None) => {}
        }
    }
    let share = |part: usize, of: usize| {
        let whole = f64::from(u32::try_from(of.max(1)).expect("not so many"));
        100.0 * f64::from(u32::try_from(part).expect("not so many")) / whole
    };
    let agree = 100.0 - share(laxer.len() + stricter.len(), texts.len());
    let told = format!(
        "{} texts, {agree:.2} % agree; {:.1} % of what both find begins within a line\n{} are taken that should not be:\n{}\n\
         {} are refused that should not be:\n{}",
        texts.len(),
        share(near, found),
        laxer.len(),
        laxer.join("\n"),
        stricter.len(),
        stricter.join("\n"),
    );
    if let Some(path) = std::env::var_os("DWELL_SLIPS") {
        let mut file = std::fs::OpenOptions::new().append(true).create(true).open(path).expect("a file");
        std::io::Write::write_all(&mut file, format!("{told}\n\n").as_bytes())
            .expect("the list can be written");
    }
    assert!(texts.len() >= 500, "only {} texts", texts.len());
    assert!(agree >= AGREE && stricter.is_empty(), "{told}");
}
