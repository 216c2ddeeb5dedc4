//! Threads and connectors: whether two things that are joined fit each other, or what is taken in between fits both.

use super::Lowerer;
use crate::model::{Item, Thing};
use crate::names;
use crate::trouble::Trouble;
use dwell_syntax::tree::{Clause, Handle, Measure, Name};

impl<'a> Lowerer<'a> {
    /// What stands after `with`: a tool, or a thing that says what it fits, as people call it; a tool with its place on
    /// the card.
    pub(super) fn taken_along(&mut self, name: &Name) -> Option<(String, Option<usize>)> {
        let between = match self.named(name) {
            Some(Thing::Item(item)) => self.model.items.get(item).filter(|thing| !thing.fits.is_empty()),
            _ => None,
        };
        if let Some(thing) = between {
            return Some((thing.label.clone(), None));
        }
        let tool = self.tool_named(name)?;
        let label = self.out.card.tools.get(tool).map(|tool| tool.label.clone())?;
        Some((label, Some(tool)))
    }

    /// Tells where two things that are joined fit nothing in common, and nothing is taken along that fits both.
    pub(super) fn fitting(&mut self, handle: &Handle, item: usize, target: usize) {
        let model = self.model;
        let Some((one, other)) = model.items.get(item).zip(model.items.get(target)) else { return };
        if one.fits.is_empty() || other.fits.is_empty() || fit(one, other) {
            return;
        }
        let along: Vec<&Item> = handle.with.iter().filter_map(|name| self.item_of(name)).collect();
        if along.iter().any(|between| fit(one, between) && fit(between, other)) {
            return;
        }
        let end = match &handle.to {
            Some(dwell_syntax::tree::To::Name(name)) => name.span.end,
            _ => handle.item.span.end,
        };
        let span = dwell_syntax::tree::Span::new(handle.verb.span.start, end);
        self.troubles.push(Trouble::FittingMismatch {
            place: self.place(span),
            one: (one.label.clone(), one.fits.clone(), one.place),
            other: (other.label.clone(), other.fits.clone(), other.place),
            along: along.iter().map(|thing| thing.label.clone()).collect(),
            measured: false,
        });
    }

    /// Tells where a tool measures at a thing, and both say what they are made for and have nothing in common: a hand meter
    /// at high-voltage terminals.
    pub(super) fn fitting_at(&mut self, measure: &Measure) {
        let at = measure.clauses.iter().find_map(|clause| match clause {
            Clause::At(name) => Some(name),
            _ => None,
        });
        let things = measure.with.as_ref().zip(at);
        let Some((tool, place)) = things.and_then(|(tool, at)| self.item_of(tool).zip(self.item_of(at)))
        else {
            return;
        };
        if tool.fits.is_empty() || place.fits.is_empty() || fit(tool, place) {
            return;
        }
        let span = measure.with.as_ref().zip(at).map(|(tool, at)| tool.span.to(at.span)).unwrap_or_default();
        self.troubles.push(Trouble::FittingMismatch {
            place: self.place(span),
            one: (tool.label.clone(), tool.fits.clone(), tool.place),
            other: (place.label.clone(), place.fits.clone(), place.place),
            along: Vec::new(),
            measured: true,
        });
    }

    fn named(&self, name: &Name) -> Option<Thing> {
        let fits = |thing| matches!(thing, Thing::Item(_) | Thing::Tool(_));
        names::look_up(self.model, self.file(), name, "an item or a tool", fits).ok()
    }

    fn item_of(&self, name: &Name) -> Option<&'a Item> {
        match self.named(name)? {
            Thing::Item(item) | Thing::Tool(item) => self.model.items.get(item),
            _ => None,
        }
    }
}

/// Whether two things have a thread or connector in common.
fn fit(one: &Item, other: &Item) -> bool {
    one.fits.iter().any(|a| other.fits.iter().any(|b| bare(a) == bare(b)))
}

/// A thread as it is compared: blanks and capitals make no difference, and `x` is `×`.
fn bare(written: &str) -> String {
    let letters = written.chars().filter(|letter| !letter.is_whitespace());
    letters.flat_map(char::to_lowercase).map(|letter| if letter == '×' { 'x' } else { letter }).collect()
}
