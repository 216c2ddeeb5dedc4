//! Breaks of the states that things are in: lost steps, doubled steps, what is not put back, what is not proved.

use dwell_syntax::tree::{
    DeclarationKind, Handle, Handling, LineKind, Part, Span, StateOf, StatementKind, To, Transition,
};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Spot, Thing, Within};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("need-not-met", need_not_met),
    ("need-lost", need_lost),
    ("stored-energy", stored_energy),
    ("proof-missing", proof_missing),
    ("wrong-state", wrong_state),
    ("kept-broken", kept_broken),
    ("not-restored", not_restored),
    ("fastener-left-loose", fastener_left_loose),
    ("restored-untouched", restored_untouched),
    ("leaves-untrue", leaves_untrue),
    ("single-use-refitted", single_use_refitted),
];

/// The handling of a thing that has this verb, and the verb's line there.
fn transition<'a>(ground: &'a Ground, item: &str, verb: &str) -> Option<(&'a Handling, &'a Transition)> {
    let handlings = ground.handlings(ground.thing(item)?);
    handlings.into_iter().find_map(|handling| {
        let found = handling
            .transitions
            .iter()
            .find(|known| known.verb.as_ref().is_some_and(|known| known.text == verb));
        Some((handling, found?))
    })
}

/// The handling of a thing that has this state.
fn handling_of<'a>(ground: &'a Ground, item: &str, state: &str) -> Option<&'a Handling> {
    let handlings = ground.handlings(ground.thing(item)?);
    handlings.into_iter().find(|handling| handling.states.iter().any(|known| known.text == state))
}

/// Whether only a proof brings this state about.
fn by_proof(ground: &Ground, item: &str, state: &str) -> bool {
    handling_of(ground, item, state).is_some_and(|handling| {
        handling.transitions.iter().any(|known| known.verb.is_none() && known.to.text == state)
    })
}

/// What a handled thing needs, and the one that it is brought to: the states that are asked for when this is done.
fn needs<'a>(ground: &'a Ground, handle: &Handle) -> Vec<&'a StateOf> {
    let place = match &handle.to {
        Some(To::Name(name)) => ground.thing(&name.text),
        _ => None,
    };
    let lines = ground.thing(&handle.item.text).into_iter().chain(place).flat_map(|thing| thing.lines);
    let states = lines.filter_map(|line| match &line.kind {
        LineKind::Needs(verb, states) if verb.as_ref().is_none_or(|verb| verb.text == handle.verb.text) => {
            Some(states)
        }
        _ => None,
    });
    states.flatten().collect()
}

/// Every statement of a procedure that does this sort of thing, in order.
fn handled<'a>(spots: &'a [Spot<'a>]) -> impl Iterator<Item = (&'a Spot<'a>, &'a Handle)> {
    spots.iter().filter_map(|spot| match &spot.statement().kind {
        StatementKind::Handle(handle) => Some((spot, handle)),
        _ => None,
    })
}

/// Whether a statement, or what stands in it, says something of a thing.
fn names(source: &crate::mutation::ground::Source, span: Span, item: &str) -> bool {
    source.of(span).split(|letter: char| !letter.is_alphanumeric() && letter != '-').any(|word| word == item)
}

