//! What the parser notes where it cannot go on: a place and the set of what could stand there, small enough to copy.

use chumsky::DefaultExpected;
use chumsky::error::{Error, LabelError};
use chumsky::span::SimpleSpan;
use chumsky::util::MaybeRef;

use super::input::{Input, Tok};
use crate::lex::TokenKind;
use crate::words::{Group, Word};

/// Something that could stand at a place, in the reader's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Label {
    Declaration,
    Part,
    Statement,
    Line,
    Name,
    ItemOnLine,
    Text,
    Amount,
    Count,
    Band,
    Formula,
    Test,
    Date,
    Value,
    Unit,
    Fold,
    Outcome,
    Condition,
    End,
}

/// All labels, in the order in which a message names them.
const LABELS: &[(Label, &str)] = &[
    (Label::Declaration, "a word such as `procedure`, `item` or `spec`"),
    (Label::Part, "a part of a procedure (such as `step`, `needs` or `restore`)"),
    (Label::Statement, "an instruction (such as `measure`, or a verb with its item)"),
    (Label::Line, "a line that belongs between these braces"),
    (Label::Name, "a name"),
    (Label::ItemOnLine, "the item of this verb (on the same line)"),
    (Label::Text, "a text in quotes"),
    (Label::Amount, "a number with its unit"),
    (Label::Count, "a count"),
    (Label::Band, "a band (such as `62 ± 6 Hz`, `13.8 .. 14.6 V` or `at least 2 mm`)"),
    (Label::Formula, "a reading or a number"),
    (Label::Test, "a test (such as `meets`, `at least`, `within` or `is`)"),
    (Label::Date, "a date (such as 2031-02-11)"),
    (Label::Value, "a value"),
    (Label::Unit, "a unit"),
    (Label::Fold, "`mean`, `highest`, `lowest`, `spread`, `sum`, `furthest` or `last`"),
    (Label::Outcome, "`passed`, `failed` or `unfinished`"),
    (Label::Condition, "a condition"),
    (Label::End, "the end of the file"),
];

/// Kinds of token that can be expected as such.
const KINDS: &[(TokenKind, &str)] = &[
    (TokenKind::PlusMinus, "`±`"),
    (TokenKind::DotDot, "`..`"),
    (TokenKind::Arrow, "`->`"),
    (TokenKind::Colon, "`:`"),
    (TokenKind::Comma, "`,`"),
    (TokenKind::Equals, "`=`"),
    (TokenKind::OpenBrace, "`{`"),
    (TokenKind::CloseBrace, "`}`"),
    (TokenKind::OpenParen, "`(`"),
    (TokenKind::CloseParen, "`)`"),
    (TokenKind::Plus, "`+`"),
    (TokenKind::Minus, "`-`"),
    (TokenKind::Times, "`·`"),
    (TokenKind::Over, "`/`"),
];

/// A set of labels, kinds of token and words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Expected {
    labels: u32,
    kinds: u32,
    words: [u64; 4],
}

impl Expected {
    pub(super) fn label(label: Label) -> Expected {
        let place = LABELS.iter().position(|(known, _)| *known == label);
        Expected { labels: bit(place), ..Expected::default() }
    }

    pub(super) fn kind(kind: TokenKind) -> Expected {
        let place = KINDS.iter().position(|(known, _)| *known == kind);
        Expected { kinds: bit(place), ..Expected::default() }
    }

    pub(super) fn word(word: Word) -> Expected {
        let mut words = [0; 4];
        let place = word as usize;
        if let Some(part) = words.get_mut(place / 64) {
            *part = 1 << (place % 64);
        }
        Expected { words, ..Expected::default() }
    }

    /// What is named of it: where a test or `is` is missing, that alone.
    pub(super) fn foremost(self) -> Expected {
        if self.has_label(Label::Test) {
            return Expected::label(Label::Test);
        }
        let is = Expected::word(Word::Is);
        if self.has_word(Word::Is) && self.labels == 0 { is } else { self }
    }

    /// Without what begins something new, unless nothing else is left.
    pub(super) fn going_on(self) -> Expected {
        let begins = [Label::Declaration, Label::Part, Label::Statement, Label::Line];
        let begins = begins.into_iter().fold(0, |bits, label| bits | Expected::label(label).labels);
        let end = Expected::kind(TokenKind::CloseBrace).kinds;
        let rest = Expected { labels: self.labels & !begins, kinds: self.kinds & !end, ..self };
        if rest == Expected::default() { self } else { rest }
    }

    pub(super) fn and(mut self, other: Expected) -> Expected {
        self.labels |= other.labels;
        self.kinds |= other.kinds;
        for (mine, theirs) in self.words.iter_mut().zip(other.words) {
            *mine |= theirs;
        }
        self
    }

    pub(super) fn has_label(self, label: Label) -> bool {
        self.labels & Expected::label(label).labels != 0
    }

    pub(super) fn has_word(self, word: Word) -> bool {
        let place = word as usize;
        self.words.get(place / 64).is_some_and(|part| part & (1 << (place % 64)) != 0)
    }

