//! The texts that are written for the technician, cut into sentences and words: what the rules about words look at.
//!
//! Only texts in English are looked at: the lists of words are English ones. See [`english`].

mod english;
pub(crate) mod lists;
mod numbers;
mod phrases;
mod sentence;
#[cfg(test)]
mod tests;
mod walk;

use crate::finding::Place;
use crate::program::Program;
use dwell_syntax::tree::{Span, StatementKind};

pub(crate) use numbers::typed;
pub(crate) use sentence::{Sentence, Word};

/// What a text is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// An instruction in the writer's own words: `do "…"`.
    Work,
    /// What is said beside a verb, a measurement, a wait, a `keep`.
    Beside,
    /// `ask`.
    Question,
    /// `note`.
    Note,
    /// A danger, warning, caution or notice.
    Caution,
    /// `end`, `refer`: how it goes on.
    End,
}

/// One text.
#[derive(Clone, Debug)]
pub(crate) struct Passage<'a> {
    /// What it is there for.
    pub(crate) role: Role,
    /// Where it stands, with its quotes.
    pub(crate) place: Place,
    /// The statement that it stands in.
    pub(crate) statement: &'a StatementKind,
    /// Where that stands.
    pub(crate) whole: Place,
    /// Its sentences.
    pub(crate) sentences: Vec<Sentence<'a>>,
}

/// Every text of the procedures of the checked files, as far as the texts of a file are English.
pub(crate) fn passages(program: &Program) -> Vec<Passage<'_>> {
    let mut all = Vec::new();
    for (file, source) in program.files.iter().enumerate().filter(|(_, source)| source.root) {
        let mut of_file = Vec::new();
        walk::texts(&source.tree, &mut |role, text: Span, statement, whole| {
            let inside = source.text.get(text.start + 1..text.end.saturating_sub(1)).unwrap_or_default();
            of_file.push(Passage {
                role,
                place: Place { file, span: text },
                statement,
                whole: Place { file, span: whole },
                sentences: sentence::sentences(inside, text.start + 1),
            });
        });
        if english::english(of_file.iter().flat_map(|passage| &passage.sentences)) {
            all.append(&mut of_file);
        }
    }
    all
}

impl Passage<'_> {
    /// The place of some of its words, the first and the last one included.
    pub(crate) fn at(&self, first: &Word<'_>, last: &Word<'_>) -> Place {
        Place { file: self.place.file, span: Span::new(first.start, last.end()) }
    }

    /// Whether it tells the technician to do something.
    pub(crate) fn instructs(&self) -> bool {
        matches!(self.role, Role::Work | Role::Beside)
    }
}
