//! What a tool needs before it is read: its lines `warms up`, `settles` and `zeroed`, each as a handling of its own.

use dwell_quantity::Kind;
use dwell_syntax::tree::{DeclarationKind, LineKind, Name};

use super::Site;
use crate::finding::Place;
use crate::model::{Handling, Item, Model, Readiness, Thing, Zeroing};
use crate::names::near;
use crate::trouble::Trouble;

/// Gives every tool with such lines the handlings that they mean. A tool whose declared handlings were not found gets none.
pub(super) fn handlings(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (DeclarationKind::Tool(node), Thing::Tool(place)) = (site.kind, site.thing) else { continue };
        let Some(item) = model.items.get(place) else { continue };
        let verbs = verbs(model, item);
        let mut ready = Readiness { declared: item.handlings.len(), ..Readiness::default() };
        let mut all = item.handlings.clone();
        for line in &node.lines {
            let there = Place { file: site.file, span: line.span };
            match &line.kind {
                LineKind::WarmsUp(time) => {
                    let time = super::amount(site.file, time, Kind::DURATION, "a warm-up", true, troubles);
                    if let (Some(time), None) = (time, &ready.warm) {
                        ready.warm = Some((all.len(), time));
                        all.push(added(model, "warming", ["cold", "warm"], there));
                    }
                }
                LineKind::Settles(time) => {
                    let time =
                        super::amount(site.file, time, Kind::DURATION, "a time to settle", true, troubles);
                    if let (Some(time), None) = (time, &ready.settled) {
                        ready.settled = Some((all.len(), time));
                        all.push(added(model, "showing", ["settled", "unsettled"], there));
                    }
                }
                LineKind::Zeroed { after, what } => {
                    let zeroed = ready.zeroed.get_or_insert_default();
                    when_zeroed(zeroed, *after, what, &verbs, site.file, troubles);
                }
                _ => {}
            }
        }
        if let Some(zeroed) = &mut ready.zeroed {
            let first = !zeroed.before.is_empty() || zeroed.each_measure || zeroed.each_procedure;
            let states = if first { ["unzeroed", "zeroed"] } else { ["zeroed", "unzeroed"] };
            (zeroed.zeroed, zeroed.handling) = (usize::from(first), all.len());
            all.push(added(model, "zeroing", states, Place { file: site.file, span: node.name.span }));
        }
        if let Some(item) = model.items.get_mut(place).filter(|item| !item.handlings.is_empty()) {
            item.handlings = all;
            item.ready = ready;
        }
    }
}

fn verbs(model: &Model, item: &Item) -> Vec<String> {
    let handlings = item.handlings.iter().filter_map(|handling| model.handlings.get(*handling));
    handlings.flat_map(|handling| handling.verbs.iter().map(|(verb, _, _)| verb.clone())).collect()
}

/// Adds a handling without verbs, whose states may all stay.
fn added(model: &mut Model, name: &str, states: [&str; 2], place: Place) -> usize {
    model.handlings.push(Handling {
        name: name.to_owned(),
        place,
        states: states.map(str::to_owned).to_vec(),
        verbs: Vec::new(),
        proofs: Vec::new(),
        may_stay: vec![0, 1],
    });
    model.handlings.len().saturating_sub(1)
}

fn when_zeroed(
    zeroed: &mut Zeroing,
    after: bool,
    what: &Name,
    verbs: &[String],
    file: usize,
    troubles: &mut Vec<Trouble>,
) {
    match what.text.as_str() {
        "measure" => zeroed.each_measure = true,
        "procedure" if !after => zeroed.each_procedure = true,
        verb if verbs.iter().any(|known| known == verb) => {
            let list = if after { &mut zeroed.after } else { &mut zeroed.before };
            list.push(verb.to_owned());
        }
        other => {
            let mut words: Vec<String> = verbs.to_vec();
            words.push("measure".to_owned());
            if !after {
                words.push("procedure".to_owned());
            }
            let mut close = near(other, words.iter().map(String::as_str));
            close.extend(words.into_iter().filter(|word| !close.contains(word)).collect::<Vec<_>>());
            troubles.push(Trouble::NotFound {
                place: Place { file, span: what.span },
                name: other.to_owned(),
                what: "an action of this tool",
                near: close,
                elsewhere: None,
            });
        }
    }
}
