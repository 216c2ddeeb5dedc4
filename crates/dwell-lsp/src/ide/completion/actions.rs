//! What can be done with the things at a place: the verbs whose state is possible there, what is owed first.

use super::super::vehicle::stands;
use super::super::view::View;
use super::{Sort, Suggestion, name};
use dwell_card::meaning::States;
use dwell_check::flow::Standing;
use dwell_check::lower::Lowered;
use dwell_syntax::tree::Span;

/// Something that can be done: a verb, its item, and whether it puts back what is owed.
struct Possible {
    verb: String,
    item: String,
    puts_back: bool,
    leads: String,
}

/// What the verbs of each slot can do in the states that it may be in.
fn possible(view: &View, lowered: &Lowered, standing: &[Standing]) -> Vec<Possible> {
    let mut all: Vec<Possible> = Vec::new();
    for (slot, verbs) in lowered.verbs.iter().enumerate() {
        let now = standing
            .iter()
            .filter_map(|one| one.slots.get(slot).copied())
            .fold(States::default(), States::or);
        let owed = standing.iter().any(|one| one.owed.contains(&slot));
        let item = lowered.slot_items.get(slot).and_then(|item| view.checked.model.items.get(*item));
        let (Some(item), Some(known)) = (item, lowered.card.slots.get(slot)) else { continue };
        for (verb, from, to) in verbs {
            if States::these(from).and(now).is_empty()
                || all.iter().any(|one| one.verb == *verb && one.item == item.name)
            {
                continue;
            }
            let state = |state: usize| known.states.get(state).cloned().unwrap_or_default();
            let names: Vec<String> = now.iter().map(state).collect();
            let leads = format!("{} → {}", names.join(" or "), state(*to));
            all.push(Possible {
                verb: verb.clone(),
                item: item.name.clone(),
                puts_back: owed && *to == 0,
                leads,
            });
        }
    }
    all
}

/// Verbs with their items that are possible at a place, then all verbs.
pub(super) fn actions(view: &View, at: usize, span: Span) -> Vec<Suggestion> {
    let mut all = Vec::new();
    if let Some((lowered, standing)) = stands(view, at) {
        for one in possible(view, &lowered, &standing) {
            let rank = if one.puts_back { 0 } else { 1 };
            let detail = if one.puts_back { format!("{}, owed", one.leads) } else { one.leads };
            all.push(Suggestion {
                detail,
                ..name(&format!("{} {}", one.verb, one.item), Sort::Action, span, rank)
            });
        }
    }
    all.extend(verbs(view, span));
    all
}

/// All verbs of the things of the file.
pub(super) fn verbs(view: &View, span: Span) -> Vec<Suggestion> {
    let model = &view.checked.model;
    let scope = model.scopes.get(view.file());
    let items = scope.into_iter().flat_map(|scope| scope.names.values()).filter_map(|thing| match thing {
        dwell_check::model::Thing::Item(item) | dwell_check::model::Thing::Tool(item) => {
            model.items.get(*item)
        }
        _ => None,
    });
    let handlings =
        items.flat_map(|item| &item.handlings).filter_map(|handling| model.handlings.get(*handling));
    let verbs =
        handlings.flat_map(|handling| handling.verbs.iter().map(move |(verb, _, _)| (verb, &handling.name)));
    verbs
        .map(|(verb, handling)| Suggestion { detail: handling.clone(), ..name(verb, Sort::Verb, span, 25) })
        .collect()
}

/// The items with a verb, those first for which it is possible here.
pub(super) fn items_of(view: &View, at: usize, verb: &str, span: Span) -> Vec<Suggestion> {
    let model = &view.checked.model;
    let stands = stands(view, at);
    let possible = stands.map(|(lowered, standing)| possible(view, &lowered, &standing)).unwrap_or_default();
    let scope = model.scopes.get(view.file());
    let names = scope.into_iter().flat_map(|scope| &scope.names);
    let items = names.filter_map(|(known, thing)| match thing {
        dwell_check::model::Thing::Item(place) => Some((known, Sort::Item, model.items.get(*place)?)),
        dwell_check::model::Thing::Tool(place) => Some((known, Sort::Tool, model.items.get(*place)?)),
        _ => None,
    });
    let has = |item: &dwell_check::model::Item| {
        let mut handlings = item.handlings.iter().filter_map(|handling| model.handlings.get(*handling));
        handlings.any(|handling| handling.has_verb(verb))
    };
    items
        .filter(|(_, _, item)| has(item))
        .map(|(known, sort, item)| {
            let here = possible.iter().find(|one| one.verb == verb && one.item == item.name);
            let rank = here.map_or(10, |one| if one.puts_back { 0 } else { 1 });
            let detail = here.map_or_else(|| item.label.clone(), |one| one.leads.clone());
            Suggestion { detail, ..name(known, sort, span, rank) }
        })
        .collect()
}
