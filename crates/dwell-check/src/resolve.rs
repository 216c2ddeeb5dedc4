//! What the declarations mean: from trees to the [`Model`], every name looked up and every limit an exact number.
//!
//! In order: which names there are, what each file sees, the handlings, what items and quantities are, then the lines
//! of each. What could not be worked out is told as a [`Trouble`] and left out; a quantity or spec whose kind is not
//! known keeps its name but leads nowhere, so that one slip is told once.

mod amount;
mod band;
mod compare;
mod declare;
mod handling;
mod item;
mod known;
mod line;
mod quantity;
mod readiness;
mod spec;
mod table;
#[cfg(test)]
mod tests;
mod tool;

use dwell_syntax::tree::DeclarationKind;

use crate::model::{Model, Thing};
use crate::program::Program;
use crate::trouble::Trouble;

pub use amount::amount;
pub(crate) use amount::{alone, limit};
pub use band::band;
pub(crate) use compare::together;
pub use known::{quantity, state, when};
pub(crate) use known::{told, value_of};

/// A declaration: the file it stands in, what it declares, and its place in the model.
#[derive(Clone, Copy)]
struct Site<'a> {
    file: usize,
    kind: &'a DeclarationKind,
    thing: Thing,
}

/// Works out all declarations of all files.
pub fn resolve(program: &Program, troubles: &mut Vec<Trouble>) -> Model {
    let first = troubles.len();
    let mut model = Model::default();
    let (sites, names) = declare::declare(program, &mut model, troubles);
    model.scopes = crate::names::scopes(program, &names, troubles);
    handling::states(&sites, &mut model, troubles);
    item::shells(&sites, &mut model, troubles);
    readiness::handlings(&sites, &mut model, troubles);
    quantity::kinds(&sites, &mut model, troubles);
    spec::kinds(&sites, &mut model, troubles);
    quantity::lines(&sites, &mut model, troubles);
    item::lines(&sites, &mut model, troubles);
    tool::abilities(&sites, &mut model, troubles);
    spec::bands(&sites, &mut model, troubles);
    table::rows(&sites, &mut model, troubles);
    table::series(&sites, &mut model, troubles);
    let news = troubles.split_off(first);
    troubles.extend(news.into_iter().filter(|trouble| !told_already(program, trouble)));
    model
}

/// Whether reading the text has told the same already: a slip about units or numbers stands at the place.
pub fn told_already(program: &Program, trouble: &Trouble) -> bool {
    let place = match trouble {
        Trouble::UnitUnknown { place, .. }
        | Trouble::UnitAmbiguous { place, .. }
        | Trouble::UnitMissing { place, .. }
        | Trouble::BadNumber { place, .. } => place,
        _ => return false,
    };
    let meets = |span: dwell_syntax::tree::Span| span.start < place.span.end && place.span.start < span.end;
    program.files.get(place.file).is_some_and(|source| source.slips.iter().any(|slip| meets(slip.span)))
}
