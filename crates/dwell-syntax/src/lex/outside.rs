//! Characters beyond ASCII and characters that the language does not use: letters of other scripts, look-alikes, hidden marks.

use dwell_quantity::look_alike;

use super::TokenKind;
use super::letters::begins_word;
use super::quoted::closing_quote;
use super::scan::Scan;
use crate::tree::Span;

/// Whether `c` is a mark that is not seen but changes the direction or the joining of what is.
pub(super) fn hidden(c: char) -> bool {
    matches!(
        c,
        '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{61C}' | '\u{200E}' | '\u{200F}'
            | '\u{200B}' | '\u{2060}' | '\u{FEFF}' | '\u{AD}'
    )
}

/// Whether `c` joins or shapes its neighbours and is not seen itself: wanted in a text of some scripts, never in a name.
pub(super) fn unseen(c: char) -> bool {
    matches!(
        c,
        '\u{200C}' | '\u{200D}' | '\u{34F}' | '\u{FE00}'..='\u{FE0F}' | '\u{E0100}'..='\u{E01EF}'
            | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}' | '\u{3164}'
            | '\u{FFA0}'
    )
}

impl Scan<'_> {
    /// Reads a character beyond ASCII that stands where a token begins.
    pub(super) fn read_wide(&mut self, start: usize) {
        let end = self.at();
        let Some(c) = self.from(start).chars().next() else { return };
        if hidden(c) || unseen(c) {
            return self.hidden_here(start, end, c);
        }
        if matches!(c, '\u{85}' | '\u{2028}' | '\u{2029}') {
            let message =
                format!("U+{:04X} ends no line here, although some editors show it so", u32::from(c));
            return self.passed_over(start, end, message, "\n");
        }
        if c == '\u{2192}' {
            self.alike(start, end, "arrow in one character", "->");
            return self.token(TokenKind::Arrow, start, end);
        }
        match look_alike(c) {
            Some(found) if found.instead.starts_with(|c: char| c.is_ascii_digit()) && !c.is_alphabetic() => {
                self.read_number(start, start);
            }
            Some(found) => self.read_alike(start, end, found.name, found.instead),
            None if begins_word(c) => self.read_word(start),
            None => self.read_stray(start),
        }
    }

    /// Says that a hidden character stands between tokens, and passes it over.
    pub(super) fn hidden_here(&mut self, start: usize, end: usize, c: char) {
        self.passed_over(start, end, format!("a hidden character U+{:04X} stands here", u32::from(c)), "");
    }

    /// Reads a look-alike as what it was meant to be, with a slip.
    fn read_alike(&mut self, start: usize, end: usize, name: &str, instead: &str) {
        let kind = match instead {
            "\"" => return self.read_odd_text(start),
            "'" if closing_quote(self.rest()).is_some() => return self.read_odd_text(start),
            "" | " " => {
                return self.passed_over(start, end, format!("this is a {name}, no plain blank"), instead);
            }
            "-" | "+" | "*" | "/" => {
                self.alike(start, end, name, instead);
                return self.read_sign(start);
            }
            "\u{B1}" => TokenKind::PlusMinus,
            ".." => TokenKind::DotDot,
            "," => TokenKind::Comma,
            _ => TokenKind::Error,
        };
        self.alike(start, end, name, instead);
        self.token(kind, start, end);
    }

    /// Reads a character that the language does not use.
    pub(super) fn read_stray(&mut self, start: usize) {
        let end = self.at();
        let Some(c) = self.from(start).chars().next() else { return };
        match c {
            '\u{0B}' | '\u{0C}' => {
                let message = format!("a control character U+{:04X} stands here", u32::from(c));
                return self.passed_over(start, end, message, " ");
            }
            _ if c.is_control() => {
                let message = format!("a control character U+{:04X} stands here", u32::from(c));
                return self.passed_over(start, end, message, "");
            }
            ';' => {
                let span = Span::new(start, end);
                self.slip(start, end, "nothing stands at the end of an instruction: no `;` is needed")
                    .help("remove it")
                    .fix(span, "");
                return;
            }
            '\'' if closing_quote(self.rest()).is_some() => return self.read_odd_text(start),
            _ => {}
        }
        if self.last().is_some_and(|last| last.kind == TokenKind::Error && last.span.end == start)
            && self.slipped_right_before(start)
        {
            self.widen_slip(end);
            return self.error(start, end);
        }
        let (length, instead) = match self.from(start).as_bytes() {
            [b'<', b'=', ..] => (2, Some("at most")),
            [b'>', b'=', ..] => (2, Some("at least")),
            [b'<', ..] => (1, Some("below")),
            [b'>', ..] => (1, Some("above")),
            _ => (end - start, None),
        };
        let end = start + length;
        self.skip_to(end);
        let found = self.between(start, end).to_owned();
        let slip = self.slip(start, end, format!("`{found}` means nothing here"));
        match (instead, c) {
            (Some(words), _) => {
                slip.help(format!("write `{words}`")).fix(Span::new(start, end), words);
            }
            (None, '\'') => {
                slip.help("a text stands in double quotes: \"");
            }
            (None, '°' | '%' | '′' | '″') => {
                slip.help("a unit stands right after its number, on the same line");
            }
            _ => {}
        }
        self.error(start, end);
    }

    /// Notes a slip for characters that are then passed over like a blank.
    fn passed_over(&mut self, start: usize, end: usize, message: String, instead: &str) {
        let rest = self.between(start, end);
        let mut stop = end;
        if let Some(c) = rest.chars().next() {
            let more =
                self.from(end).chars().take_while(|next| *next == c).map(char::len_utf8).sum::<usize>();
            stop = end + more;
            self.skip_to(stop);
        }
        self.slip_of("look-alike-character", start, stop, message)
            .help(if instead.is_empty() { "remove it" } else { "put a plain blank or a new line instead" })
            .fix(Span::new(start, stop), instead);
    }

    /// Notes a slip for a character that looks like another.
    pub(super) fn alike(&mut self, start: usize, end: usize, name: &str, instead: &str) {
        self.slip_of(
            "look-alike-character",
            start,
            end,
            format!("this character only looks like `{instead}` ({name})"),
        )
        .help(format!("write `{instead}`"))
        .fix(Span::new(start, end), instead);
    }
}
