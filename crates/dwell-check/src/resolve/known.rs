//! Small look-ups that declarations and procedures share: quantities, states of items, conditions.

use dwell_syntax::tree::{self, Name};

use crate::finding::Place;
use crate::model::{Choice, Handling, Item, Model, QuantityRef, StateRef, Thing, When};
use crate::names::{look_up, or_all, pick};
use crate::trouble::Trouble;

/// The quantity or kind that a name means in a file. A quantity whose own kind could not be worked out gives `None`
/// without a word, since that was told where it is declared.
pub fn quantity(model: &Model, file: usize, name: &Name, troubles: &mut Vec<Trouble>) -> Option<QuantityRef> {
    let fits = |thing| matches!(thing, Thing::Quantity(_) | Thing::Kind(_));
    match told(look_up(model, file, name, "a quantity", fits), troubles)? {
        Thing::Kind(kind) => Some(QuantityRef::Kind(kind)),
        Thing::Quantity(place) if place < model.quantities.len() => Some(QuantityRef::Declared(place)),
        _ => None,
    }
}

/// The state that `engine is stopped` or `tie-rod-nut at left is tight` means, looked for in all handlings of the item.
pub fn state(
    model: &Model,
    file: usize,
    asked: &tree::StateOf,
    troubles: &mut Vec<Trouble>,
) -> Option<StateRef> {
    let (place, item) = item(model, file, &asked.item, troubles)?;
    let at = match &asked.at {
        None => None,
        Some(at) => {
            let values = item.at_each.and_then(|positions| model.positions.get(positions));
            let values = values.map_or(&[][..], |positions| &positions.values);
            Some(told(pick(file, at, "a place of this item", values.iter().map(String::as_str)), troubles)?)
        }
    };
    let (handling, state) = state_named(model, file, item, &asked.state, troubles)?;
    Some(StateRef { item: place, at, handling, state })
}

/// The conditions after `when`. The name decides what is meant: a variant, a set of positions, or an item with its
/// states. A condition that is not understood is told and left out.
pub fn when(model: &Model, file: usize, asked: &[tree::When], troubles: &mut Vec<Trouble>) -> Vec<When> {
    asked.iter().filter_map(|one| condition(model, file, one, troubles)).collect()
}

fn condition(model: &Model, file: usize, asked: &tree::When, troubles: &mut Vec<Trouble>) -> Option<When> {
    let fits =
        |thing| matches!(thing, Thing::Variant(_) | Thing::Positions(_) | Thing::Item(_) | Thing::Tool(_));
    let what = "a variant, a set of positions or an item";
    let found = told(look_up(model, file, &asked.name, what, fits), troubles)?;
    let picked = |values: &[String], what: &'static str, troubles: &mut Vec<Trouble>| {
        let places: Vec<usize> = asked
            .values
            .iter()
            .filter_map(|value| told(pick(file, value, what, values.iter().map(String::as_str)), troubles))
            .collect();
        (!places.is_empty()).then_some(places)
    };
    match found {
        Thing::Variant(variant) => {
            let declared = model.variants.get(variant)?;
            let values = asked.values.iter();
            let places: Vec<usize> =
                values.filter_map(|value| told(value_of(file, declared, value), troubles)).collect();
            (!places.is_empty()).then_some(When::Variant(variant, places))
        }
        Thing::Positions(positions) => {
            let values = &model.positions.get(positions)?.values;
            Some(When::Position(positions, picked(values, "one of these positions", troubles)?))
        }
        Thing::Item(place) | Thing::Tool(place) => {
            let item = model.items.get(place)?;
            let states: Vec<StateRef> = asked
                .values
                .iter()
                .filter_map(|value| state_named(model, file, item, value, troubles))
                .map(|(handling, state)| StateRef { item: place, at: None, handling, state })
                .collect();
            (!states.is_empty()).then_some(When::State(states))
        }
        _ => None,
    }
}

/// The place of a value among those of a variant.
///
/// # Errors
/// [`Trouble::VariantUnknown`] where the variant has no such value.
#[allow(clippy::result_large_err)] // the trouble is told as it is, on a way that is taken once for each slip
pub(crate) fn value_of(file: usize, variant: &Choice, value: &Name) -> Result<usize, Trouble> {
    let known = variant.values.iter().position(|known| *known == value.text);
    known.ok_or_else(|| Trouble::VariantUnknown {
        place: Place { file, span: value.span },
        value: value.text.clone(),
        variant: variant.name.clone(),
        values: variant.values.clone(),
        near: or_all(&value.text, variant.values.iter().map(String::as_str)),
        declared: variant.place,
    })
}

/// The item or tool of that name.
pub(super) fn item<'a>(
    model: &'a Model,
    file: usize,
    name: &Name,
    troubles: &mut Vec<Trouble>,
) -> Option<(usize, &'a Item)> {
    let fits = |thing| matches!(thing, Thing::Item(_) | Thing::Tool(_));
    match told(look_up(model, file, name, "an item", fits), troubles)? {
        Thing::Item(place) | Thing::Tool(place) => Some((place, model.items.get(place)?)),
        _ => None,
    }
}

/// A state of an item, in whichever of its handlings. An item whose handlings are not known gives `None` without a
/// word.
fn state_named(
    model: &Model,
    file: usize,
    item: &Item,
    name: &Name,
    troubles: &mut Vec<Trouble>,
) -> Option<(usize, usize)> {
    if item.handlings.is_empty() {
        return None;
    }
    let found = of_handlings(model, &item.handlings, |handling| {
        handling.states.iter().position(|state| *state == name.text)
    });
    if found.is_some() {
        return found;
    }
    let states = item
        .handlings
        .iter()
        .filter_map(|handling| model.handlings.get(*handling))
        .flat_map(|handling| handling.states.iter().map(String::as_str));
    told(pick(file, name, "a state of this item", states), troubles);
    None
}

/// The first of some handlings that answers, by its place among them, and its answer.
pub(super) fn of_handlings<T>(
    model: &Model,
    handlings: &[usize],
    ask: impl Fn(&Handling) -> Option<T>,
) -> Option<(usize, T)> {
    handlings.iter().enumerate().find_map(|(place, handling)| {
        let answer = ask(model.handlings.get(*handling)?)?;
        Some((place, answer))
    })
}

/// Tells of names that stand twice in one list.
pub(super) fn once(file: usize, names: &[Name], troubles: &mut Vec<Trouble>) {
    for (place, name) in names.iter().enumerate() {
        let first = names.iter().take(place).find(|earlier| earlier.text == name.text);
        if let Some(first) = first {
            troubles.push(Trouble::DeclaredTwice {
                place: Place { file, span: name.span },
                name: name.text.clone(),
                first: Place { file, span: first.span },
            });
        }
    }
}

/// What was found; a trouble is told and gives `None`.
pub(crate) fn told<T>(found: Result<T, Trouble>, troubles: &mut Vec<Trouble>) -> Option<T> {
    match found {
        Ok(found) => Some(found),
        Err(trouble) => {
            troubles.push(trouble);
            None
        }
    }
}
