//! The files of the library cut off after a character, and with one of their tokens lost: many places, evenly spread.

use dwell_syntax::lex::lex;

use super::invariants::{reads, survives};
use super::watch;
use crate::merle::Merle;

/// A damaged file: its path, what was done to it, its text.
struct Damaged {
    path: String,
    what: String,
    text: String,
}

fn part(text: &str, start: usize, end: usize) -> String {
    text.get(start..end).expect("a place between characters").to_owned()
}

fn cut(path: &str, text: &str, end: usize) -> Damaged {
    Damaged { path: path.to_owned(), what: format!("cut off at byte {end}"), text: part(text, 0, end) }
}

fn name(damaged: &Damaged) -> String {
    format!("{} {}", damaged.path, damaged.what)
}

/// At most so many of these, evenly spread; ten times as many with `DWELL_TESTS_LONG=1`.
fn spread(all: Vec<Damaged>, most: usize) -> Vec<Damaged> {
    let long = std::env::var_os("DWELL_TESTS_LONG").is_some_and(|value| value == "1");
    let most = if long { most * 10 } else { most };
    let step = all.len().div_ceil(most).max(1);
    all.into_iter().step_by(step).collect()
}

#[test]
fn a_file_cut_off_after_any_character_is_read_and_set() {
    let mut inputs = Vec::new();
    for (path, text) in &Merle::read().files {
        inputs.extend(text.char_indices().map(|(end, _)| cut(path, text, end)));
    }
    watch::all(spread(inputs, 6000), name, |input| reads(&input.text));
}

// Checking takes longest, so it is tried after every token; blanks after a token change nothing, and a part of a token is
// another token or none.
#[test]
fn a_file_cut_off_after_any_token_is_checked() {
    let library = Merle::read();
    let mut inputs = Vec::new();
    for (path, text) in &library.files {
        inputs.extend(lex(text).tokens.iter().map(|token| cut(path, text, token.span.end)));
    }
    watch::all(spread(inputs, 600), name, move |input| drop(survives(&library, &input.path, &input.text)));
}

#[test]
fn a_file_with_any_token_lost_is_read_and_checked() {
    let library = Merle::read();
    let mut inputs = Vec::new();
    for (path, text) in &library.files {
        for token in lex(text).tokens {
            let (start, end) = (token.span.start, token.span.end);
            inputs.push(Damaged {
                path: path.clone(),
                what: format!("without `{}` at byte {start}", part(text, start, end)),
                text: part(text, 0, start) + &part(text, end, text.len()),
            });
        }
    }
    watch::all(spread(inputs, 600), name, move |input| drop(survives(&library, &input.path, &input.text)));
}