/// The step before is lost: what it brought about is needed by a later one of the same block, and is not how the thing
/// usually is. Nothing else in between is about the thing.
fn need_not_met(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for (spot, handle) in handled(&spots) {
        let Some((handling, line)) = transition(ground, &handle.item.text, &handle.verb.text) else {
            continue;
        };
        let normal = handling.states.first().map_or("", |state| state.text.as_str());
        // A thing that was brought there before, in another step, is still there when this one is lost.
        let before = spots.iter().filter(|other| other.procedure.name == spot.procedure.name);
        let before = before.take_while(|other| other.statement().span.start < spot.statement().span.start);
        if line.to.text == normal
            || before.into_iter().any(|other| {
                !other.statement_holds(spot) && names(spot.source, other.statement().span, &handle.item.text)
            })
        {
            continue;
        }
        let used = spot.later().iter().find_map(|later| {
            let StatementKind::Handle(next) = &later.kind else { return None };
            let wants =
                |state: &&StateOf| state.item.text == handle.item.text && state.state.text == line.to.text;
            needs(ground, next).iter().any(wants).then_some(next)
        });
        let Some(next) = used else { continue };
        let what = format!(
            "`{} {}` is lost before `{} {}`",
            handle.verb.text, handle.item.text, next.verb.text, next.item.text
        );
        let broken = spot.source.broken(what).cut(spot.source.lines(spot.statement().span));
        all.push(broken.near(Near::Declaration));
    }
    all
}

/// Something is undone right before it is needed.
fn need_lost(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for (spot, handle) in handled(&spots) {
        for need in needs(ground, handle) {
            let Some(handling) = handling_of(ground, &need.item.text, &need.state.text) else { continue };
            let places = ground.thing(&need.item.text).and_then(|thing| thing.at_each);
            // A state that is only proved is told as energy that is still stored.
            if by_proof(ground, &need.item.text, &need.state.text)
                || handling.transitions.iter().any(|known| known.verb.is_none())
            {
                continue;
            }
            let away = handling.transitions.iter().find(|known| {
                known.to.text != need.state.text && known.from.iter().any(|from| from.text == need.state.text)
            });
            let Some(verb) = away.and_then(|known| known.verb.as_ref()) else { continue };
            // What is only asked for at the beginning, or was never brought about, was not lost but never there. So the
            // thing has to be spoken of before.
            let asked = spot.procedure.parts.iter().any(|part| {
                matches!(part, Part::Needs(needs, _) if needs.iter().any(|known| known.state.item.text == need.item.text && known.state.state.text == need.state.text))
            });
            let brought = spots.iter().any(|other| {
                other.procedure.name == spot.procedure.name
                    && other.statement().span.end <= spot.statement().span.start
                    && matches!(&other.statement().kind, StatementKind::Handle(before)
                        if before.item.text == need.item.text
                        && transition(ground, &before.item.text, &before.verb.text).is_some_and(|(_, line)| line.to.text == need.state.text))
            });
            if !asked && !brought || spot.within == Within::Restore {
                continue;
            }
            let at = match (places, handle.at_each.as_ref()) {
                (Some(places), _) => format!(" at each {places}"),
                (None, _) => String::new(),
            };
            // In a loop over places a thing of such a place stands without it.
            if places.is_some() && spot.in_loop() {
                continue;
            }
            let line = format!("{} {}{at}\n        ", verb.text, need.item.text);
            let what = format!(
                "`{} {}` right before `{} {}`",
                verb.text, need.item.text, handle.verb.text, handle.item.text
            );
            all.push(spot.source.broken(what).put(spot.statement().span.start, line).near(Near::Declaration));
        }
    }
    all
}

