//! Texts as the card has them: what stands between braces is a reading, an answer, a variant or the place in hand.

use super::Lowerer;
use crate::model::Thing;
use crate::names;
use crate::trouble::Trouble;
use dwell_card::words::Shown;
use dwell_syntax::tree::{self, Name, Span};

impl Lowerer<'_> {
    /// A text with all that it shows resolved: `{gap}` becomes the number of the reading, `{cylinder}` the place in hand.
    pub(super) fn spoken(&mut self, text: &tree::Text) -> String {
        let mut all = String::with_capacity(text.text.len());
        let mut rest = text.text.as_str();
        while let Some((before, after)) = rest.split_once('{') {
            all.push_str(before);
            let Some((inside, after)) = after.split_once('}') else {
                self.unknown_word(text, after, "a brace opens here and is not closed: close it with `}`");
                rest = after;
                continue;
            };
            match self.word(inside.trim(), text.span) {
                Some(word) => all.push_str(&word),
                None => self.unknown_word(
                    text,
                    inside,
                    "write the name of a reading, an answer, a variant or a place",
                ),
            }
            rest = after;
        }
        all.push_str(rest);
        all
    }

    /// The same for a text that may be there.
    pub(super) fn spoken_if(&mut self, text: Option<&tree::Text>) -> Option<String> {
        text.map(|text| self.spoken(text))
    }

    /// What stands for a name between braces, `{toe}` or `{toe at left}`.
    fn word(&mut self, inside: &str, span: Span) -> Option<String> {
        let (name, at) = match inside.split_once(" at ") {
            Some((name, at)) => (name.trim(), Some(at.trim())),
            None => (inside, None),
        };
        let frame = self.frames.last()?;
        if let Some(question) = frame.questions.get(name) {
            return Some(Shown::Answer(*question).to_string());
        }
        if let Some(all) = frame.readings.get(name).cloned() {
            return self.readings_shown(&all, at);
        }
        let name = Name { text: name.to_owned(), span };
        match names::look_up(self.model, self.file(), &name, "a reading", |_| true) {
            Ok(Thing::Positions(set)) => {
                let bound = self.frames.last()?.bound.iter().rev().find(|(known, _)| *known == set)?;
                self.model.positions.get(set)?.values.get(bound.1).cloned()
            }
            Ok(Thing::Variant(variant)) => Some(Shown::Variant(self.axis(variant)).to_string()),
            _ => None,
        }
    }

    /// One reading; of a row the one that is meant here, or each with its place.
    fn readings_shown(&self, all: &[usize], at: Option<&str>) -> Option<String> {
        let place =
            |reading: &usize| self.out.card.readings.get(*reading).and_then(|known| known.at.as_deref());
        if at.is_some() {
            let one = all.iter().find(|reading| place(reading) == at)?;
            return Some(Shown::Reading(*one).to_string());
        }
        let here = self.here(all);
        match here.as_slice() {
            [] => None,
            [one] => Some(Shown::Reading(*one).to_string()),
            several => {
                let each = |reading: &usize| match place(reading) {
                    Some(place) => format!("{place}: {}", Shown::Reading(*reading)),
                    None => Shown::Reading(*reading).to_string(),
                };
                Some(several.iter().map(each).collect::<Vec<_>>().join(", "))
            }
        }
    }

    fn unknown_word(&mut self, text: &tree::Text, inside: &str, help: &str) {
        let known = self.frames.last().map(|frame| {
            let all = frame.readings.keys().chain(frame.questions.keys()).map(String::as_str);
            names::near(inside.trim(), all)
        });
        let place = self.place(text.span);
        match known {
            Some(near) if !near.is_empty() => self.troubles.push(Trouble::NotFound {
                place,
                name: inside.trim().to_owned(),
                what: "a reading",
                near,
                elsewhere: None,
            }),
            _ => self.cannot(place, format!("`{{{inside}}}` shows nothing that is known here"), help),
        }
    }
}
