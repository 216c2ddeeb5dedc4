//! What a rule is given: the files, what is declared in them, and all that was found wrong on the way.

use crate::finding::Place;
use crate::model::{Model, Spec, Thing};
use crate::options::Options;
use crate::program::Program;
use crate::prose::Passage;
use crate::trouble::Trouble;
use dwell_syntax::slip::Slip;
use dwell_syntax::tree::{DeclarationKind, Procedure, Span};

/// The facts that the rules put into words. No rule looks anywhere else.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Facts<'a> {
    /// The files.
    pub(crate) program: &'a Program,
    /// What is declared in them.
    pub(crate) model: &'a Model,
    /// What was said beside the texts.
    pub(crate) options: &'a Options,
    /// The texts for the technician, as far as they are English.
    pub(crate) prose: &'a [Passage<'a>],
    /// What was found wrong while names, quantities and flow were worked out.
    pub(crate) troubles: &'a [Trouble],
}

impl<'a> Facts<'a> {
    /// The text at a place; empty where the place is in no file.
    pub(crate) fn text(&self, place: Place) -> &'a str {
        let file = self.program.files.get(place.file);
        file.and_then(|file| file.text.get(place.span.start..place.span.end)).unwrap_or_default()
    }

    /// The procedures of the files that were asked for: the file, the procedure and where it is declared.
    pub(crate) fn procedures(&self) -> impl Iterator<Item = (usize, &'a Procedure, Span)> {
        let files = self.program.files.iter().enumerate().filter(|(_, file)| file.root);
        files.flat_map(|(file, source)| {
            source.tree.declarations.iter().filter_map(move |declared| match &declared.kind {
                DeclarationKind::Procedure(procedure) => Some((file, procedure.as_ref(), declared.span)),
                _ => None,
            })
        })
    }

    /// What a name means in a file.
    pub(crate) fn thing(&self, file: usize, name: &str) -> Option<Thing> {
        self.model.scopes.get(file)?.names.get(name).copied()
    }

    /// The spec that a name means in a file.
    pub(crate) fn spec(&self, file: usize, name: &str) -> Option<&'a Spec> {
        match self.thing(file, name)? {
            Thing::Spec(spec) | Thing::Table(spec) => self.model.specs.get(spec),
            _ => None,
        }
    }

    /// What could not be read, as far as `belongs` says of its rule, each with its file.
    pub(crate) fn slips(&self, belongs: impl Fn(&str) -> bool) -> impl Iterator<Item = (usize, &'a Slip)> {
        let files = self.program.files.iter().enumerate();
        files
            .flat_map(|(file, source)| source.slips.iter().map(move |slip| (file, slip)))
            .filter(move |(_, slip)| belongs(slip.rule))
    }
}
