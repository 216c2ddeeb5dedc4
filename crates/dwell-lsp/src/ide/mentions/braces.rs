//! The names between braces in the texts for the technician: `{gap}`, `{toe at left}`.

use super::{Role, Sort, Walk, What, between_quotes};
use dwell_syntax::tree::{Span, Text};

impl<'a> Walk<'a> {
    /// The names in a text whose braces the card fills in. They are looked for in the text as it is typed, so that they
    /// stand where they are found; an escape before them moves nothing.
    pub(super) fn spoken(&mut self, text: &Text) {
        let inside = between_quotes(self.text, text.span);
        let Some(mut rest) = self.text.get(inside.start..inside.end) else { return };
        let mut at = inside.start;
        while let Some((before, after)) = rest.split_once('{') {
            at += before.len() + 1;
            rest = after;
            let Some((inside, after)) = after.split_once('}') else { continue };
            self.shown(inside, at);
            at += inside.len() + 1;
            rest = after;
        }
    }

    /// The same for a text that may be there.
    pub(super) fn spoken_if(&mut self, text: Option<&Text>) {
        if let Some(text) = text {
            self.spoken(text);
        }
    }

    /// What stands between two braces, the first of its bytes at `at`.
    fn shown(&mut self, inside: &'a str, at: usize) {
        let (name, place) = match inside.split_once(" at ") {
            Some((name, place)) => (name, Some((place, at + name.len() + " at ".len()))),
            None => (inside, None),
        };
        let (name, span) = trimmed(name, at);
        let sort = self.local(name).map_or(Sort::Thing(What::Variant), |local| Sort::Local(local.what));
        self.written(name, span, Role::Refers, sort);
        if let Some((place, at)) = place {
            let (place, span) = trimmed(place, at);
            self.written(place, span, Role::Refers, Sort::Place(self.spot(name)));
        }
    }
}

/// Without the blanks at both ends, and where that stands.
fn trimmed(text: &str, at: usize) -> (&str, Span) {
    let start = at + (text.len() - text.trim_start().len());
    let name = text.trim();
    (name, Span::new(start, start + name.len()))
}