/// The proof is lost that a verb needs: the line that asks for it, or the measurement that gives it.
fn stored_energy(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    let wanted = |procedure: &str, state: &StateOf| {
        handled(&spots).any(|(spot, handle)| {
            spot.procedure.name.text == procedure
                && needs(ground, handle)
                    .iter()
                    .any(|need| need.item.text == state.item.text && need.state.text == state.state.text)
        })
    };
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let Part::Needs(needs, _) = part else { continue };
            for need in
                needs.iter().filter(|need| need.by.is_some() && wanted(&procedure.name.text, &need.state))
            {
                let end = need.by.as_ref().map_or(need.state.span.end, |by| by.span.end);
                let span = source.lines(Span { start: need.state.span.start, end });
                let what = format!("nobody proves any more that {}", source.of(need.state.span));
                all.push(source.broken(what).cut(span).near(Near::Declaration));
            }
        }
    }
    // What was proved is lost again right before it is needed.
    for (spot, handle) in handled(&spots).filter(|(spot, _)| spot.within != Within::Restore) {
        for need in needs(ground, handle) {
            let Some(handling) = handling_of(ground, &need.item.text, &need.state.text) else { continue };
            let normal = handling.states.first().map_or("", |state| state.text.as_str());
            // What is measured either way, such as cold and warm, is no energy that is stored or gone.
            let proofs = handling.transitions.iter().filter(|known| known.verb.is_none()).count();
            if proofs != 1 || !by_proof(ground, &need.item.text, &need.state.text) {
                continue;
            }
            let line = format!("do \"Bring it back.\" brings {} is {normal}\n        ", need.item.text);
            let what = format!(
                "{} is {normal} again before `{} {}`",
                need.item.text, handle.verb.text, handle.item.text
            );
            let broken = spot.source.broken(what).put(spot.statement().span.start, line);
            all.push(broken.near(Near::Declaration));
        }
    }
    for spot in &spots {
        let StatementKind::Expect { proves: Some(state), condition, .. } = &spot.statement().kind else {
            continue;
        };
        // Only where what needs it comes later in the same block: elsewhere another proof may have been given.
        let needed = spot.later().iter().any(|later| {
            matches!(&later.kind, StatementKind::Handle(handle) if needs(ground, handle).iter()
                .any(|need| need.item.text == state.item.text && need.state.text == state.state.text))
        });
        if needed {
            let span = Span { start: condition.span.end, end: state.span.end };
            let what = format!("this does not prove any more that {}", spot.source.of(state.span));
            all.push(spot.source.broken(what).cut(span).near(Near::Declaration));
        }
    }
    all
}

/// Nobody says any more by which procedure it is proved; or the proof is lost of what a procedure leaves behind.
fn proof_missing(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let Part::Needs(needs, _) = part else { continue };
            for need in needs {
                let (Some(by), true) =
                    (&need.by, by_proof(ground, &need.state.item.text, &need.state.state.text))
                else {
                    continue;
                };
                let span = Span { start: need.state.span.end, end: by.span.end };
                all.push(source.broken(format!("`by {}` is lost", by.text)).cut(span));
            }
        }
    }
    for spot in ground.spots() {
        let StatementKind::Expect { proves: Some(state), condition, .. } = &spot.statement().kind else {
            continue;
        };
        let left = spot.procedure.parts.iter().any(|part| {
            matches!(part, Part::Leaves(all, _) if all.iter().any(|left| left.item.text == state.item.text && left.state.text == state.state.text))
        });
        // Where `restore` itself asks for the state and ends otherwise, it never passes without the proof.
        let asked_again = ground.spots().iter().any(|other| {
            other.procedure.name == spot.procedure.name
                && other.within == Within::Restore
                && matches!(&other.statement().kind, StatementKind::If { arms, .. }
                    if arms.iter().any(|(condition, _)| names(spot.source, condition.span, &state.item.text)))
        });
        if left && spot.within == Within::Step && !asked_again {
            let span = Span { start: condition.span.end, end: state.span.end };
            let what = format!("this does not prove any more that {}", spot.source.of(state.span));
            all.push(spot.source.broken(what).cut(span).near(Near::Declaration));
        }
    }
    all
}

/// A line stands twice.
fn wrong_state(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for (spot, handle) in handled(&spots) {
        let Some((_, line)) = transition(ground, &handle.item.text, &handle.verb.text) else { continue };
        // What may be done to a thing that has it done already is no break: turning, rolling, drawing a clamp tighter. In
        // `restore` what is as it should be is left out.
        if line.from.iter().any(|from| from.text == line.to.text) || spot.within == Within::Restore {
            continue;
        }
        let copy = format!("\n        {}", spot.source.of(spot.statement().span));
        let what = format!("`{} {}` twice", handle.verb.text, handle.item.text);
        all.push(spot.source.broken(what).put(spot.statement().span.end, copy));
    }
    all
}

