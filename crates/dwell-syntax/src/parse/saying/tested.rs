//! What is said of a test that is right English and another word here: `meets 13.8 .. 14.6 V`, `is above 15 V`.

use super::super::input::Tok;
use super::slip;
use crate::lex::{TokenKind, brief};
use crate::slip::Slip;
use crate::tree::Span;
use crate::words::Word;

/// Words that a limit on the spot begins with.
const BOUNDS: [Word; 5] = [Word::Above, Word::Below, Word::Within, Word::Exactly, Word::At];

/// Words that people write for those, each with what stands here.
const OTHER_WORDS: [(&str, &str); 8] = [
    ("more", "above"),
    ("greater", "above"),
    ("higher", "above"),
    ("larger", "above"),
    ("less", "below"),
    ("lower", "below"),
    ("smaller", "below"),
    ("between", "within"),
];

/// What is said where such a test stands before the place that could not be read.
pub(super) fn tested(tokens: &[Tok<'_>], at: usize) -> Option<Slip> {
    let token = |back: usize| at.checked_sub(back).and_then(|place| tokens.get(place));
    let (found, before) = (token(0)?, token(1)?);
    if (before.is(Word::Meets) || before.is(Word::Misses)) && !found.first {
        return on_the_spot(before, found);
    }
    // The word after `is` was taken for a state.
    let (asked, side) = match token(2) {
        Some(asked) if asked.is(Word::Is) || asked.is(Word::Are) => (asked, before),
        _ if before.is(Word::Is) || before.is(Word::Are) => (before, found),
        _ => return None,
    };
    let known = BOUNDS.iter().find(|word| side.is(**word)).map(|word| word.text());
    let other = || OTHER_WORDS.iter().find(|(word, _)| side.text == *word).map(|(_, stands)| *stands);
    let stands = known.or_else(other).filter(|_| !side.first)?;
    let stands = if stands == Word::At.text() { "at least" } else { stands };
    let asks = brief(asked.text);
    let mut slip = slip(asked.span, format!("`{asks}` asks for a state or an answer, not for a value"));
    slip.help(format!("for a value leave it out: `charge {stands} …`"));
    slip.fix(Span::new(asked.span.start, side.span.start), "");
    Some(slip)
}

/// `meets` with a band behind it instead of the name of a spec.
fn on_the_spot(meets: &Tok<'_>, found: &Tok<'_>) -> Option<Slip> {
    let number = matches!(found.kind, TokenKind::Number | TokenKind::Compound);
    let side = BOUNDS.iter().any(|word| found.is(*word));
    if !number && !side {
        return None;
    }
    let mut slip =
        slip(meets.span, format!("after `{}` stands the name of a spec, not a band", brief(meets.text)));
    if meets.is(Word::Misses) {
        slip.help("give the band a name in a `spec`, with its source, and say that name here");
    } else if number {
        slip.help("a band that stands on the spot follows `within`; in a `spec` it has its source beside it, and one change changes it everywhere");
        slip.fix(meets.span, "within");
    } else {
        slip.help("a limit on one side follows the reading directly: `charge at least 13.8 V`");
        slip.fix(Span::new(meets.span.start, found.span.start), "");
    }
    Some(slip)
}
