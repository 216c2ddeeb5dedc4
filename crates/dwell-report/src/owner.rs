//! Whose finding it is: the declaration that holds a place.

use dwell_check::finding::Place;
use dwell_check::program::Program;
use dwell_syntax::tree::DeclarationKind;

/// The name of the procedure that holds this place; none where it stands in another declaration or between them.
pub fn owner(program: &Program, place: Place) -> Option<&str> {
    let file = program.files.get(place.file)?;
    let held = file.tree.declarations.iter().filter(|declared| declared.span.holds(place.span));
    held.into_iter().find_map(|declared| match &declared.kind {
        DeclarationKind::Procedure(procedure) => Some(procedure.name.text.as_str()),
        _ => None,
    })
}
