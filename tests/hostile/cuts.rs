//! Every file of the library cut off after every character, and with every one of its tokens lost.

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

#[test]
fn a_file_cut_off_after_any_character_is_read_and_set() {
    let mut inputs = Vec::new();
    for (path, text) in &Merle::read().files {
        inputs.extend(text.char_indices().map(|(end, _)| cut(path, text, end)));
    }
    watch::all(inputs, name, |input| reads(&input.text));
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
    watch::all(inputs, name, move |input| drop(survives(&library, &input.path, &input.text)));
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
    watch::all(inputs, name, move |input| drop(survives(&library, &input.path, &input.text)));
}