/// What is to be kept is changed at the beginning of a step.
fn kept_broken(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let Part::Keep(keep, _) = part else { continue };
            let dwell_syntax::tree::Kept::State(state) = &keep.what else { continue };
            let Some(handling) = handling_of(ground, &state.item.text, &state.state.text) else { continue };
            let away = handling.transitions.iter().find(|known| {
                known.to.text != state.state.text
                    && known.from.iter().any(|from| from.text == state.state.text)
            });
            let Some(verb) = away.and_then(|known| known.verb.as_ref()) else { continue };
            for part in &procedure.parts {
                let Part::Step(step) = part else { continue };
                let Some(first) = step.block.statements.first() else { continue };
                let line = format!("{} {}\n        ", verb.text, state.item.text);
                let what =
                    format!("`{} {}` at the beginning of {}", verb.text, state.item.text, step.name.text);
                all.push(source.broken(what).put(first.span.start, line).near(Near::Declaration));
            }
        }
    }
    all
}

/// Whether a thing is in its normal state once it is tightened.
fn is_fastener(ground: &Ground, item: &str) -> bool {
    transition(ground, item, "tighten").is_some_and(|(handling, line)| {
        handling.states.first().is_some_and(|state| state.text == line.to.text)
    })
}

/// The lines of `restore` by themselves. In a sound library each of them has something to put back on some way.
fn put_back<'a>(spots: &'a [Spot<'a>]) -> impl Iterator<Item = (&'a Spot<'a>, &'a Handle)> {
    handled(spots).filter(|(spot, _)| spot.within == Within::Restore && spot.inside.is_empty())
}

/// Whether losing this line leaves the thing otherwise than it may stay: it leads to the normal state, and nothing else in
/// `restore` is about the thing.
fn owed(ground: &Ground, spot: &Spot<'_>, handle: &Handle) -> bool {
    let Some((handling, line)) = transition(ground, &handle.item.text, &handle.verb.text) else {
        return false;
    };
    let normal = handling.states.first().is_some_and(|state| state.text == line.to.text);
    let once =
        spot.block.iter().filter(|other| names(spot.source, other.span, &handle.item.text)).count() == 1;
    normal && once
}

fn not_restored(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for (spot, handle) in put_back(&spots) {
        if !is_fastener(ground, &handle.item.text) && owed(ground, spot, handle) {
            let what = format!("`{} {}` is lost in restore", handle.verb.text, handle.item.text);
            // What a performed procedure has done, and this one does not undo any more, is told there.
            let broken = spot.source.broken(what).cut(spot.source.lines(spot.statement().span));
            all.push(broken.near(Near::Use).checked(&spot.source.path));
        }
    }
    all
}

/// The line that tightens is lost; or the tool that sets the torque.
fn fastener_left_loose(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for (spot, handle) in handled(&spots) {
        if !is_fastener(ground, &handle.item.text) || handle.verb.text != "tighten" {
            continue;
        }
        if spot.within == Within::Restore && spot.inside.is_empty() {
            let what = format!("`tighten {}` is lost in restore", handle.item.text);
            all.push(
                spot.source
                    .broken(what)
                    .cut(spot.source.lines(spot.statement().span))
                    .near(Near::Declaration),
            );
        }
        if let [first, ..] = handle.with.as_slice() {
            let last = &handle.with[handle.with.len() - 1];
            let span = Span { start: first.span.start - "with ".len(), end: last.span.end };
            let what = format!("{} is tightened by feel", handle.item.text);
            all.push(spot.source.broken(what).cut(span).near(Near::Declaration));
        }
    }
    all
}

