//! What stands under a byte of a text: the token, and whether it is inside a comment or a text in quotes.

use dwell_syntax::lex::{Lexed, Token, TokenKind};
use dwell_syntax::tree::Span;

/// Where a byte is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Zone {
    /// Among the tokens.
    Code,
    /// In a comment, its end included.
    Comment,
    /// Between quotes; the byte after the opening one.
    Text(usize),
}

/// Where a byte is, as its line tells up to there: it need not be finished.
pub(crate) fn zone(text: &str, at: usize) -> Zone {
    let before = text.get(..at).unwrap_or(text);
    let start = before.rfind(['\n', '\r']).map_or(0, |end| end + 1);
    let mut zone = Zone::Code;
    let mut escaped = false;
    for (place, letter) in before.get(start..).unwrap_or_default().char_indices() {
        match (zone, letter) {
            (Zone::Code, '#') => return Zone::Comment,
            (Zone::Code, '"') => zone = Zone::Text(start + place + 1),
            (Zone::Text(_), '\\') if !escaped => {
                escaped = true;
                continue;
            }
            (Zone::Text(_), '"') if !escaped => zone = Zone::Code,
            _ => {}
        }
        escaped = false;
    }
    zone
}

/// The place of the token under a byte among all; a name, a number or a unit wins at both of its edges.
pub(crate) fn under(lexed: &Lexed, at: usize) -> Option<usize> {
    let wins = |kind: TokenKind| {
        use TokenKind::{Compound, Date, LineWord, Number, Unit, Word};
        matches!(kind, Word | LineWord | Number | Compound | Unit | Date)
    };
    let first = lexed.tokens.partition_point(|token| token.span.end < at);
    let near = || lexed.tokens.iter().enumerate().skip(first).take_while(|(_, token)| token.span.start <= at);
    let inside = |token: &Token| token.span.start <= at && at < token.span.end;
    let found = near().find(|(_, token)| wins(token.kind) && inside(token));
    let found = found.or_else(|| near().find(|(_, token)| wins(token.kind)));
    found.or_else(|| near().find(|(_, token)| inside(token))).map(|(place, _)| place)
}

/// A number with its unit, where the token is one of both.
pub(crate) fn amount<'t>(
    lexed: &Lexed,
    place: usize,
    text: &'t str,
) -> Option<(&'t str, Option<&'t str>, Span)> {
    let token = lexed.tokens.get(place)?;
    let words = |token: &Token| text.get(token.span.start..token.span.end);
    let (number, unit) = match token.kind {
        TokenKind::Number => (token, lexed.tokens.get(place + 1).filter(|next| next.kind == TokenKind::Unit)),
        TokenKind::Compound => (token, None),
        TokenKind::Unit => (lexed.tokens.get(place.checked_sub(1)?)?, Some(token)),
        _ => return None,
    };
    let span = unit.map_or(number.span, |unit| number.span.to(unit.span));
    Some((words(number)?, unit.and_then(words), span))
}

#[cfg(test)]
mod tests {
    use super::*;
    use dwell_syntax::lex::lex;

    #[test]
    fn a_name_wins_at_both_edges() {
        let text = "gap±0.30 mm # é \"";
        let lexed = lex(text);
        let word = |at: usize| {
            under(&lexed, at).and_then(|place| {
                let span = lexed.tokens[place].span;
                text.get(span.start..span.end)
            })
        };
        assert_eq!([word(0), word(3), word(4), word(5)], [Some("gap"), Some("gap"), Some("±"), Some("0.30")]);
        assert_eq!([word(9), word(10), word(12), word(14)], [Some("0.30"), Some("mm"), Some("mm"), None]);
        assert_eq!(
            amount(&lexed, 3, text).map(|(number, unit, _)| (number, unit)),
            Some(("0.30", Some("mm")))
        );
    }

    #[test]
    fn comments_and_texts() {
        let text = "a \"b # \\\" c\" d # \"e";
        let at = |what: &str| zone(text, text.find(what).unwrap());
        assert_eq!(at("b"), Zone::Text(3));
        assert_eq!(at("c"), Zone::Text(3));
        assert_eq!(at("d"), Zone::Code);
        assert_eq!(at("e"), Zone::Comment);
        assert_eq!(zone(text, text.len()), Zone::Comment);
    }
}
