//! Handlings: states, verbs and proofs of a small state machine.

use dwell_syntax::tree::{self, DeclarationKind, LineKind, Name};
use dwell_syntax::words::WORDS;

use super::Site;
use super::known::{once, told};
use crate::finding::Place;
use crate::model::{Handling, Model, Thing};
use crate::names::pick;
use crate::trouble::Trouble;

/// The most states that an item can have.
const MOST_STATES: usize = 64;

/// Fills in the states, verbs, proofs and `may stay` of every handling.
pub(super) fn states(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        if let (DeclarationKind::Handling(node), Thing::Handling(place)) = (site.kind, site.thing)
            && let Some(handling) = model.handlings.get_mut(place)
        {
            fill(site.file, node, handling, troubles);
        }
    }
}

fn fill(file: usize, node: &tree::Handling, handling: &mut Handling, troubles: &mut Vec<Trouble>) {
    once(file, &node.states, troubles);
    if let Some(beyond) = node.states.get(MOST_STATES) {
        troubles.push(Trouble::NotExecutable {
            place: Place { file, span: beyond.span },
            what: format!("a handling has at most {MOST_STATES} states"),
            help: "split it into two handlings and give the item both".to_owned(),
        });
    }
    handling.states = node.states.iter().take(MOST_STATES).map(|name| name.text.clone()).collect();
    for transition in &node.transitions {
        let from = chosen(file, &transition.from, &handling.states, troubles);
        let to = chosen(file, std::slice::from_ref(&transition.to), &handling.states, troubles);
        let Some(to) = to.first().copied() else { continue };
        match &transition.verb {
            None => handling.proofs.push((from, to)),
            Some(verb) => {
                near_a_word(file, verb, troubles);
                handling.verbs.push((verb.text.clone(), from, to));
            }
        }
    }
    for line in &node.lines {
        if let LineKind::MayStay(names) = &line.kind {
            handling.may_stay.extend(chosen(file, names, &handling.states, troubles));
        }
    }
}

/// The states of these names, by their places.
fn chosen(file: usize, names: &[Name], states: &[String], troubles: &mut Vec<Trouble>) -> Vec<usize> {
    names
        .iter()
        .filter_map(|name| {
            let states = states.iter().map(String::as_str);
            told(pick(file, name, "a state of this handling", states), troubles)
        })
        .collect()
}

/// A verb one letter away from a word that begins a statement would make every slip of the pen another instruction.
fn near_a_word(file: usize, verb: &Name, troubles: &mut Vec<Trouble>) {
    let near = WORDS.iter().find(|word| {
        word.begins_statement()
            && verb.text.chars().count().abs_diff(word.text().len()) <= 1
            && strsim::damerau_levenshtein(&verb.text, word.text()) <= 1
    });
    if let Some(word) = near {
        troubles.push(Trouble::NotExecutable {
            place: Place { file, span: verb.span },
            what: format!("the verb `{}` is easily misread as the word `{}`", verb.text, word.text()),
            help: "choose a verb that differs in two letters or more".to_owned(),
        });
    }
}
