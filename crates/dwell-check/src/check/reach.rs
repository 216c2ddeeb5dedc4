//! How far a procedure reaches: what it performs, which files it sees, and which of its text has a hole.

use super::blocks;
use crate::finding::Place;
use crate::model::{Model, Thing};
use crate::program::Program;
use crate::trouble::Trouble;
use dwell_syntax::tree::{DeclarationKind, Name, Part, Procedure, StatementKind};
use std::collections::BTreeSet;

/// What each procedure and each file reaches.
pub(super) struct Reach {
    /// For each procedure: itself and those it performs, directly or not.
    performed: Vec<BTreeSet<usize>>,
    /// For each procedure its whole declaration.
    bodies: Vec<Place>,
    /// The procedures in the order of their places.
    in_order: Vec<usize>,
    /// For each file: itself and those it uses, directly or not, and the prelude.
    seen: Vec<BTreeSet<usize>>,
    /// For each file: whether names may be missing in it, because something it uses could not be read.
    names_missing: Vec<bool>,
    /// What could not be read, and whether the statement was lost with it.
    slips: Vec<(Place, bool)>,
}

impl Reach {
    pub(super) fn of(program: &Program, model: &Model) -> Reach {
        let direct: Vec<BTreeSet<usize>> =
            (0..model.procedures.len()).map(|procedure| performs(program, model, procedure)).collect();
        let used: Vec<BTreeSet<usize>> = program
            .files
            .iter()
            .map(|file| file.uses.iter().map(|(used, _)| *used).chain([0]).collect())
            .collect();
        let slips = program.files.iter().enumerate().flat_map(|(file, source)| {
            source
                .slips
                .iter()
                .map(move |slip| (Place { file, span: slip.span }, slip.rule == crate::rules::SYNTAX))
        });
        let torn: Vec<bool> = program
            .files
            .iter()
            .map(|file| file.tree.declarations.iter().any(|known| known.kind == DeclarationKind::Broken))
            .collect();
        let unread = |file: usize| {
            let uses = program.files.get(file).map_or(0, |source| source.uses.len());
            let written = program.files.get(file).map_or(0, |source| {
                let all = source.tree.declarations.iter();
                all.filter(|known| matches!(known.kind, DeclarationKind::Use(_))).count()
            });
            written > uses
        };
        let names_missing = (0..program.files.len())
            .map(|file| {
                let uses = used.get(file).into_iter().flatten();
                unread(file) || uses.chain([&file]).any(|seen| torn.get(*seen) == Some(&true))
            })
            .collect();
        let bodies: Vec<Place> = (0..model.procedures.len())
            .map(|procedure| body(program, model, procedure).map(|(_, place)| place).unwrap_or_default())
            .collect();
        let mut in_order: Vec<usize> = (0..bodies.len()).collect();
        in_order.sort_by_key(|at| bodies.get(*at).copied());
        Reach {
            bodies,
            in_order,
            performed: closed(&direct),
            seen: closed(&used),
            names_missing,
            slips: slips.collect(),
        }
    }

    /// The files that a file sees in the end, itself among them.
    pub(super) fn files_seen(&self, file: usize) -> BTreeSet<usize> {
        self.seen.get(file).cloned().unwrap_or_default()
    }

    /// Whether statements of the procedure, or of one that it performs, or declarations that it may need, were lost.
    pub(super) fn is_broken(&self, procedure: usize) -> bool {
        self.slips.iter().any(|(place, lost)| *lost && self.concerns(procedure, *place))
            || self.bodies.get(procedure).is_some_and(|body| self.names_missing.get(body.file) == Some(&true))
    }

    /// Whether something that was found so far leaves a hole in the procedure's card.
    pub(super) fn has_hole(&self, procedure: usize, troubles: &[Trouble]) -> bool {
        let places = troubles.iter().filter_map(hole).chain(self.slips.iter().map(|(place, _)| *place));
        places.into_iter().any(|place| self.concerns(procedure, place))
    }

    /// Whether a trouble is only the shadow of something else that was lost: a name that may well be declared.
    pub(super) fn follows_from_a_hole(&self, trouble: &Trouble) -> bool {
        match trouble {
            Trouble::NotFound { place, elsewhere: None, .. } => {
                self.names_missing.get(place.file) == Some(&true)
            }
            _ => false,
        }
    }