/// Things that no procedure of the library does anything to, with the verb that puts them back.
fn untouched<'a>(ground: &'a Ground) -> Vec<(Thing<'a>, &'a Transition)> {
    let spots = ground.spots();
    let mut all = Vec::new();
    for thing in ground.things() {
        if thing.is_tool
            || thing.at_each.is_some()
            || handled(&spots).any(|(_, handle)| handle.item.text == thing.name)
        {
            continue;
        }
        for handling in ground.handlings(thing) {
            let normal = handling.states.first().map_or("", |state| state.text.as_str());
            let back = handling.transitions.iter().find(|known| {
                known.verb.is_some()
                    && known.to.text == normal
                    && known.from.iter().all(|from| from.text != normal)
            });
            all.extend(back.map(|back| (thing, back)));
        }
    }
    all
}

fn restored_untouched(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let untouched = untouched(ground);
    for (source, procedure) in ground.procedures() {
        for part in &procedure.parts {
            let Part::Restore { block, .. } = part else { continue };
            let Some(first) = block.statements.first() else { continue };
            for (thing, back) in untouched.iter().filter(|(thing, _)| sees(ground, &source.path, *thing)) {
                // What the procedure asks for may be found otherwise: there it has something to put back.
                if names(source, procedure.body, thing.name) {
                    continue;
                }
                let verb = back.verb.as_ref().map_or("", |verb| verb.text.as_str());
                let line = format!("{verb} {}\n        ", thing.name);
                let broken = source.broken(format!("`{verb} {}` in restore", thing.name));
                all.push(broken.put(first.span.start, line));
            }
        }
    }
    all
}

/// Whether a file uses the one that declares a thing.
fn sees(ground: &Ground, path: &str, thing: Thing<'_>) -> bool {
    use dwell_check::program::Sources;
    let Some(source) = ground.sources.iter().find(|source| source.path == path) else { return false };
    source.path == thing.source.path
        || source.tree.declarations.iter().any(|declaration| {
            matches!(&declaration.kind, DeclarationKind::Use(used) if ground.merle.join(path, &used.text) == thing.source.path)
        })
}

/// A procedure says that it leaves something otherwise that it never touches.
fn leaves_untrue(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let untouched = untouched(ground);
    for (source, procedure) in ground.procedures() {
        if procedure.parts.iter().any(|part| matches!(part, Part::Leaves(..))) {
            continue;
        }
        let needs = procedure.parts.iter().find_map(|part| match part {
            Part::Needs(_, span) => Some(*span),
            _ => None,
        });
        let Some(needs) = needs else { continue };
        for (thing, back) in untouched.iter().filter(|(thing, _)| sees(ground, &source.path, *thing)) {
            let Some(state) = back.from.first() else { continue };
            let line = format!("\n    leaves {{ {} is {} }}", thing.name, state.text);
            let what = format!("it says that it leaves {} {}", thing.name, state.text);
            all.push(source.broken(what).put(needs.end, line));
        }
    }
    all
}

/// `refit` for `renew`; or a bolt that is used up is tightened again.
fn single_use_refitted(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let spots = ground.spots();
    for (spot, handle) in handled(&spots).filter(|(_, handle)| handle.verb.text == "renew") {
        let what = format!("refit for renew {}", handle.item.text);
        let stretched = transition(ground, &handle.item.text, "tighten").is_some();
        if stretched {
            // Only outside an `if`: what is asked for there may have been done before.
            if spot.inside.is_empty() {
                let what = format!("`renew {}` is lost before it is tightened", handle.item.text);
                let broken = spot.source.broken(what).cut(spot.source.lines(spot.statement().span));
                all.push(broken.near(Near::Declaration));
            }
        } else {
            all.push(spot.source.broken(what).swap(handle.verb.span, "refit"));
        }
    }
    all
}

impl Spot<'_> {
    /// Whether the statement holds the other one inside.
    fn statement_holds(&self, other: &Spot<'_>) -> bool {
        self.statement().span.holds(other.statement().span)
    }
}