    pub(super) fn has_kind(self, kind: TokenKind) -> bool {
        self.kinds & Expected::kind(kind).kinds != 0
    }

    /// Whether `word` could stand here, by itself or as a part of what a label names.
    pub(super) fn can_be(self, word: Word) -> bool {
        let begins_band = matches!(word, Word::Above | Word::Below | Word::Within | Word::Exactly);
        self.has_word(word)
            || (self.has_label(Label::Test)
                && (begins_band
                    || matches!(word, Word::Meets | Word::Misses | Word::At | Word::Is | Word::Are)))
            || (self.has_label(Label::Band) && begins_band)
            || (self.has_label(Label::Line)
                && (word.group() == Group::Line || matches!(word, Word::Adjust | Word::Withdrawn)))
            || (self.has_label(Label::Fold) && word.group() == Group::Fold)
            || (self.has_label(Label::Outcome) && word.group() == Group::Outcome)
            || (self.has_label(Label::Statement) && word.begins_statement())
            || (self.has_label(Label::Part) && word.begins_part())
            || (self.has_label(Label::Declaration) && word.begins_declaration())
    }

    /// Each as a person reads it: labels first, then words, then signs.
    pub(super) fn shown(self) -> Vec<String> {
        let labels =
            LABELS.iter().filter(|(label, _)| self.has_label(*label)).map(|(_, shown)| (*shown).to_owned());
        let words = crate::words::WORDS
            .iter()
            .filter(|word| self.has_word(**word))
            .map(|word| format!("`{}`", word.text()));
        let kinds =
            KINDS.iter().filter(|(kind, _)| self.has_kind(*kind)).map(|(_, shown)| (*shown).to_owned());
        labels.chain(words).chain(kinds).collect()
    }
}

fn bit(place: Option<usize>) -> u32 {
    place.and_then(|place| u32::try_from(place).ok()).and_then(|place| 1u32.checked_shl(place)).unwrap_or(0)
}

/// What is said of a place where the parser went on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Saying {
    /// A word after a number that is no unit.
    UnitUnknown,
    /// A word that is nearly this keyword.
    Misspelt(Word),
    /// A word that is missing before the token.
    Lost(Word),
    /// `otherwise` with nothing before it that could go another way.
    Orphan,
    /// A block after a statement, without its word.
    LostArm,
    /// A block among the parts of a procedure, without its word.
    LostPart,
    /// A statement between the parts of a procedure.
    Loose,
    /// `and` and `or` in one condition.
    Mixed,
    /// `every` or `any` before a later test.
    QuantifierAgain,
    /// `x -5`.
    GluedSign,
    /// `5 - 8 mm` where a band stands.
    DashRange,
    /// A count that is no whole number from 1 to 10,000.
    Count,
    /// `is` after a formula.
    FormulaIs,
    /// `at most 5 times`.
    TimesBound,
    /// A word after `end` or `ends` that is no outcome.
    Outcome,
}

/// One place where the parser could not go on, or went on with a slip. Places are indices of tokens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Mistake {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) expected: Expected,
    pub(super) saying: Option<Saying>,
}

impl Mistake {
    pub(super) fn expected(span: SimpleSpan<usize>, expected: Expected) -> Mistake {
        Mistake { start: span.start, end: span.end, expected, saying: None }
    }

    pub(super) fn said(span: SimpleSpan<usize>, saying: Saying) -> Mistake {
        Mistake { start: span.start, end: span.end, expected: Expected::default(), saying: Some(saying) }
    }
}

impl<'t> Error<'t, Input<'t>> for Mistake {
    fn merge(self, other: Self) -> Self {
        match (self.saying, other.saying) {
            (Some(_), _) => self,
            (None, Some(_)) => other,
            (None, None) => Mistake { expected: self.expected.and(other.expected), ..self },
        }
    }
}

impl<'t> LabelError<'t, Input<'t>, DefaultExpected<'t, Tok<'t>>> for Mistake {
    fn expected_found<E: IntoIterator<Item = DefaultExpected<'t, Tok<'t>>>>(
        expected: E,
        _: Option<MaybeRef<'t, Tok<'t>>>,
        span: SimpleSpan<usize>,
    ) -> Self {
        let ends = expected.into_iter().any(|one| matches!(one, DefaultExpected::EndOfInput));
        Mistake::expected(span, if ends { Expected::label(Label::End) } else { Expected::default() })
    }
}

impl<'t> LabelError<'t, Input<'t>, Label> for Mistake {
    fn expected_found<E: IntoIterator<Item = Label>>(
        expected: E,
        _: Option<MaybeRef<'t, Tok<'t>>>,
        span: SimpleSpan<usize>,
    ) -> Self {
        let set =
            expected.into_iter().fold(Expected::default(), |set, label| set.and(Expected::label(label)));
        Mistake::expected(span, set)
    }

    fn label_with(&mut self, label: Label) {
        if self.saying.is_none() {
            self.expected = Expected::label(label);
        }
    }
}