    /// The procedure whose declaration a place lies in.
    fn owner(&self, place: Place) -> Option<usize> {
        let after = self.in_order.partition_point(|at| {
            self.bodies
                .get(*at)
                .is_some_and(|body| (body.file, body.span.start) <= (place.file, place.span.start))
        });
        let owner = self.in_order.get(after.checked_sub(1)?).copied()?;
        let body = self.bodies.get(owner)?;
        (body.file == place.file && body.span.holds(place.span)).then_some(owner)
    }

    /// Whether a place lies in the procedure, in one that it performs, or in what all procedures of a seen file share.
    fn concerns(&self, procedure: usize, place: Place) -> bool {
        let owner = self.owner(place);
        let performed = self.performed.get(procedure);
        match owner {
            Some(owner) => performed.is_some_and(|all| all.contains(&owner)),
            None => performed
                .into_iter()
                .flatten()
                .filter_map(|known| self.bodies.get(*known))
                .any(|body| self.seen.get(body.file).is_some_and(|files| files.contains(&place.file))),
        }
    }
}

/// The place of a trouble that leaves something out of the card.
fn hole(trouble: &Trouble) -> Option<Place> {
    match trouble {
        Trouble::NotFound { place, .. }
        | Trouble::FileNotFound { place, .. }
        | Trouble::DeclaredTwice { place, .. }
        | Trouble::NotExecutable { place, .. }
        | Trouble::KindMismatch { place, .. }
        | Trouble::UnitMissing { place, .. }
        | Trouble::UnitUnknown { place, .. }
        | Trouble::UnitAmbiguous { place, .. }
        | Trouble::BadNumber { place, .. }
        | Trouble::OneSided { place, .. }
        | Trouble::BandReversed { place, .. }
        | Trouble::BareNominal { place, .. }
        | Trouble::SideMissing { place, .. }
        | Trouble::VariantUnknown { place, .. }
        | Trouble::VariantUncovered { place, .. } => Some(*place),
        Trouble::SingleUseRefitted { place, off: None, .. } => Some(*place),
        _ => None,
    }
}

/// A procedure's tree and its whole declaration.
fn body<'a>(program: &'a Program, model: &Model, procedure: usize) -> Option<(&'a Procedure, Place)> {
    let head = model.procedures.get(procedure)?;
    let declaration = program.files.get(head.place.file)?.tree.declarations.get(head.declaration)?;
    match &declaration.kind {
        DeclarationKind::Procedure(procedure) => {
            Some((procedure, Place { file: head.place.file, span: declaration.span }))
        }
        _ => None,
    }
}

/// The procedure itself and those that it names to be performed.
fn performs(program: &Program, model: &Model, procedure: usize) -> BTreeSet<usize> {
    let mut all = BTreeSet::from([procedure]);
    let Some((tree, place)) = body(program, model, procedure) else { return all };
    let mut add = |name: &Name| {
        let scope = model.scopes.get(place.file);
        if let Some(Thing::Procedure(other)) = scope.and_then(|scope| scope.names.get(&name.text)) {
            all.insert(*other);
        }
    };
    for part in &tree.parts {
        if let Part::Needs(needs, _) = part {
            needs.iter().filter_map(|need| need.by.as_ref()).for_each(&mut add);
        }
    }
    blocks::statements(tree, place.span, &mut |statement, _| {
        if let StatementKind::Perform { what, .. } = &statement.kind {
            add(what);
        }
    });
    all
}

/// Each set with all that its members reach in turn, itself among them.
fn closed(direct: &[BTreeSet<usize>]) -> Vec<BTreeSet<usize>> {
    let mut all = Vec::with_capacity(direct.len());
    for start in 0..direct.len() {
        let mut met = BTreeSet::from([start]);
        let mut next = vec![start];
        while let Some(now) = next.pop() {
            for other in direct.get(now).into_iter().flatten() {
                if met.insert(*other) {
                    next.push(*other);
                }
            }
        }
        all.push(met);
    }
    all
}
