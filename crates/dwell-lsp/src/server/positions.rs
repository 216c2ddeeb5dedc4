//! Positions of the protocol, in the units that were agreed with the editor, and bytes of ours.

use dwell_check::program::Content;
use dwell_syntax::lines::Lines;
use dwell_syntax::tree::Span;
use tower_lsp::ls_types::{Position, PositionEncodingKind, Range};

/// In which units an editor counts within a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Encoding {
    /// Bytes of UTF-8.
    Utf8,
    /// Units of UTF-16, which is what counts where nothing was agreed.
    #[default]
    Utf16,
    /// Characters.
    Utf32,
}

impl Encoding {
    /// The one to use of those that the editor offers.
    pub(crate) fn of(offered: Option<&[PositionEncodingKind]>) -> Encoding {
        let offers = |kind: PositionEncodingKind| offered.is_some_and(|all| all.contains(&kind));
        if offers(PositionEncodingKind::UTF8) {
            Encoding::Utf8
        } else if offers(PositionEncodingKind::UTF32) && !offers(PositionEncodingKind::UTF16) {
            Encoding::Utf32
        } else {
            Encoding::Utf16
        }
    }

    /// Its name in the protocol.
    pub(crate) fn kind(self) -> PositionEncodingKind {
        match self {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
            Encoding::Utf32 => PositionEncodingKind::UTF32,
        }
    }

    fn width(self, letter: char) -> usize {
        match self {
            Encoding::Utf8 => letter.len_utf8(),
            Encoding::Utf16 => letter.len_utf16(),
            Encoding::Utf32 => 1,
        }
    }

    /// The position of a byte; one inside a character counts as the character's first.
    pub(crate) fn position(self, content: &Content, offset: usize) -> Position {
        let offset = offset.min(content.text.len());
        let line = content.lines.line(offset);
        let start = content.lines.start(line);
        let before = content.text.get(start..).unwrap_or_default();
        let before =
            before.char_indices().take_while(|(at, letter)| start + at + letter.len_utf8() <= offset);
        let character = before.map(|(_, letter)| self.width(letter)).sum();
        Position { line: narrow(line), character: narrow(character) }
    }

    /// The range of some bytes.
    pub(crate) fn range(self, content: &Content, span: Span) -> Range {
        Range { start: self.position(content, span.start), end: self.position(content, span.end) }
    }

    /// The byte of a position. One past the end of its line is the end of the line, one past the last line the end of the
    /// text, and one inside a character the character's first byte.
    pub(crate) fn offset(self, content: &Content, position: Position) -> usize {
        self.offset_in(&content.text, &content.lines, position)
    }

    fn offset_in(self, text: &str, lines: &Lines, position: Position) -> usize {
        let line = wide(position.line);
        if line >= lines.count() {
            return text.len();
        }
        let start = lines.start(line);
        let mut left = wide(position.character);
        let rest = text.get(start..).unwrap_or_default();
        for (at, letter) in rest.char_indices() {
            let width = self.width(letter);
            if matches!(letter, '\n' | '\r') || left < width {
                return start + at;
            }
            left -= width;
        }
        text.len()
    }

    /// The bytes of a range; a reversed one is put right.
    pub(crate) fn span(self, content: &Content, range: Range) -> Span {
        self.span_in(&content.text, &content.lines, range)
    }

    /// The same in a text that is not parsed.
    pub(crate) fn span_in(self, text: &str, lines: &Lines, range: Range) -> Span {
        Span::new(self.offset_in(text, lines, range.start), self.offset_in(text, lines, range.end))
    }
}

/// The protocol counts in 32 bits; no text of ours is longer.
pub(crate) fn narrow(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn wide(number: u32) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}

#[cfg(test)]
mod tests {
    use super::{Content, Encoding, Position, PositionEncodingKind};

    const ALL: [Encoding; 3] = [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32];

    #[test]
    fn every_byte_leads_to_a_position_and_back_to_its_character() {
        for text in ["", "a", "é😀 ° µ\r\nΩ\rx\n\n", "no end", "\u{2028}b\n"] {
            let content = Content::of(text.to_owned());
            for encoding in ALL {
                for at in 0..=text.len() + 2 {
                    let back = encoding.offset(&content, encoding.position(&content, at));
                    let first = (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at));
                    // Between CR and LF there is no position: the end of the line is before both.
                    let between = text.get(..back).is_some() && text.as_bytes().get(back) == Some(&b'\r');
                    assert!(Some(back) == first || between, "{text:?} {encoding:?} {at}: {back}");
                }
            }
        }
    }

    #[test]
    fn positions_that_are_not_there_are_the_nearest_before() {
        let content = Content::of("a😀b\nc".to_owned());
        let at = |line, character| Encoding::Utf16.offset(&content, Position { line, character });
        assert_eq!([at(0, 0), at(0, 1), at(0, 2), at(0, 3), at(0, 99)], [0, 1, 1, 5, 6]);
        assert_eq!([at(1, 0), at(1, 9), at(7, 0)], [7, 8, 8]);
    }

    #[test]
    fn only_what_is_offered_is_chosen() {
        let [utf8, utf16, utf32] =
            [PositionEncodingKind::UTF8, PositionEncodingKind::UTF16, PositionEncodingKind::UTF32];
        assert_eq!(Encoding::of(None), Encoding::Utf16);
        assert_eq!(Encoding::of(Some(&[])), Encoding::Utf16);
        assert_eq!(Encoding::of(Some(std::slice::from_ref(&utf8))), Encoding::Utf8);
        assert_eq!(Encoding::of(Some(&[utf32.clone(), utf8, utf16.clone()])), Encoding::Utf8);
        assert_eq!(Encoding::of(Some(&[utf32.clone(), utf16])), Encoding::Utf16);
        assert_eq!(Encoding::of(Some(&[utf32])), Encoding::Utf32);
    }
}
