//! Which procedure leads to which: what is performed, referred to, and brings a need about.

use super::mentions::{Role, What};
use super::view::View;
use super::world::{Further, Key, Resolved, Seen, World};
use dwell_syntax::tree::{DeclarationKind, Span};

/// A procedure of some file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Callee {
    /// The file.
    pub path: String,
    /// Its name.
    pub name: String,
    /// Its title; may be empty.
    pub title: String,
    /// All of it.
    pub span: Span,
    /// Its name.
    pub name_span: Span,
}

/// One procedure on the way to or from another, and where the one of the two that leads on says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Call {
    /// The procedure at the other end.
    pub other: Callee,
    /// Where the name of the one led to stands, in the file of the one that leads there.
    pub at: Vec<Span>,
}

/// The procedure that is named at a byte: where it is declared, performed, referred to, or brings a need about.
pub fn callee(view: &View, at: usize) -> Option<Callee> {
    let world = World::of(view, &[]);
    let (file, declaration) = procedure(&world, &world.at(view.file(), at)?)?;
    described(&world, file, declaration)
}

/// The procedures that lead to the one named at a byte, in this file, in those that it uses, and in the others.
pub fn incoming(view: &View, at: usize, further: &[Further<'_>]) -> Vec<Call> {
    let world = World::of(view, further);
    let wanted = world.at(view.file(), at).and_then(|found| procedure(&world, &found));
    let Some(wanted) = wanted else { return Vec::new() };
    let mut calls = Vec::new();
    for file in (0..world.count()).filter(|file| world.sees(*file, wanted.0)) {
        let mut known: Option<(usize, Vec<Span>)> = None;
        let leads = |found: &Resolved<'_>| is_call(found) && procedure(&world, found) == Some(wanted);
        for found in world.resolved(file).iter().filter(|found| leads(found)) {
            match &mut known {
                Some((declaration, at)) if *declaration == found.mention.declaration => {
                    at.push(found.mention.span);
                }
                _ => {
                    let done = known.replace((found.mention.declaration, vec![found.mention.span]));
                    calls.extend(done.and_then(|done| call(&world, file, done)));
                }
            }
        }
        calls.extend(known.and_then(|known| call(&world, file, known)));
    }
    calls
}

/// The procedures that the one declared at a byte of the view's file leads to, in the order they are first named.
pub fn outgoing(view: &View, at: usize) -> Vec<Call> {
    let world = World::of(view, &[]);
    let own = world.at(view.file(), at).and_then(|found| procedure(&world, &found));
    let Some((file, declaration)) = own else { return Vec::new() };
    let mut ways: Vec<((usize, usize), Vec<Span>)> = Vec::new();
    for found in world.resolved(file) {
        if found.mention.declaration != declaration || !is_call(&found) {
            continue;
        }
        let Some(to) = procedure(&world, &found) else { continue };
        match ways.iter_mut().find(|(known, _)| *known == to) {
            Some((_, at)) => at.push(found.mention.span),
            None => ways.push((to, vec![found.mention.span])),
        }
    }
    ways.into_iter()
        .filter_map(|((file, declaration), at)| {
            Some(Call { other: described(&world, file, declaration)?, at })
        })
        .collect()
}

fn is_call(found: &Resolved<'_>) -> bool {
    found.what == What::Procedure && found.mention.role == Role::Refers
}

/// The procedure that a name means: its file and its declaration.
fn procedure(world: &World<'_>, found: &Resolved<'_>) -> Option<(usize, usize)> {
    found.keys.iter().find_map(|key| match key {
        Key::Thing { file, name } => match world.seen(*file, name)? {
            Seen::Declared(file, declaration, DeclarationKind::Procedure(_)) => Some((file, declaration)),
            Seen::Declared(..) | Seen::Kind => None,
        },
        _ => None,
    })
}

fn call(world: &World<'_>, file: usize, (declaration, at): (usize, Vec<Span>)) -> Option<Call> {
    Some(Call { other: described(world, file, declaration)?, at })
}

fn described(world: &World<'_>, file: usize, declaration: usize) -> Option<Callee> {
    let node = world.content(file)?.tree.declarations.get(declaration)?;
    let name = node.kind.name()?;
    let title = match &node.kind {
        DeclarationKind::Procedure(procedure) => procedure.title.as_ref(),
        _ => None,
    };
    Some(Callee {
        path: world.path(file).to_owned(),
        name: name.text.clone(),
        title: title.map(|title| title.text.clone()).unwrap_or_default(),
        span: node.span.to(name.span),
        name_span: name.span,
    })
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::super::world::Further;
    use super::{Call, callee, incoming, outgoing};
    use dwell_check::program::Content;

    fn told(calls: &[Call]) -> String {
        let each =
            calls.iter().map(|call| format!("{} {} ×{}", call.other.path, call.other.name, call.at.len()));
        each.collect::<Vec<_>>().join(", ")
    }

    const BASE: &str = "procedure charge \"Charge 😀\" { step s { note \"charge\" } }\n";
    const JOB: &str = "use \"base.dwell\"\nprocedure job‸ {\n needs { battery is full by charge }\n step inner { note \"µ\" }\n step s {\n perform charge\n perform inner\n refer to faults\n perform gone\n}\n}\nprocedure faults { step s { perform charge } }\n";

    #[test]
    fn what_a_procedure_leads_to_is_found_a_step_of_its_own_is_none() {
        let (view, at) = view(&[("job.dwell", JOB), ("base.dwell", BASE)]);
        assert_eq!(callee(&view, at).unwrap().name, "job");
        assert_eq!(told(&outgoing(&view, at)), "base.dwell charge ×2, job.dwell faults ×1");
        assert_eq!(told(&incoming(&view, at, &[])), "");
    }

    #[test]
    fn what_leads_to_a_procedure_is_found_in_every_file_that_uses_it() {
        let (view, at) = view(&[("base.dwell", &BASE.replace("charge \"", "ch‸arge \""))]);
        assert_eq!(callee(&view, at).unwrap().title, "Charge 😀");
        let job = Content::of(JOB.replace('‸', ""));
        let uses = ["base.dwell".to_owned()];
        let stranger = Content::of("procedure x { step s { perform charge } }".to_owned());
        let further = [
            Further { path: "job.dwell", content: &job, uses: &uses },
            Further { path: "x.dwell", content: &stranger, uses: &[] },
        ];
        assert_eq!(told(&incoming(&view, at, &further)), "job.dwell job ×2, job.dwell faults ×1");
    }

    #[test]
    fn from_a_name_in_a_text_that_cannot_all_be_read_it_is_found_too() {
        let (view, at) = view(&[(
            "a.dwell",
            "procedure p { step s {\nperform %%\nexpect\nperform q‸\n} }\nprocedure q { step s {\n",
        )]);
        assert_eq!(callee(&view, at).map(|found| found.name), Some("q".to_owned()));
        let (view, at) = super::super::tests::view(&[("a.dwell", "item x‸: hose")]);
        assert_eq!(callee(&view, at), None);
    }
}
