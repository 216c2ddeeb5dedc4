//! The head of a card: what it is for, what is needed, what is dangerous.

use crate::vehicle::Vehicle;
use crate::words::{plain, text, unit_named, upper_first};
use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_card::limit::{Ability, Tool};
use dwell_quantity::{Kind, band_fully_shown, from_base_difference};
use maud::{Markup, html};

/// Title, revision, vehicles, tools, hazards.
pub(crate) fn head(card: &Card, vehicle: &Vehicle) -> Markup {
    html! {
        header data-node="0" {
            h1 { (card.title) }
            p.about {
                span { (plain(&card.procedure)) }
                @if let Some(revision) = &card.revision {
                    span { "revision " (revision.number) " of " (revision.date) }
                }
            }
            @if let Some(why) = card.revision.as_ref().and_then(|revision| revision.why.as_ref()) {
                p.faint { "Changed: " (why) }
            }
            @if let Some(withdrawn) = &card.withdrawn {
                p.withdrawn { strong { "Withdrawn from " (withdrawn.on) " on. " } (withdrawn.why) }
            }
            (vehicles(card, vehicle))
            p.notice { (card.notice) }
            @if card.guarded {
                p { "Decided with the tool's accuracy as guard band: what lies nearer to a limit than that is out." }
            }
        }
        (hazards(card))
        (equipment(card))
    }
}

fn vehicles(card: &Card, vehicle: &Vehicle) -> Markup {
    html! {
        @if !card.axes.is_empty() {
            dl.vehicles {
                @for (place, axis) in card.axes.iter().enumerate() {
                    div {
                        dt { (upper_first(&plain(&axis.name))) }
                        dd {
                            @match vehicle.value(place).and_then(|value| axis.values.get(value)) {
                                Some(value) => strong { (plain(value)) },
                                None => (axis.values.iter().map(|value| plain(value)).collect::<Vec<_>>().join(", ")),
                            }
                        }
                    }
                }
            }
        }
    }
}

pub(crate) fn hazards(card: &Card) -> Markup {
    let mut all: Vec<_> = card.hazards.iter().collect();
    all.sort_by_key(|hazard| std::cmp::Reverse(hazard.level));
    html! {
        @if !all.is_empty() {
            section.hazards {
                h2 { "Hazards of this work" }
                ul {
                    @for hazard in all {
                        li { (signal(hazard.level)) " " strong { (upper_first(&plain(&hazard.name))) } ": " (hazard.text) }
                    }
                }
            }
        }
    }
}

/// A signal word with its sign, as ANSI Z535.6 and ISO 3864 have them; a notice has no triangle, since it is about no injury.
pub(crate) fn signal(level: dwell_card::vehicle::Level) -> Markup {
    let word = level.word();
    html! {
        span class=(format!("signal {}", word.to_lowercase())) {
            @if word != "NOTICE" {
                svg.sign viewBox="0 0 20 18" aria-hidden="true" {
                    path d="M10 1 L19 17 H1 Z" {}
                    path.mark d="M10 6 V11.5 M10 13.4 V15" {}
                }
            }
            (word)
        }
    }
}

/// A signal word of a record.
pub(crate) fn signal_word(word: &str) -> Markup {
    html! { span.signal { (word) } }
}

fn equipment(card: &Card) -> Markup {
    let parts = new_parts(card);
    html! {
        @if !card.tools.is_empty() || !parts.is_empty() {
            section.equipment {
                h2 { "What you need" }
                ul {
                    @for tool in &card.tools {
                        li {
                            span.tick {}
                            strong { (tool.label) }
                            @let about = about(tool);
                            @if !about.is_empty() { ": " (about.join(", ")) }
                            @for how in connecting(card, tool) { div.more { (how) } }
                        }
                    }
                    @for part in parts {
                        li { span.tick {} "new: " strong { (part) } }
                    }
                }
            }
        }
    }
}

/// What a tool must be able to do, and how often it is calibrated.
pub(crate) fn about(tool: &Tool) -> Vec<String> {
    let measures = tool.measures.iter().filter_map(|ability| able("measures", ability));
    let sets = tool.sets.iter().filter_map(|ability| able("sets", ability));
    measures.chain(sets).chain(tool.notes()).collect()
}

/// "measures 10 .. 500 Hz in steps of 0.1 Hz, ± 0.5 Hz".
fn able(verb: &str, ability: &Ability) -> Option<String> {
    let (unit, kind) = (unit_named(&ability.unit)?, Kind::named(&ability.kind)?);
    let difference = |value: &dwell_card::Num| format!("{} {unit}", from_base_difference(&value.0, unit));
    let range = band_fully_shown(&ability.range.band(), unit, kind, 0);
    let steps = ability.resolution.as_ref().map(|step| format!(" in steps of {}", difference(step)));
    let fixed = ability.accuracy.as_ref().map(&difference);
    let share = ability.accuracy_of_reading.as_ref().map(|share| {
        let percent = &share.0 * &dwell_quantity::Exact::whole(100);
        format!("{percent} % of the reading")
    });
    let accuracy: Vec<String> = fixed.into_iter().chain(share).collect();
    let accuracy = if accuracy.is_empty() {
        String::new()
    } else {
        format!(", accurate to ± {}", accuracy.join(" and "))
    };
    Some(format!("{verb} {range}{}{accuracy}", steps.unwrap_or_default()))
}

/// How a tool is connected, where that is said: which lead goes where, with which adapter.
pub(crate) fn connecting(card: &Card, tool: &Tool) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for node in &card.nodes {
        let Act::Work(work) = &node.act else { continue };
        let connects = work.verb.as_deref() == Some("connect");
        if connects && work.own.iter().any(|slot| tool.slots.contains(slot)) {
            let more = work.text.as_ref().map(|more| format!("{} {}", work.says, text(more, card)));
            all.extend(more.filter(|more| !all.contains(more)));
        }
    }
    all
}

/// The things that are renewed: they are had ready before the work begins.
pub(crate) fn new_parts(card: &Card) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for node in &card.nodes {
        let Act::Work(work) = &node.act else { continue };
        if work.verb.as_deref() == Some("renew") {
            let labels =
                work.own.iter().filter_map(|slot| card.slots.get(*slot)).map(|slot| slot.label.clone());
            for label in labels {
                if !all.contains(&label) {
                    all.push(label);
                }
            }
        }
    }
    all
}
