//! One break of the library: the edits of one file, what was done in words, and where it must be found.

use std::collections::BTreeSet;

use dwell_syntax::tree::Span;

use super::ground::Ground;
use crate::merle::Merle;

/// Where the finding must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Near {
    /// On the lines that were touched, or the line before or after.
    Line,
    /// In the declaration that was touched: the procedure, the spec.
    Declaration,
    /// Anywhere in the files that are checked: what is wrong is seen where the thing is used.
    Use,
}

/// One break.
#[derive(Clone, Debug)]
pub(super) struct Broken {
    /// The file that is edited.
    pub(super) file: String,
    /// Places and what stands there instead.
    edits: Vec<(Span, String)>,
    /// What was done.
    pub(super) what: String,
    /// Where it must be found.
    pub(super) near: Near,
    /// The files that are checked; where there are none, those that hold the edited file or use it.
    pub(super) roots: Vec<String>,
}

impl Broken {
    pub(super) fn of(file: &str, what: impl Into<String>) -> Broken {
        Broken {
            file: file.to_owned(),
            edits: Vec::new(),
            what: what.into(),
            near: Near::Line,
            roots: Vec::new(),
        }
    }

    /// Takes this out.
    pub(super) fn cut(self, span: Span) -> Broken {
        self.swap(span, "")
    }

    /// Puts this in.
    pub(super) fn put(self, at: usize, text: impl Into<String>) -> Broken {
        self.swap(Span { start: at, end: at }, text)
    }

    /// Puts this in the place of that.
    pub(super) fn swap(mut self, span: Span, text: impl Into<String>) -> Broken {
        self.edits.push((span, text.into()));
        self.edits.sort_by_key(|(span, _)| *span);
        self
    }

    /// Where it must be found.
    pub(super) fn near(mut self, near: Near) -> Broken {
        self.near = near;
        self
    }

    /// What is checked.
    pub(super) fn checked(mut self, root: &str) -> Broken {
        self.roots.push(root.to_owned());
        self
    }

    /// Where in the file it begins.
    pub(super) fn start(&self) -> usize {
        self.edits.first().map_or(0, |(span, _)| span.start)
    }

    /// The text of the file with it, and the lines that were touched, from 0.
    pub(super) fn text(&self, sound: &str) -> (String, BTreeSet<usize>) {
        let mut text = String::new();
        let mut touched = BTreeSet::new();
        let mut done = 0;
        for (span, with) in &self.edits {
            text.push_str(&sound[done..span.start]);
            let first = text.matches('\n').count();
            text.push_str(with);
            touched.extend(first..=text.matches('\n').count());
            done = span.end;
        }
        text.push_str(&sound[done..]);
        (text, touched)
    }

    /// The library with it.
    pub(super) fn made_in(&self, ground: &Ground) -> (Merle, BTreeSet<usize>) {
        let (text, touched) = self.text(&ground.merle.files[&self.file]);
        (ground.merle.clone().with(&self.file, &text), touched)
    }
}
