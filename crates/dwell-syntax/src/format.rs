//! The one way a text is set: the same tokens and comments, four blanks to a brace, a statement to a line, 100 columns.
//!
//! The formatter works on the tokens, not on the tree: it can move a token or a comment but has no way to lose one. The
//! tree only tells it where statements, lines and arms begin. Before it answers it reads its own work again; if that
//! said anything else than the text did, the text is given back as it was.

mod breaks;
mod gaps;
mod layout;
mod spelling;
mod starts;

#[cfg(test)]
mod tests;

use crate::parse::{Parsed, parse};
use crate::slip::Slip;

/// The longest line that is not broken, in characters.
pub const WIDTH: usize = 100;
/// The blanks that each brace adds in front of a line.
pub const INDENT: usize = 4;

/// Sets `text` in the one way. The file's byte order mark, its own line ending and its comments stay; the text ends with
/// exactly one line end, or stays empty where there was nothing in it.
///
/// # Errors
///
/// The slips of a text that cannot be read: such a text is left alone, since parts of it would be guesses.
pub fn format(text: &str) -> Result<String, Vec<Slip>> {
    let parsed = parse(text);
    if !parsed.slips.is_empty() {
        return Err(parsed.slips);
    }
    let laid_out = lay_out(text, &parsed);
    let again = parse(&laid_out);
    let same = again.slips.is_empty()
        && spelling::meaning(&again.tree) == spelling::meaning(&parsed.tree)
        && gaps::remarks(&again.trivia) == gaps::remarks(&parsed.trivia);
    Ok(if same { laid_out } else { text.to_owned() })
}

/// Sets a text that was read without slips.
fn lay_out(text: &str, parsed: &Parsed) -> String {
    let tokens = &parsed.tokens;
    let words = spelling::texts(text, tokens);
    let starts = starts::of(&parsed.tree, tokens, &words);
    let gaps = gaps::of(text, tokens, &parsed.trivia);
    let lines = layout::Layout::new(tokens, &words, &starts, &gaps).lines();
    let mark = if text.starts_with('\u{FEFF}') { "\u{FEFF}" } else { "" };
    let ending = gaps::line_ending(text);
    let mut out = String::with_capacity(text.len() + 64);
    out.push_str(mark);
    for line in lines {
        out.push_str(&line);
        out.push_str(ending);
    }
    out
}
