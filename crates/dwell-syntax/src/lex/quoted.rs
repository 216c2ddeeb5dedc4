//! Texts in quotes and comments: both end on their line.

use super::outside::hidden;
use super::scan::Scan;
use super::unopened::waits_for_text;
use super::{LONGEST_TEXT, TokenKind};
use crate::tree::Span;
use crate::words::Word;

impl Scan<'_> {
    /// Reads a comment from its `#` (or `//`) to the end of its line.
    pub(super) fn read_comment(&mut self, start: usize) {
        let opened = self.at();
        let length = line_length(self.rest());
        self.skip(length);
        let text = self.between(opened, opened + length);
        if self.between(start, opened) == "//" {
            self.slip(start, opened, "a comment begins with `#`")
                .help("write `#` instead of `//`")
                .fix(Span::new(start, opened), "#");
        }
        self.look_into(text, opened, "comment");
        self.comment(text, start, opened + length);
    }

    /// Reads a text from its opening quote on.
    pub(super) fn read_text(&mut self, start: usize) {
        let opened = self.at();
        let (length, closed) = text_length(self.rest());
        let another = self.before_another(opened, length).filter(|_| closed);
        let (length, closed) = another.map_or((length, closed), |shorter| (shorter, false));
        let end = if closed { opened + length + 1 } else { self.unclosed_text(start, opened + length) };
        let inside = self.between(opened, if closed { opened + length } else { end });
        self.skip_to(end);
        self.look_at_escapes(inside, opened);
        self.look_into(inside, opened, "text");
        self.token(TokenKind::Str, start, end);
        if !closed {
            self.mend(format!("\"{inside}\""));
        }
    }

    /// Where a text ends whose closing quote seems to be one that opens another: a blank stands before that one and a letter
    /// after it, and the last word before it waits for a text.
    fn before_another(&self, opened: usize, length: usize) -> Option<usize> {
        let inside = self.between(opened, opened + length);
        let follows = self.from(opened + length + 1).starts_with(char::is_alphanumeric);
        let (before, last) = inside.strip_suffix(' ').filter(|_| follows)?.rsplit_once(' ')?;
        Word::of(last).filter(|word| waits_for_text(*word)).map(|_| before.trim_end().len().max(1))
    }

    /// Says which backslashes stand before something else than a quote or a backslash.
    fn look_at_escapes(&mut self, inside: &str, opened: usize) {
        let mut chars = inside.char_indices();
        while let Some((at, c)) = chars.next() {
            if c != '\\' {
                continue;
            }
            if let Some((next, c)) = chars.next()
                && c != '"'
                && c != '\\'
            {
                self.slip(opened + at, opened + next + c.len_utf8(), "`\\` stands only before `\"` or `\\`")
                    .help("write `\\\\` for a backslash in a text");
            }
        }
    }

    /// Whether the single quote at byte `start` is the one of `don't`, in a text that has lost its opening quote.
    fn is_apostrophe(&self, start: usize) -> bool {
        let rest = self.rest();
        self.before(start).is_some_and(char::is_alphabetic)
            && rest.starts_with(char::is_alphabetic)
            && closing_quote(rest)
                .is_some_and(|(at, length)| rest.get(at..at + length).is_some_and(|quote| quote == "\""))
    }

    /// Reads a text between curly or single quotes, which word processors and other languages write.
    pub(super) fn read_odd_text(&mut self, start: usize) {
        let opened = self.at();
        if self.is_apostrophe(start) {
            self.slip(start, opened, "an apostrophe stands only in a text");
            return self.error(start, opened);
        }
        let (inside, end) = match closing_quote(self.rest()) {
            Some((at, length)) => (self.between(opened, opened + at), opened + at + length),
            None => {
                let end = self.unclosed_text(start, opened + line_length(self.rest()));
                (self.between(opened, end), end)
            }
        };
        let closed = inside.len() < end - opened;
        self.skip_to(end);
        let straight = format!("\"{}\"", inside.replace('\\', "\\\\").replace('"', "\\\""));
        if closed {
            self.slip_of("look-alike-character", start, end, "a text stands between straight double quotes")
                .help("write \" at both ends")
                .fix(Span::new(start, end), straight.clone());
        }
        self.look_into(inside, opened, "text");
        self.token(TokenKind::Str, start, end);
        self.mend(straight);
    }

    /// Says that a text is not closed and where it is taken to end: before a brace that ends its line.
    fn unclosed_text(&mut self, start: usize, line_end: usize) -> usize {
        let line = self.between(start, line_end);
        let opens =
            |at: &usize| line.get(at + 2..).is_none_or(|rest| rest.is_empty() || rest.starts_with(' '));
        let block = line.match_indices(" {").map(|(at, _)| at).find(opens);
        let line = block.and_then(|at| line.get(..at)).unwrap_or(line);
        let mut kept = line.trim_end();
        while let Some(shorter) = kept.strip_suffix(['{', '}'])
            && shorter.ends_with([' ', '\t'])
            && shorter.trim_end().len() > 1
        {
            kept = shorter.trim_end();
        }
        let end = start + kept.len().max(line.chars().next().map_or(1, char::len_utf8));
        let about = line.chars().next().map_or(start + 1, |c| start + c.len_utf8());
        self.slip(start, about, "this text has no closing quote on its line")
            .help("close it with `\"` before the line ends; a text never goes on to the next line")
            .fix(Span::new(end, end), "\"");
        end
    }

    /// Looks for characters that hide or disguise what stands in a text or comment, and for its length.
    pub(super) fn look_into(&mut self, inside: &str, opened: usize, what: &str) {
        let mut count = 0;
        let mut run: Option<(usize, usize, char)> = None;
        for (at, c) in inside.char_indices() {
            count += 1;
            let (start, end) = (opened + at, opened + at + c.len_utf8());
            if hidden(c) || (c.is_control() && c != '\t') {
                run = match run {
                    Some((first, last, name)) if last == start => Some((first, end, name)),
                    other => {
                        self.say_hidden(other, what);
                        Some((start, end, c))
                    }
                };
            }
        }
        self.say_hidden(run, what);
        if count > LONGEST_TEXT {
            self.slip(
                opened,
                opened + inside.len(),
                format!("this {what} has {count} characters, more than the limit of {LONGEST_TEXT}"),
            )
            .help("shorten it, or cut it into several");
        }
    }

    fn say_hidden(&mut self, run: Option<(usize, usize, char)>, what: &str) {
        if let Some((start, end, c)) = run {
            self.slip_of(
                "look-alike-character",
                start,
                end,
                format!("a hidden character U+{:04X} stands in this {what}", u32::from(c)),
            )
            .help("it is not seen, but it can change what is read: remove it")
            .fix(Span::new(start, end), "");
        }
    }
}

/// The bytes of a text up to its closing quote or the end of its line, and whether the quote is there.
fn text_length(rest: &str) -> (usize, bool) {
    let mut escaped = false;
    for (at, c) in rest.char_indices() {
        match c {
            '\n' | '\r' => return (at, false),
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return (at, true),
            _ => {}
        }
    }
    (rest.len(), false)
}

/// The next quote of any form on the line: its place and its bytes.
pub(super) fn closing_quote(rest: &str) -> Option<(usize, usize)> {
    let found = rest
        .char_indices()
        .find(|(_, c)| matches!(c, '\n' | '\r' | '"' | '\'' | '\u{2018}'..='\u{201F}' | '\u{AB}' | '\u{BB}'));
    found.filter(|(_, c)| !matches!(c, '\n' | '\r')).map(|(at, c)| (at, c.len_utf8()))
}

/// How many bytes are left on the line.
fn line_length(rest: &str) -> usize {
    rest.find(['\n', '\r']).unwrap_or(rest.len())
}
