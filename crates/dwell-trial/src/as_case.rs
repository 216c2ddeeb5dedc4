//! A way written as a case, ready to be pasted into its procedure.

use crate::ways::WayThrough;
use dwell_card::Card;
use dwell_card::graph::{Act, Measure, Way};
use dwell_card::meaning::is_sampled;
use dwell_check::finding::Reply;
use std::collections::BTreeSet;

/// The most letters of a title.
const MOST_LETTERS: usize = 60;

/// The lines of the case, set in as a part of a procedure.
pub fn as_case(way: &WayThrough, card: &Card, variants: &[(String, String)], number: usize) -> String {
    let denied = denied(way, card);
    let mut entries: Vec<(String, Vec<String>)> = Vec::new();
    for (axis, value) in variants {
        entries.push((axis.clone(), vec![value.clone()]));
    }
    let in_order = way.nodes.iter().any(|(_, way)| *way == Way::Lost);
    let mut add = |name: &str, value: String| {
        let known = match in_order {
            true => entries.last_mut().filter(|(known, _)| known == name),
            false => entries.iter_mut().find(|(known, _)| known == name),
        };
        match known {
            Some((_, values)) => values.push(value),
            None => entries.push((name.to_owned(), vec![value])),
        }
    };
    let mut answers = way.answers.iter();
    for (node, on) in &way.nodes {
        match card.nodes.get(*node).map(|node| &node.act) {
            Some(Act::Measure(measure)) if *on != Way::Lost => {
                measured(measure, card, &mut answers, &mut add);
            }
            _ => loop {
                let mut ahead = answers.clone();
                match ahead.next() {
                    Some(Reply::Need { node, holds }) => {
                        // Needs hold unless one is said not to; then those of the same thing before it are told as well.
                        let told = need_at(card, *node).filter(|need| denied.contains(need));
                        if let Some((item, state)) = told {
                            add(item, if *holds { state.to_owned() } else { format!("not {state}") });
                        }
                        answers = ahead;
                    }
                    Some(Reply::Lost(name)) if *on == Way::Lost => {
                        add(name, "lost".to_owned());
                        answers = ahead;
                        break;
                    }
                    Some(Reply::Choice(name, choice)) => {
                        let asks = matches!(card.nodes.get(*node).map(|node| &node.act), Some(Act::Ask { question })
                            if card.questions.get(*question).is_some_and(|known| known.name == *name));
                        if !asks {
                            break;
                        }
                        add(name, choice.clone());
                        answers = ahead;
                    }
                    Some(Reply::Signature(_)) => answers = ahead,
                    _ => break,
                }
            },
        }
    }
    let title = title(way, number);
    let mut lines = vec![format!("    case \"{title}\" {{")];
    for (name, values) in entries {
        lines.push(format!("        {name} {}", values.join(", ")));
    }
    lines.push(format!("        ends {}", way.ends));
    lines.push("    }".to_owned());
    lines.join("\n") + "\n"
}

/// The values of one measurement: what belongs together stands in parentheses.
fn measured<'a>(
    measure: &Measure,
    card: &Card,
    answers: &mut std::slice::Iter<'a, Reply>,
    add: &mut dyn FnMut(&str, String),
) {
    while let Some(Reply::Signature(_) | Reply::Need { .. }) = answers.as_slice().first() {
        answers.next();
    }
    let rounds = if is_sampled(measure) { 1 } else { measure.times.max(1) };
    let mut given: Vec<Vec<&'a Reply>> = vec![Vec::new(); measure.readings.len()];
    for _ in 0..rounds {
        for values in &mut given {
            values.extend(answers.next());
        }
    }
    for (reading, values) in measure.readings.iter().zip(given) {
        let Some(name) = card.readings.get(*reading).map(|known| known.name.as_str()) else { continue };
        let mut numbers: Vec<&str> = Vec::new();
        let mut of_unit = "";
        for value in &values {
            if let Reply::Value { number, unit, .. } = value {
                numbers.extend(number.split(';').map(str::trim));
                of_unit = unit;
            }
        }
        let interval = numbers.iter().any(|number| number.contains(char::is_alphabetic));
        match numbers.as_slice() {
            [] => values.iter().for_each(|_| add(name, "no reading".to_owned())),
            [one] if values.len() == 1 => add(name, format!("{one} {of_unit}").trim_end().to_owned()),
            all if interval && values.len() == 1 => {
                for number in all {
                    add(name, format!("{number} {of_unit}").trim_end().to_owned());
                }
            }
            all if !interval && all.len() >= values.len() => {
                add(name, format!("({}) {of_unit}", all.join(", ")).trim_end().to_owned());
            }
            _ => {
                for value in &values {
                    match value {
                        Reply::Value { number, unit, .. } => {
                            add(name, format!("{number} {unit}").trim_end().to_owned())
                        }
                        _ => add(name, "no reading".to_owned()),
                    }
                }
            }
        }
    }
}

/// What a node asks for as a need: the thing and its state, by their names.
fn need_at(card: &Card, node: usize) -> Option<(&str, &str)> {
    let Act::Need { required, .. } = &card.nodes.get(node)?.act else { return None };
    let slot = card.slots.get(required.slot)?;
    Some((&slot.item, slot.states.get(*required.states.first()?)?))
}

/// The needs that do not hold somewhere on the way.
fn denied<'c>(way: &WayThrough, card: &'c Card) -> BTreeSet<(&'c str, &'c str)> {
    let no = way.nodes.iter().filter(|(_, way)| *way == Way::No);
    no.filter_map(|(node, _)| need_at(card, *node)).collect()
}

/// What is last decided before the end, without quotes, as a title.
fn title(way: &WayThrough, number: usize) -> String {
    let told = way.told.iter().rev().find(|told| !told.starts_with("it ends"));
    let words =
        told.map_or_else(|| way.ends.to_owned(), |told| told.replace(['"', '“', '”', '{', '}', '\\'], ""));
    let short: String = words.chars().take(MOST_LETTERS).collect();
    format!("way {number}: {}", short.trim())
}
