//! Names: what each file sees, what a name means there, and what was probably meant where nothing has it.

mod near;
mod scope;
#[cfg(test)]
mod tests;

use dwell_syntax::tree::Name;

use crate::finding::Place;
use crate::model::{Model, Thing};
use crate::trouble::Trouble;

pub use near::near;
pub(crate) use near::or_all;
pub(crate) use scope::{Named, scopes};

/// The thing that a name means in a file, if it is one of the things wanted. `what` says for people what was looked
/// for: "an item", "a spec".
///
/// # Errors
/// [`Trouble::NotFound`] where nothing visible has the name (with the nearest names of wanted things), or where a thing
/// of another sort has it.
#[allow(clippy::result_large_err)] // the trouble is told as it is, on a way that is taken once for each slip
pub fn look_up(
    model: &Model,
    file: usize,
    name: &Name,
    what: &'static str,
    fits: impl Fn(Thing) -> bool,
) -> Result<Thing, Trouble> {
    let names = model.scopes.get(file).map(|scope| &scope.names);
    let found = names.and_then(|names| names.get(&name.text)).copied();
    if let Some(thing) = found.filter(|thing| fits(*thing)) {
        return Ok(thing);
    }
    let wanted = names.into_iter().flatten().filter(|(_, thing)| fits(**thing));
    Err(Trouble::NotFound {
        place: Place { file, span: name.span },
        name: name.text.clone(),
        what,
        near: near(&name.text, wanted.map(|(name, _)| name.as_str())),
        elsewhere: found,
    })
}

/// The place of a name in a short closed list, such as the states of an item or the values of a variant.
///
/// # Errors
/// [`Trouble::NotFound`] with the nearest of the list, or with the whole list where none is near and it is short.
#[allow(clippy::result_large_err)]
pub(crate) fn pick<'a>(
    file: usize,
    name: &Name,
    what: &'static str,
    list: impl Iterator<Item = &'a str> + Clone,
) -> Result<usize, Trouble> {
    if let Some(place) = list.clone().position(|known| known == name.text) {
        return Ok(place);
    }
    Err(Trouble::NotFound {
        place: Place { file, span: name.span },
        name: name.text.clone(),
        what,
        near: or_all(&name.text, list),
        elsewhere: None,
    })
}
