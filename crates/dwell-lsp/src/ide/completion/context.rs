//! What stands before the cursor, and what kind of name is meant there.

use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::parse::{Ahead, Label, ahead};
use dwell_syntax::tree::Span;
use dwell_syntax::words::Word;

/// A token before the cursor.
#[derive(Clone, Debug)]
pub(super) struct Before {
    pub(super) kind: TokenKind,
    pub(super) text: String,
}

/// The place of the cursor.
pub(super) struct Context {
    /// The tokens before the word at the cursor.
    pub(super) tokens: Vec<Before>,
    /// What the grammar waits for.
    pub(super) ahead: Ahead,
    /// Whether the word at the cursor is the first on its line, or stands right after a brace.
    pub(super) first: bool,
    /// The word at the cursor.
    pub(super) span: Span,
}

/// A kind of name that is meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Wants {
    /// Tools for a reading of this kind, or that set something.
    Tools {
        kind: Option<String>,
        sets: bool,
    },
    /// Specs for a reading, or for a kind.
    Specs {
        reading: Option<String>,
    },
    /// Specs and computed limits of torque, and what is connected to.
    Targets,
    Items,
    Kinds,
    Handlings,
    Hazards,
    Positions,
    Series,
    Procedures,
    Steps,
    Rules,
    Readings,
    Verbs,
    Variants,
    /// The states or values of a thing, a variant, an answer.
    ValuesOf(String),
    /// The places of a thing that is there more than once.
    PlacesOf(String),
    /// Items with this verb.
    WithVerb(String),
    /// What a case can give.
    CaseEntries,
}

impl Context {
    /// The place of a word that begins at `start`.
    pub(super) fn of(text: &str, start: usize, span: Span) -> Context {
        let before = text.get(..start).unwrap_or_default();
        let lexed = lex(before);
        let after = lexed.tokens.last().map_or(0, |last| last.span.end);
        let brace = lexed
            .tokens
            .last()
            .is_none_or(|last| matches!(last.kind, TokenKind::OpenBrace | TokenKind::CloseBrace));
        let gap = before.get(after..).unwrap_or_default();
        let tokens = lexed.tokens.iter().map(|token| Before {
            kind: token.kind,
            text: before.get(token.span.start..token.span.end).unwrap_or_default().to_owned(),
        });
        Context {
            tokens: tokens.collect(),
            ahead: ahead(text, start),
            first: brace || gap.contains(['\n', '\r']),
            span,
        }
    }

    /// The word so many tokens before the cursor, the last one first.
    pub(super) fn word_before(&self, back: usize) -> &str {
        self.tokens.iter().rev().nth(back).map_or("", |token| token.text.as_str())
    }

    /// Whether the cursor is right after a brace.
    pub(super) fn after_brace(&self) -> bool {
        matches!(
            self.tokens.last().map(|token| token.kind),
            Some(TokenKind::OpenBrace | TokenKind::CloseBrace)
        )
    }

    /// The word at the head of the statement or line that the cursor is in, with its place.
    pub(super) fn head(&self) -> Option<(usize, &str)> {
        let heads = |token: &Before| {
            let word = Word::of(&token.text);
            token.kind == TokenKind::LineWord
                && word.is_none_or(|word| {
                    !word.is_hard() || matches!(word, Word::If | Word::For | Word::Otherwise)
                })
        };
        let place = self.tokens.iter().rposition(heads)?;
        Some((place, self.tokens.get(place)?.text.as_str()))
    }

    /// The words before the innermost brace that is open, the nearest last; and further out.
    pub(super) fn headers(&self) -> Vec<&str> {
        let mut depth = 0usize;
        let mut headers = Vec::new();
        for (place, token) in self.tokens.iter().enumerate().rev() {
            match token.kind {
                TokenKind::CloseBrace => depth += 1,
                TokenKind::OpenBrace if depth > 0 => depth -= 1,
                TokenKind::OpenBrace => {
                    let line = self.tokens.get(..place).unwrap_or_default().iter().rev();
                    let head = line.clone().find(|token| token.kind == TokenKind::LineWord);
                    headers.extend(head.map(|head| head.text.as_str()));
                }
                _ => {}
            }
        }
        headers
    }

