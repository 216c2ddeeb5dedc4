//! Every file of the library cut off after every character, and with every one of its tokens lost.

use dwell_syntax::lex::lex;

use super::invariants::survives;
use super::watch;
use crate::merle::Merle;

/// A damaged file: its path, what was done to it, its text.
struct Damaged {
    path: String,
    what: String,
    text: String,
}

fn name(damaged: &Damaged) -> String {
    format!("{} {}", damaged.path, damaged.what)
}

#[test]
fn a_file_cut_off_after_any_character_is_read_and_checked() {
    let library = Merle::read();
    let mut inputs = Vec::new();
    for (path, text) in &library.files {
        let ends = text.char_indices().map(|(at, _)| at).chain([text.len()]);
        inputs.extend(ends.map(|end| Damaged {
            path: path.clone(),
            what: format!("cut off at byte {end}"),
            text: text[..end].to_owned(),
        }));
    }
    watch::all(&inputs, name, |input| drop(survives(&library, &input.path, &input.text)));
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
                what: format!("without `{}` at byte {start}", &text[start..end]),
                text: format!("{}{}", &text[..start], &text[end..]),
            });
        }
    }
    watch::all(&inputs, name, |input| drop(survives(&library, &input.path, &input.text)));
}
