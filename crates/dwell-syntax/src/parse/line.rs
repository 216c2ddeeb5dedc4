//! The lines of a handling, an item, a quantity and a tool: what a verb, a state or a quantity does, and what a tool can do.

use chumsky::prelude::*;

use super::amount::{Where, band, paired, range};
use super::condition::bounded;
use super::input::{Extra, Input, Place, Rule, Tok, roomy, span_of};
use super::lost::{at_word, must, or_lost_name};
use super::mistake::{Expected, Label, Mistake};
use super::name::{count, first_name, fold, name, names, sign, text, token, word};
use super::recovery::{skip_line, skip_to_block};
use super::state::{effects, persons, states, when};
use super::waiver::waiver_line;
use crate::lex::TokenKind;
use crate::tree::{Ability, AccuracyPart, Amount, Expr, Line, LineKind, Name, NeverSide, Number, Transition};
use crate::words::Word;

/// One entry between the braces of a handling.
#[derive(Clone)]
pub(super) enum HandlingLine {
    States(Vec<Name>),
    Transition(Transition),
    Line(Line),
}

/// Entries between braces, those left out that could not be read.
pub(super) fn braced<'t, T: Clone + 't>(line: Rule<'t, T>) -> Rule<'t, Vec<T>> {
    let block = roomy(line)
        .labelled(Label::Line)
        .map(Some)
        .recover_with(via_parser(skip_line().map(|_| None)))
        .repeated()
        .collect::<Vec<_>>()
        .delimited_by(sign(TokenKind::OpenBrace), sign(TokenKind::CloseBrace))
        .map(|lines| lines.into_iter().flatten().collect::<Vec<_>>())
        .boxed();
    roomy(block.clone().recover_with(via_parser(skip_to_block().ignore_then(block))).boxed())
}

/// A line of a handling.
pub(super) fn handling_line<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, HandlingLine> {
    let proof = word(Word::By).then(word(Word::Proof)).to(None);
    let verb = first_name().map(Some);
    let transition = proof
        .or(verb)
        .then_ignore(sign(TokenKind::Colon))
        .then(names())
        .then_ignore(sign(TokenKind::Arrow))
        .then(name())
        .map_with(|((verb, from), to), extra| Transition { verb, from, to, span: span_of(extra.slice()) });
    choice((
        word(Word::States).ignore_then(names()).map(HandlingLine::States),
        transition.map(HandlingLine::Transition),
        line(formula).map(HandlingLine::Line),
    ))
    .boxed()
}

/// A line of an item, a quantity or a tool.
pub(super) fn line<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, Line> {
    let line = choice((roomy(influence()), roomy(said(formula)), roomy(tool(formula))))
        .then(when())
        .map_with(|(kind, when), extra| Line { kind, when, span: span_of(extra.slice()) });
    waiver_line().or(line).boxed()
}

/// A subject, if one of the words that need one follows.
fn subject<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let before = place.cursor();
        let found = place.next().filter(Tok::is_name);
        let verb = place.peek().and_then(|next| next.word);
        match (found, verb) {
            (
                Some(found),
                Some(
                    Word::Brings
                    | Word::Needs
                    | Word::Moves
                    | Word::Lasts
                    | Word::Has
                    | Word::Checked
                    | Word::Signed,
                ),
            ) => Ok(found.name()),
            _ => Err(Mistake::expected(place.span_since(&before), Expected::label(Label::Name))),
        }
    })
}

/// `start brings …`, `start needs …`, `tighten moves …`, `turn has play …`, `refit checked by …`, `refit signed`, `warm lasts …`.
fn influence<'t>() -> Rule<'t, LineKind> {
    let amounts = || paired(Where::Anywhere);
    let gain = word(Word::By).ignore_then(amounts()).then_ignore(word(Word::Per)).then(amounts());
    let steps = word(Word::Steps).then(word(Word::Of)).ignore_then(amounts());
    let moves = word(Word::Moves).ignore_then(names()).then(gain.or_not()).then(steps.or_not());
    let needs = word(Word::Needs).ignore_then(states());
    let lasts = word(Word::Lasts).ignore_then(amounts()).then(word(Word::After).ignore_then(name()).or_not());
    let brings = word(Word::Brings).ignore_then(effects());
    let play = word(Word::Has).then(word(Word::Play)).ignore_then(text().or_not());
    let checked = word(Word::Checked).then(word(Word::By)).ignore_then(names());
    choice((
        subject().then(brings).map(|(subject, what)| LineKind::Brings(subject, what)),
        subject().or_not().then(needs).map(|(subject, what)| LineKind::Needs(subject, what)),
        subject().or_not().then(moves).map(|(subject, ((what, gain), steps))| LineKind::Moves {
            subject,
            what,
            gain,
            steps,
        }),
        subject().then(checked).map(|(verb, by)| LineKind::CheckedBy { verb, by }),
        subject().then(persons()).map(|(verb, persons)| LineKind::SignedFor { verb, persons }),
        subject().then(lasts).map(|(state, (duration, after))| LineKind::Lasts { state, duration, after }),
        subject().then(play).map(|(verb, told)| LineKind::Play { verb, told }),
    ))
    .boxed()
}