    /// The word that the innermost block begins with: "step", "case", "spec".
    pub(super) fn header(&self) -> &str {
        self.headers().first().copied().unwrap_or_default()
    }

    /// Whether the cursor is among the instructions of a step or of `restore`.
    pub(super) fn in_block(&self) -> bool {
        self.headers().iter().any(|header| matches!(*header, "step" | "restore"))
    }

    /// Whether a line of the declaration at the cursor can begin with a word.
    pub(super) fn line_can_be(&self, word: Word) -> bool {
        use Word::{
            Adjust, Between, By, Calibrated, Check, Condition, Extends, Fits, Impedance, Limits, Located,
            May, Means, Measures, Moves, Needs, Negative, Never, Not, Outside, Positive, Reaches, Rows, Sets,
            Settles, Signed, Source, Stages, States, Torque, Waive, Warms, Withdrawn, Zeroed,
        };
        let common = matches!(word, Waive);
        common
            || match self.header() {
                "spec" => {
                    matches!(word, Check | Adjust | Not | Source | Condition | Stages | Signed | Withdrawn)
                }
                "table" | "rows" => {
                    matches!(word, Word::At | Rows | Between | Outside | Source | Condition | Not | Withdrawn)
                }
                "tool" => matches!(
                    word,
                    Measures
                        | Sets
                        | Fits
                        | Calibrated
                        | Warms
                        | Settles
                        | Zeroed
                        | Impedance
                        | Reaches
                        | Extends
                ),
                "item" => matches!(word, Located | Torque | May | Fits),
                "handling" => matches!(word, States | By | May),
                "quantity" => {
                    matches!(word, Never | Positive | Negative | Limits | Means | Moves | Needs | Word::Is)
                }
                _ => false,
            }
    }

    /// The word that governs the name at the cursor: after commas, the one before the list.
    fn governor(&self) -> (usize, &str) {
        const OPENS: &[&str] = &[
            "with", "needs", "brings", "is", "are", "states", "moves", "stay", "by", "of", "measure",
            "adjust", "to", "leaves",
        ];
        let mut place = self.tokens.len();
        while let Some(token) = place.checked_sub(1).and_then(|last| self.tokens.get(last)) {
            place -= 1;
            let list = place + 1 < self.tokens.len() || token.kind == TokenKind::Comma || token.text == "or";
            let ends = !list
                || OPENS.contains(&token.text.as_str())
                || matches!(
                    token.kind,
                    TokenKind::Colon | TokenKind::OpenBrace | TokenKind::CloseBrace | TokenKind::Arrow
                );
            if ends {
                return (place, token.text.as_str());
            }
        }
        (0, "")
    }

    fn at(&self, place: usize) -> &str {
        self.tokens.get(place).map_or("", |token| token.text.as_str())
    }

