//! Breaks of what is written: words, characters, numbers, units.

use dwell_syntax::tree::{Amount, CaseValue, Clause, DeclarationKind, LineKind, Part, Span, StatementKind};

use super::Mutator;
use crate::mutation::broken::Broken;
use crate::mutation::ground::{Ground, Source, amounts};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("syntax", syntax),
    ("look-alike-character", look_alike_character),
    ("bad-number", bad_number),
    ("unit-missing", unit_missing),
    ("unit-unknown", unit_unknown),
    ("unit-ambiguous", unit_ambiguous),
];

/// A verb loses its thing, a text its last quote, a spec its name.
fn syntax(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let source = spot.source;
        match &spot.statement().kind {
            // `connect to socket` still reads as a verb without its thing; a word that stands alone is one, too.
            StatementKind::Handle(handle) => {
                let span = Span { start: handle.verb.span.end, end: handle.item.span.end };
                all.push(source.broken(format!("`{}` loses its thing", handle.verb.text)).cut(span));
            }
            StatementKind::Note(text) | StatementKind::End { text: Some(text), .. } => {
                let span = Span { start: text.span.end - 1, end: text.span.end };
                all.push(source.broken("a text loses its last quote").cut(span));
            }
            StatementKind::Adjust { what, .. } => {
                let Some((_, spec)) = what.first() else { continue };
                let span = Span { start: spec.span.start, end: spec.span.end };
                all.push(source.broken("an `adjust` loses the spec that it goes to").cut(span));
            }
            _ => {}
        }
    }
    all
}

/// Every amount of a file, apart from those in cases where a broken number is a broken case.
fn amounts_of(source: &Source) -> Vec<Amount> {
    let mut all = Vec::new();
    for declaration in &source.tree.declarations {
        match &declaration.kind {
            DeclarationKind::Spec(spec) => {
                for line in &spec.lines {
                    if let dwell_syntax::tree::SpecLineKind::Check(band, _)
                    | dwell_syntax::tree::SpecLineKind::Adjust(band, _) = &line.kind
                    {
                        all.extend(amounts(band).into_iter().cloned());
                    }
                }
            }
            DeclarationKind::Tool(tool) => {
                for line in &tool.lines {
                    if let LineKind::Measures(ability) | LineKind::Sets(ability) = &line.kind {
                        all.extend(ability.range.iter().flat_map(amounts).cloned());
                        all.extend(ability.resolution.clone());
                    }
                }
            }
            DeclarationKind::Procedure(procedure) => {
                for part in &procedure.parts {
                    let Part::Case(case) = part else { continue };
                    for value in case.entries.iter().flat_map(|entry| &entry.values) {
                        if let CaseValue::Amount(amount) = value {
                            all.push(amount.clone());
                        }
                    }
                }
            }
            _ => {}
        }
    }
    all
}

fn look_alike_character(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for source in &ground.sources {
        for amount in amounts_of(source).iter().filter(|amount| !amount.number.compound) {
            let (number, span) = (&amount.number.text, amount.number.span);
            for (real, false_one) in [('0', 'O'), ('1', 'l'), ('.', ','), ('-', '\u{2212}')] {
                let typed = source.of(span);
                // A letter at the beginning makes a word of it, and a word is another thing than a number; an `l` at the end
                // is the sign of the litre.
                let Some(at) = typed
                    .rfind(real)
                    .filter(|at| (*at > 0 || real == '-') && (real != '1' || *at + 1 < typed.len()))
                else {
                    continue;
                };
                let place = Span { start: span.start + at, end: span.start + at + real.len_utf8() };
                let what = format!("{number}: {false_one} for {real}");
                all.push(source.broken(what).swap(place, false_one.to_string()));
            }
        }
    }
    all
}

fn bad_number(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for source in &ground.sources {
        for amount in amounts_of(source) {
            let (typed, span) = (source.of(amount.number.span), amount.number.span);
            if amount.number.compound {
                if let Some(at) = typed.find(['′']) {
                    let tens = Span { start: span.start + at - 2, end: span.start + at - 1 };
                    all.push(
                        source.broken(format!("{typed}: 7 for the tens of the minutes")).swap(tens, "7"),
                    );
                }
            } else {
                all.push(source.broken(format!("{typed}: a key stuck")).put(span.end, "0".repeat(70)));
            }
        }
    }
    all
}

/// Whether an amount stands where a bare number says something: counts and plain ratios.
fn may_be_bare(unit: &str) -> bool {
    unit.is_empty()
}

fn unit_missing(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let units: Vec<&dwell_syntax::tree::Name> =
            amounts(limit.band).iter().filter_map(|amount| amount.unit.as_ref()).collect();
        // A unit may be left out where another number of the band has one; so all of them are lost.
        if units.is_empty() || limit.band.target.is_some() || units.iter().any(|unit| may_be_bare(&unit.text))
        {
            continue;
        }
        let mut broken = limit.source.broken(format!("a limit loses its unit {}", units[0].text));
        for unit in units {
            broken = broken.cut(unit.span);
        }
        all.push(broken);
    }
    for spot in ground.spots() {
        let lost = match &spot.statement().kind {
            StatementKind::Wait { duration, .. } => duration.unit.as_ref(),
            StatementKind::Measure(measure) => measure.clauses.iter().find_map(|clause| match clause {
                Clause::After(amount) | Clause::Every(amount) | Clause::Over(amount, _) => {
                    amount.unit.as_ref()
                }
                _ => None,
            }),
            _ => None,
        };
        if let Some(unit) = lost {
            all.push(spot.source.broken(format!("a time loses its unit {}", unit.text)).cut(unit.span));
        }
    }
    all
}

fn unit_unknown(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for source in &ground.sources {
        // In a case the word after a number may be the name of the next entry: an unknown one is read as that.
        let in_case = |amount: &Amount| {
            ground.procedures().filter(|(other, _)| other.path == source.path).any(|(_, procedure)| {
                procedure
                    .parts
                    .iter()
                    .any(|part| matches!(part, Part::Case(case) if case.span.holds(amount.span)))
            })
        };
        for amount in amounts_of(source) {
            let Some(unit) = amount.unit.as_ref().filter(|_| !in_case(&amount)) else { continue };
            // A sign such as % or ° ends where it ends: what is typed after it is another word.
            if !unit.text.ends_with(|letter: char| letter.is_alphabetic()) {
                continue;
            }
            all.push(source.broken(format!("{}q for {}", unit.text, unit.text)).put(unit.span.end, "q"));
        }
    }
    all
}

fn unit_ambiguous(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let units: Vec<&dwell_syntax::tree::Name> =
            amounts(limit.band).iter().filter_map(|amount| amount.unit.as_ref()).collect();
        let Some(unit) = units.last() else { continue };
        let others: &[&str] = match unit.text.as_str() {
            "N·m" => &["ft-lb", "kg.m", "ft/lb"],
            "°" => &["degrees"],
            _ => &[],
        };
        for other in others {
            let what = format!("{other} for {}", unit.text);
            all.push(limit.source.broken(what).swap(unit.span, *other));
        }
    }
    all
}
