//! Numbers with units, and bands: the value first, then what follows it.

use chumsky::prelude::*;

use super::input::{Extra, Input, Place, Rule, Tok, roomy, span_of};
use super::mistake::{Expected, Label, Mistake, Saying};
use super::name::{misspells, sign, token, word};
use crate::lex::{TokenKind, nearly_unit};
use crate::tree::{Amount, Band, BandForm, ComputedBand, Expr, Name, NeverSide, Number};
use crate::words::{Group, WORDS, Word};

/// Where an amount stands: what a word after its number means there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Where {
    /// A word that the language does not know is a unit that it does not know.
    Anywhere,
    /// The word may as well be the name of the next entry.
    Case,
    /// Any word counts as a unit: what is counted (`5 strokes`).
    Counted,
}

/// A number with its unit, or without where none follows.
pub(super) fn amount<'t>(at: Where) -> impl Parser<'t, Input<'t>, Amount, Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        let before = place.cursor();
        match place.next() {
            Some(found) if matches!(found.kind, TokenKind::Number | TokenKind::Compound) => {
                let unit = unit(place, at);
                let span = unit.as_ref().map_or(found.span, |unit| found.span.to(unit.span));
                Ok(Amount { number: number_of(&found), unit, second: None, span })
            }
            _ => Err(Mistake::expected(place.span_since(&before), Expected::label(Label::Amount))),
        }
    })
}

/// An amount, and perhaps the same in a second unit, in parentheses.
pub(super) fn paired<'t>(at: Where) -> impl Parser<'t, Input<'t>, Amount, Extra> + Clone + 't {
    let second = amount(at).delimited_by(sign(TokenKind::OpenParen), sign(TokenKind::CloseParen));
    amount(at).then(second.or_not()).map(|(amount, second)| Amount { second: second.map(Box::new), ..amount })
}

pub(super) fn number_of(found: &Tok<'_>) -> Number {
    Number { text: found.text.to_owned(), compound: found.kind == TokenKind::Compound, span: found.span }
}

/// The unit that stands next, if one does; a word that should be one is said to be none and kept.
pub(super) fn unit(place: &mut Place<'_, '_>, at: Where) -> Option<Name> {
    let next = place.peek()?;
    if next.kind == TokenKind::Unit {
        place.skip();
        return Some(next.name());
    }
    if next.kind != TokenKind::Word || next.word.is_some() || is_misspelt(&next) {
        return None;
    }
    let before = place.save();
    let start = place.cursor();
    place.skip();
    if at == Where::Case && begins_entry(place, &next) {
        place.rewind(before);
        return None;
    }
    if at != Where::Counted {
        let span = place.span_since(&start);
        place.emit(Mistake::said(span, Saying::UnitUnknown));
    }
    Some(next.name())
}

/// Whether a word is a slip of the pen for a long word of the language rather than for a unit.
fn is_misspelt(word: &Tok<'_>) -> bool {
    !nearly_unit(word.text) && WORDS.iter().any(|meant| misspells(word, *meant))
}

/// Whether `word`, which stands right before the place, is the name of an entry of a case rather than a unit.
fn begins_entry(place: &mut Place<'_, '_>, word: &Tok<'_>) -> bool {
    if ends_there(place) {
        return false;
    }
    match place.peek().map(|after| after.kind) {
        Some(TokenKind::Number | TokenKind::Compound | TokenKind::OpenParen) => true,
        Some(TokenKind::Word | TokenKind::LineWord) => !nearly_unit(word.text),
        _ => false,
    }
}

/// Whether the case ends here: `ends passed`.
fn ends_there(place: &mut Place<'_, '_>) -> bool {
    if !place.peek().is_some_and(|after| after.is(Word::Ends)) {
        return false;
    }
    let before = place.save();
    place.skip();
    let outcome =
        place.peek().and_then(|after| after.word).is_some_and(|word| word.group() == Group::Outcome);
    place.rewind(before);
    outcome
}

/// A number that carries the sign `sign`, with its unit where one follows.
fn signed<'t>(sign: char) -> impl Parser<'t, Input<'t>, Amount, Extra> + Clone + 't {
    let number = token(Expected::label(Label::Amount), move |found| {
        found.kind == TokenKind::Number && found.text.starts_with(sign)
    });
    number.rewind().ignore_then(amount(Where::Anywhere))
}

/// A band with its target and its second unit.
pub(super) fn band<'t>(formula: impl Parser<'t, Input<'t>, Expr, Extra> + Clone + 't) -> Rule<'t, Band> {
    enum More {
        Target(Amount),
        Second(Band),
    }
    let core = core(formula);
    let target = word(Word::Target).ignore_then(paired(Where::Anywhere)).map(More::Target);
    let second = core
        .clone()
        .map_with(|form, extra| plain(form, extra.slice()))
        .delimited_by(sign(TokenKind::OpenParen), sign(TokenKind::CloseParen))
        .map(More::Second);
    let band = word(Word::Within)
        .or_not()
        .ignore_then(core.map_with(|form, extra| plain(form, extra.slice())))
        .then(target.or(second).repeated().at_most(2).collect::<Vec<_>>())
        .map_with(|(band, more), extra| {
            let mut band = Band { span: span_of(extra.slice()), ..lifted(band) };
            for one in more {
                match one {
                    More::Target(amount) => band.target = Some(amount),
                    More::Second(second) => band.second = Some(Box::new(second)),
                }
            }
            band
        });
    roomy(band.boxed())
}