    /// The kinds of names that are meant at the cursor.
    pub(super) fn wants(&self) -> Vec<Wants> {
        let awaits =
            [Label::Name, Label::Value, Label::Formula, Label::Condition, Label::Test, Label::ItemOnLine];
        let named = awaits.iter().any(|label| self.ahead.has(*label));
        if self.first {
            return self.wants_first();
        }
        let (place, governor) = self.governor();
        let (head_place, head) = self.head().unwrap_or((0, ""));
        let one_before = |place: usize| place.checked_sub(1).map_or("", |before| self.at(before)).to_owned();
        // The values of a variant or an answer, after its name.
        if self.header() == "case" && head_place + 1 == self.tokens.len() {
            return vec![Wants::ValuesOf(head.to_owned())];
        }
        if head == "applies" && self.tokens.len() > head_place + 2 {
            return vec![Wants::ValuesOf(self.at(head_place + 2).to_owned())];
        }
        if governor == "waive" {
            return vec![Wants::Rules];
        }
        if !named {
            return Vec::new();
        }
        match governor {
            "with" => vec![Wants::Tools {
                kind: self.kind_of_measure(head_place, head),
                sets: head != "measure" && head != "keep",
            }],
            "meets" | "misses" => vec![Wants::Specs { reading: Some(one_before(place)) }],
            "to" => match head {
                "adjust" => vec![Wants::Specs { reading: Some(one_before(place)) }],
                "refer" => vec![Wants::Procedures],
                "back" | "on" => vec![Wants::Steps],
                "applies" => vec![Wants::Variants],
                _ => vec![Wants::Targets],
            },
            "by" if self.at(place.saturating_sub(1)) == "checked" => vec![Wants::Specs { reading: None }],
            "by" if self.header() == "needs" => vec![Wants::Procedures],
            "by" => vec![Wants::Kinds],
            "perform" => vec![Wants::Procedures, Wants::Steps],
            "from" => vec![Wants::Series],
            ":" if matches!(head, "item" | "tool") => vec![Wants::Handlings],
            ":" => vec![Wants::Kinds],
            "measures" | "sets" | "moves" => vec![Wants::Kinds],
            "is" | "are" => vec![Wants::ValuesOf(self.subject(place))],
            "not" => vec![Wants::ValuesOf(self.subject(place.saturating_sub(1)))],
            "each" => vec![Wants::Positions],
            "at" => {
                let mut all = vec![Wants::PlacesOf(if head == "measure" {
                    one_before(place)
                } else {
                    self.at(head_place + 1).to_owned()
                })];
                all.extend((head == "measure").then_some(Wants::Items));
                all
            }
            "danger" | "warning" | "caution" | "notice" => vec![Wants::Hazards],
            "brings" => vec![Wants::Hazards, Wants::Items],
            "since" => vec![Wants::Verbs],
            "when" => vec![Wants::Variants, Wants::Items],
            "zeroes" => vec![Wants::Tools { kind: None, sets: false }],
            "cause" | "proves" | "needs" | "leaves" => vec![Wants::Items],
            "keep" => vec![Wants::Items, Wants::Kinds],
            "torque" => vec![Wants::Targets],
            "measure" => vec![Wants::Readings, Wants::Kinds],
            "adjust" | "first" => vec![Wants::Readings],
            "target" => Vec::new(),
            "of" if self.at(place.saturating_sub(1)) == "target" => vec![Wants::Specs { reading: None }],
            "choose" | "let" | "read" | "ask" | "procedure" | "step" | "item" | "tool" | "spec" => Vec::new(),
            _ if head == "keep" && place == head_place + 1 => vec![Wants::ValuesOf(governor.to_owned())],
            _ if self.at(place.saturating_sub(1)) == "since" => vec![Wants::WithVerb(governor.to_owned())],
            _ if self.ahead.has(Label::Formula) || self.ahead.has(Label::Condition) => {
                vec![Wants::Readings, Wants::Items, Wants::Variants]
            }
            _ => Vec::new(),
        }
    }

    /// What a line can begin with, beside words.
    fn wants_first(&self) -> Vec<Wants> {
        match self.header() {
            "needs" | "leaves" => vec![Wants::Items],
            "case" => vec![Wants::CaseEntries],
            _ => Vec::new(),
        }
    }

    /// The name before `is`, where one place of it may be said.
    fn subject(&self, is: usize) -> String {
        let back = |by: usize| is.checked_sub(by).map_or("", |place| self.at(place));
        if back(2) == "at" { back(3).to_owned() } else { back(1).to_owned() }
    }

    /// The kind of the first reading of a `measure`, or what it is named like.
    fn kind_of_measure(&self, head_place: usize, head: &str) -> Option<String> {
        if head == "keep" || head == "measure" {
            let name = self.at(head_place + 1);
            let kind = if self.at(head_place + 2) == ":" { self.at(head_place + 3) } else { name };
            return Some(kind.to_owned());
        }
        None
    }
}
