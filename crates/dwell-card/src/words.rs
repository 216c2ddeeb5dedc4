//! What the texts of a card show of the job: `{reading 3}`, `{answer 0}`, `{variant 1}`, each by its place in the card's lists.

use crate::card::Card;

/// Something of the job that a text shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Shown {
    /// The latest value of a reading.
    Reading(usize),
    /// The answer to a question.
    Answer(usize),
    /// The value of a variant.
    Variant(usize),
}

impl std::fmt::Display for Shown {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Shown::Reading(place) => write!(out, "{{reading {place}}}"),
            Shown::Answer(place) => write!(out, "{{answer {place}}}"),
            Shown::Variant(place) => write!(out, "{{variant {place}}}"),
        }
    }
}

/// The text with `say` in the place of all that it shows; a brace that means nothing stays as it is.
pub fn filled(text: &str, say: &dyn Fn(Shown) -> String) -> String {
    let mut all = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        all.push_str(before);
        match after.split_once('}').and_then(|(inside, after)| Some((shown(inside)?, after))) {
            Some((what, after)) => {
                all.push_str(&say(what));
                rest = after;
            }
            None => {
                all.push('{');
                rest = after;
            }
        }
    }
    all.push_str(rest);
    all
}

/// The text as it was written, with the names between the braces: for those who read the text and not the vehicle.
pub fn as_written(text: &str, card: &Card) -> String {
    filled(text, &|shown| {
        let name = match shown {
            Shown::Reading(place) => card.readings.get(place).map(|known| match &known.at {
                Some(at) => format!("{} at {at}", known.name),
                None => known.name.clone(),
            }),
            Shown::Answer(place) => card.questions.get(place).map(|known| known.name.clone()),
            Shown::Variant(place) => card.axes.get(place).map(|known| known.name.clone()),
        };
        format!("{{{}}}", name.unwrap_or_else(|| "?".to_owned()))
    })
}

/// All that a text shows.
pub fn shown_in(text: &str) -> Vec<Shown> {
    text.split('{').skip(1).filter_map(|part| shown(part.split_once('}')?.0)).collect()
}

fn shown(inside: &str) -> Option<Shown> {
    let (what, place) = inside.split_once(' ')?;
    let place = place.parse().ok()?;
    match what {
        "reading" => Some(Shown::Reading(place)),
        "answer" => Some(Shown::Answer(place)),
        "variant" => Some(Shown::Variant(place)),
        _ => None,
    }
}