/// `820 .. 880 rpm`, and perhaps the same in a second unit: a span that is never left, the range of a tool, a point.
pub(super) fn range<'t>() -> Rule<'t, Band> {
    let one = || two_sided().map_with(|form, extra| plain(form, extra.slice()));
    let second = one().delimited_by(sign(TokenKind::OpenParen), sign(TokenKind::CloseParen));
    let range = one().then(second.or_not()).map_with(|(band, second), extra| Band {
        second: second.map(Box::new),
        span: span_of(extra.slice()),
        ..band
    });
    roomy(range.boxed())
}

/// A band whose one number took the second unit with it, with that unit as its own: `at least 250 kPa (36 psi)`.
pub(super) fn lifted(mut band: Band) -> Band {
    if let BandForm::AtLeast(Expr::Amount(end))
    | BandForm::AtMost(Expr::Amount(end))
    | BandForm::Above(Expr::Amount(end))
    | BandForm::Below(Expr::Amount(end)) = &mut band.form
        && let Some(second) = end.second.take()
    {
        let span = second.span;
        let second = Band { form: BandForm::Bare(*second), target: None, second: None, span };
        band.second.get_or_insert(Box::new(second));
    }
    band
}

fn plain(form: BandForm, tokens: &[Tok<'_>]) -> Band {
    Band { form, target: None, second: None, span: span_of(tokens) }
}

/// The form of a band.
fn core<'t>(formula: impl Parser<'t, Input<'t>, Expr, Extra> + Clone + 't) -> Rule<'t, BandForm> {
    let at = word(Word::At);
    let one_sided = choice((
        at.clone().then(word(Word::Least)).ignore_then(formula.clone()).map(BandForm::AtLeast),
        at.then(word(Word::Most)).ignore_then(formula.clone()).map(BandForm::AtMost),
        word(Word::Above).ignore_then(formula.clone()).map(BandForm::Above),
        word(Word::Below).ignore_then(formula).map(BandForm::Below),
        word(Word::Exactly).ignore_then(amount(Where::Anywhere)).map(BandForm::Exactly),
    ));
    roomy(one_sided.boxed().or(two_sided()).labelled(Label::Band).boxed())
}

enum Rest {
    To(Amount),
    PlusMinus(Amount),
    Uneven(Amount, Amount),
}

/// What a `let` comes to.
pub(super) enum Computed {
    Value(Expr),
    Band(ComputedBand),
}

/// A formula, or a band whose ends are formulas, with what it never goes beyond.
pub(super) fn computed<'t>(
    formula: impl Parser<'t, Input<'t>, Expr, Extra> + Clone + 't,
) -> Rule<'t, Computed> {
    let at = word(Word::At);
    let end = |closed| move |end| (Some((end, closed)), None);
    let top = |closed| move |end| (None, Some((end, closed)));
    let one_sided = choice((
        at.clone().then(word(Word::Least)).ignore_then(formula.clone()).map(end(true)),
        at.then(word(Word::Most)).ignore_then(formula.clone()).map(top(true)),
        word(Word::Above).ignore_then(formula.clone()).map(end(false)),
        word(Word::Below).ignore_then(formula.clone()).map(top(false)),
    ));
    let side = word(Word::Below).to(NeverSide::Below).or(word(Word::Above).to(NeverSide::Above));
    let never = word(Word::Never).ignore_then(side).then(paired(Where::Anywhere));
    let never = never.repeated().at_most(2).collect::<Vec<_>>().boxed();
    let band = |((low, high), never), tokens: &[Tok<'_>]| {
        Computed::Band(ComputedBand { low, high, never, span: span_of(tokens) })
    };
    let one_sided =
        one_sided.boxed().then(never.clone()).map_with(move |found, extra| band(found, extra.slice()));
    let high = sign(TokenKind::DotDot).ignore_then(formula.clone()).then(never);
    let plain = formula.then(high.or_not()).map_with(move |(low, high), extra| match high {
        None => Computed::Value(low),
        Some((high, never)) => band(((Some((low, true)), Some((high, true))), never), extra.slice()),
    });
    roomy(one_sided.or(plain).boxed())
}

/// A band that begins with a number: the number first, then what follows it.
pub(super) fn two_sided<'t>() -> Rule<'t, BandForm> {
    let value = amount(Where::Anywhere);
    let rest = choice((
        sign(TokenKind::DotDot).or(dash()).ignore_then(value.clone()).map(Rest::To),
        sign(TokenKind::PlusMinus).ignore_then(value.clone()).map(Rest::PlusMinus),
        signed('+').then(signed('-')).map(|(plus, minus)| Rest::Uneven(plus, minus)),
    ));
    let band = value.then(rest.boxed().or_not()).map(|(value, rest)| match rest {
        None => BandForm::Bare(value),
        Some(Rest::To(high)) => BandForm::Range(value, high),
        Some(Rest::PlusMinus(tolerance)) => BandForm::PlusMinus(value, tolerance),
        Some(Rest::Uneven(plus, minus)) => BandForm::Uneven(value, plus, minus),
    });
    roomy(band.boxed())
}

/// `5 - 8 mm`: a minus where a band goes on is meant as `..`.
fn dash<'t>() -> impl Parser<'t, Input<'t>, Tok<'t>, Extra> + Clone + 't {
    sign(TokenKind::Minus)
        .then_ignore(token(Expected::label(Label::Amount), |found| found.kind == TokenKind::Number).rewind())
        .validate(|found, extra, emitter| {
            emitter.emit(Mistake::said(extra.span(), Saying::DashRange));
            found
        })
}
