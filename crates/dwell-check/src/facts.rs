//! What a rule is given: the files, what is declared in them, and all that was found wrong on the way.

use crate::finding::Place;
use crate::model::Model;
use crate::program::Program;
use crate::trouble::Trouble;
use dwell_syntax::slip::Slip;

/// The facts that the rules put into words. No rule looks anywhere else.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Facts<'a> {
    /// The files.
    pub(crate) program: &'a Program,
    /// What is declared in them.
    pub(crate) model: &'a Model,
    /// The day that counts, year-month-day; none where no day does.
    pub(crate) day: Option<&'a str>,
    /// What was found wrong while names, quantities and flow were worked out.
    pub(crate) troubles: &'a [Trouble],
}

impl<'a> Facts<'a> {
    /// The text at a place; empty where the place is in no file.
    pub(crate) fn text(&self, place: Place) -> &'a str {
        let file = self.program.files.get(place.file);
        file.and_then(|file| file.text.get(place.span.start..place.span.end)).unwrap_or_default()
    }

    /// What could not be read, as far as `belongs` says of its rule, each with its file.
    pub(crate) fn slips(&self, belongs: impl Fn(&str) -> bool) -> impl Iterator<Item = (usize, &'a Slip)> {
        let files = self.program.files.iter().enumerate();
        files
            .flat_map(|(file, source)| source.slips.iter().map(move |slip| (file, slip)))
            .filter(move |(_, slip)| belongs(slip.rule))
    }
}