/// Lines that begin with their own word.
fn said<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, LineKind> {
    let side = choice((
        word(Word::Below).to(NeverSide::Below),
        word(Word::Above).to(NeverSide::Above),
        word(Word::Outside).to(NeverSide::Outside),
    ));
    let range = range();
    let least = word(Word::Least).to(true).or(word(Word::Most).to(false));
    let means =
        fold().map(|(fold, _)| fold).then(word(Word::Over).ignore_then(paired(Where::Counted)).or_not());
    choice((
        word(Word::May).then(word(Word::Stay)).ignore_then(names()).map(LineKind::MayStay),
        word(Word::Torque).ignore_then(name()).map(LineKind::Torque),
        word(Word::Located).ignore_then(text()).map(LineKind::Located),
        word(Word::Never).ignore_then(side.then(range)).map(|(side, range)| LineKind::Never(side, range)),
        word(Word::Positive).ignore_then(text()).map(LineKind::Positive),
        word(Word::Negative).ignore_then(text()).map(LineKind::Negative),
        word(Word::Limits)
            .then(word(Word::At))
            .ignore_then(least)
            .map(|at_least| LineKind::Limits { at_least }),
        word(Word::Means).ignore_then(means).map(|(fold, over)| LineKind::Means(fold, over)),
        word(Word::Is).ignore_then(formula.clone()).map(LineKind::IsFold),
    ))
    .boxed()
}

/// Lines of a tool.
fn tool<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, LineKind> {
    let ability = roomy(ability(formula));
    let months = token(Expected::word(Word::Months), |found| matches!(found.text, "months" | "month"));
    let each = word(Word::Each);
    let zeroed = word(Word::After).to(true).or(word(Word::Before).to(false)).then_ignore(each).then(name());
    choice((
        word(Word::Measures).ignore_then(ability.clone()).map(LineKind::Measures),
        word(Word::Sets).ignore_then(ability).map(LineKind::Sets),
        word(Word::Fits).ignore_then(text()).map(LineKind::Fits),
        word(Word::Calibrated)
            .then(word(Word::Every))
            .ignore_then(count())
            .then_ignore(months)
            .map(LineKind::Calibrated),
        word(Word::Warms).then(word(Word::Up)).ignore_then(paired(Where::Anywhere)).map(LineKind::WarmsUp),
        word(Word::Settles).ignore_then(paired(Where::Anywhere)).map(LineKind::Settles),
        word(Word::Zeroed).ignore_then(zeroed).map(|(after, what)| LineKind::Zeroed { after, what }),
        word(Word::Reaches).ignore_then(paired(Where::Anywhere)).map(LineKind::Reaches),
        word(Word::Extends)
            .ignore_then(paired(Where::Anywhere))
            .then(word(Word::At).ignore_then(paired(Where::Anywhere)).or_not())
            .map(|(by, at)| LineKind::Extends { by, at }),
        word(Word::Impedance).ignore_then(band(formula.clone())).map(LineKind::Impedance),
    ))
    .boxed()
}

/// `belt-frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz needs belt-meter is fine`.
fn ability<'t>(formula: &Rule<'t, Expr>) -> Rule<'t, Ability> {
    let range = range().or(bounded(formula.clone())).or_not();
    name()
        .then(range)
        .then(word(Word::Resolution).ignore_then(paired(Where::Anywhere)).or_not())
        .then(
            word(Word::Accuracy).ignore_then(accuracy().repeated().at_least(1).collect::<Vec<_>>()).or_not(),
        )
        .then(word(Word::Needs).ignore_then(states()).or_not())
        .map(|((((kind, range), resolution), accuracy), needs)| Ability {
            kind,
            range,
            resolution,
            accuracy: accuracy.unwrap_or_default(),
            needs: needs.unwrap_or_default(),
        })
        .boxed()
}

/// `± 0.5 Hz`, `± 0.2 % of reading`, `± 2 digits`.
fn accuracy<'t>() -> Rule<'t, AccuracyPart> {
    let value = paired(Where::Counted);
    sign(TokenKind::PlusMinus)
        .ignore_then(value)
        .then(token(Expected::word(Word::Digits), is_digits).or_not())
        .then(word(Word::Of).then(word(Word::Reading)).or_not())
        .map(|((value, digits), of_reading)| part(value, digits.is_some(), of_reading.is_some()))
        .boxed()
}

fn is_digits(found: &Tok<'_>) -> bool {
    matches!(found.text, "digits" | "digit")
}

fn part(value: Amount, digits: bool, of_reading: bool) -> AccuracyPart {
    let counted =
        digits || value.unit.as_ref().is_some_and(|unit| matches!(unit.text.as_str(), "digits" | "digit"));
    if counted {
        let number: Number = value.number;
        return AccuracyPart::Digits(number);
    }
    if of_reading { AccuracyPart::OfReading(value) } else { AccuracyPart::Fixed(value) }
}

/// `at each cylinder`, where it may stand.
pub(super) fn each_place<'t>() -> impl Parser<'t, Input<'t>, Option<Name>, Extra> + Clone + 't {
    let at_each = at_word().then(must(Word::Each, |next| next.is_name())).ignore_then(or_lost_name());
    at_each.or_not().map(|place| place.filter(|place| !place.text.is_empty()))
}
