//! Words: letters and digits after UAX #31, with `-` inside.

use super::outside::unseen;
use super::scan::Scan;
use super::sign::blanks;
use super::spellings::Spellings;
use super::{LONGEST_NAME, TokenKind};
use crate::tree::Span;

/// Whether a word can begin with `c`.
pub(super) fn begins_word(c: char) -> bool {
    unicode_ident::is_xid_start(c) && !odd(c)
}

/// Whether a word can go on with `c` (`-` aside).
pub(super) fn in_word(c: char) -> bool {
    unicode_ident::is_xid_continue(c) && !odd(c) && c != '_'
}

/// Characters that the standard takes for letters but that here are signs, such as `·`, `º` and `ª`, or are not seen.
fn odd(c: char) -> bool {
    matches!(c, '\u{B7}' | '\u{387}' | '\u{AA}' | '\u{BA}' | '\u{1D52}')
        || (c.is_numeric() && !c.is_ascii_digit())
        || unseen(c)
        || dwell_quantity::fold_twin(c) == Some('\u{B7}')
}

/// How many bytes of `text` a word takes.
pub(super) fn word_length(text: &str) -> usize {
    let mut length = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let joins = c == '-' && length > 0 && chars.peek().is_some_and(|(_, next)| in_word(*next));
        if !in_word(c) && !joins {
            break;
        }
        length = at + c.len_utf8();
    }
    length
}

impl Scan<'_> {
    /// Reads a word from its first letter on.
    pub(super) fn read_word(&mut self, start: usize) {
        if self.letter_for_number(start) {
            return;
        }
        let mut end = start + word_length(self.from(start));
        while self.from(end).starts_with('_') {
            let more = word_length(self.from(end + 1));
            end += 1 + more;
        }
        self.skip_to(end);
        let word = self.between(start, end);
        let count = word.chars().count();
        let mended = word.trim_end_matches('_').replace('_', "-");
        self.token(TokenKind::Word, start, end);
        if mended != word {
            self.slip(start, end, format!("`{}` is no name: names are joined with `-`", brief(word)))
                .fix(Span::new(start, end), mended.clone());
            self.mend(mended);
        } else if count > LONGEST_NAME {
            self.slip(
                start,
                end,
                format!("this name has {count} characters, more than the limit of {LONGEST_NAME}"),
            )
            .help("give it a shorter name");
        }
        self.after_word(start, end);
    }

    /// A lone letter that looks like a digit, with a unit after it, where only a number can stand: `0 ± O psi`.
    fn letter_for_number(&mut self, start: usize) -> bool {
        let waits = |kind| matches!(kind, TokenKind::PlusMinus | TokenKind::DotDot | TokenKind::OpenParen);
        let text = self.from(start);
        let mut letters = text.chars();
        let mended = match letters.next() {
            Some('O' | 'o') => "0",
            Some('l' | 'I') => "1",
            _ => return false,
        };
        let rest = letters.as_str();
        let unit = rest.get(blanks(rest)..).unwrap_or_default();
        let has_unit = blanks(rest) > 0
            && Spellings::table()
                .longest(unit)
                .is_some_and(|found| !unit.get(found.length..).unwrap_or_default().starts_with(in_word));
        if !has_unit || !self.last().is_some_and(|last| waits(last.kind)) {
            return false;
        }
        let end = start + 1;
        self.skip_to(end);
        self.slip_of("look-alike-character", start, end, "a letter stands here for a digit")
            .help(format!("write `{mended}`"))
            .fix(Span::new(start, end), mended);
        self.number_token(start, end, Some(mended.to_owned()));
        true
    }

    /// What may not stand glued to the end of a word: a lone `-`, a point with digits.
    fn after_word(&mut self, start: usize, end: usize) {
        let rest = self.from(end);
        if let Some(more) = rest.strip_prefix('.')
            && more.starts_with(|c: char| c.is_ascii_digit())
        {
            let stop = end + 1 + word_length(more);
            let text = self.between(start, stop).to_owned();
            self.skip_to(stop);
            self.spoil_last(stop);
            self.slip(start, stop, format!("`{}` is neither a name nor a number", brief(&text)))
                .help("a marking such as a thread stands in quotes")
                .fix(Span::new(start, stop), format!("\"{text}\""));
        } else if rest.starts_with('-')
            && !rest.starts_with("->")
            && !rest.get(1..).is_some_and(|more| more.starts_with(char::is_numeric))
        {
            self.skip_to(end + 1);
            self.slip(end, end + 1, "a name does not end with `-`")
                .help("remove it, or put a blank on both sides for a minus")
                .fix(Span::new(end, end + 1), "");
        }
    }
}

/// The first 40 characters of something that is quoted in a message.
pub(crate) fn brief(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}
