//! Breaks of what a tired writer copies, leaves unsaid or says in a sentence only: a limit, a thread, a blame, a part, a side.

use dwell_syntax::tree::{
    Condition, DeclarationKind, Expr, LineKind, Name, Part, Side, Span, SpecLineKind, Statement,
    StatementKind, TestKind, Text,
};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Source, ends};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("limit-copied", limit_copied),
    ("limits-disagree", limits_disagree),
    ("thread-condition-missing", thread_condition_missing),
    ("blamed-unread", blamed_unread),
    ("out-not-mended", out_not_mended),
    ("part-not-listed", part_not_listed),
    ("mirrored-twice", mirrored_twice),
];

/// What a condition judges by specs: reading and spec.
fn judged(condition: &Condition) -> Vec<(&Name, &Name)> {
    let tests = condition.tests.iter();
    tests
        .filter_map(|test| match &test.kind {
            TestKind::Meets { what: Expr::Name(name), misses: false, spec, at: None } => Some((name, spec)),
            _ => None,
        })
        .collect()
}

/// Before a reading is judged by its spec, an end of that spec is typed in an `if`, alone or as an end of a band that goes on
/// beyond it, or the whole band. Nothing as an end only asks for a sign.
fn limit_copied(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Expect { condition, .. } = &spot.statement().kind else { continue };
        let any = if condition.quantifier.is_some() { "any " } else { "" };
        for (reading, spec) in judged(condition) {
            let limits = ground.limits().into_iter();
            for limit in limits.filter(|limit| limit.checks && limit.spec.name.text == spec.text) {
                let ends = ends(limit.band);
                let mut tests = Vec::new();
                for (end, unit) in ends.iter().filter(|(end, _)| end.parse() != Ok(0.0)) {
                    let Ok(value) = end.parse::<f64>() else { continue };
                    tests.extend(
                        ["above", "below", "at least", "at most"].map(|side| format!("{side} {end} {unit}")),
                    );
                    // From there, or up to there, by as much as the number itself; glued degrees are no number.
                    let decimals = end.split_once('.').map_or(0, |(_, after)| after.len());
                    let (less, more) = (value - value.abs(), value + value.abs());
                    tests.push(format!("within {end} .. {more:.decimals$} {unit}"));
                    tests.push(format!("within {less:.decimals$} .. {end} {unit}"));
                }
                if let [(low, unit), (high, _)] = ends.as_slice() {
                    tests.push(format!("within {low} .. {high} {unit}"));
                }
                for test in tests {
                    let test = format!("{any}{} {test}", reading.text);
                    let text = format!("if {test} {{ note \"Look at it once more.\" }}\n        ");
                    all.push(
                        spot.source.broken(format!("`if {test}`")).put(spot.statement().span.start, text),
                    );
                }
            }
        }
    }
    all
}

/// A number inside a band, as far from its ends as `share` of its width, or of the number where it has one end.
fn inside(source: &str, ends: &[(String, &str)], share: f64, from_low: bool) -> Option<String> {
    let number = |end: &(String, &str)| end.0.parse::<f64>().ok();
    let (value, unit) = match ends {
        [low, high] => {
            let (first, last) = (number(low)?, number(high)?);
            let way = (last - first) * share;
            (if from_low { first + way } else { last - way }, low.1)
        }
        [only] => {
            let end = number(only).filter(|end| *end > 0.0)?;
            let upper = source.contains("at most") || source.contains("below");
            if upper == from_low {
                return None;
            }
            (if upper { end * (1.0 - share) } else { end * (1.0 + share) }, only.1)
        }
        _ => return None,
    };
    // A number that is typed has few digits; what is counted has none behind the point.
    let value = (value * 1e4).round() / 1e4;
    Some(format!("{value} {unit}").trim_end().to_owned())
}

/// Whether a quantity can be below zero by its kind.
fn signed(ground: &Ground, quantity: &str) -> bool {
    match ground.quantity(quantity) {
        Some(known) => signed(ground, &known.kind.text),
        None => dwell_quantity::Kind::named(quantity).is_some_and(dwell_quantity::Kind::signed),
    }
}

/// Before a reading is judged by its spec, or right behind, an `if` with a number inside the band takes it for a fault.
fn limits_disagree(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Expect { condition, .. } = &spot.statement().kind else { continue };
        let any = if condition.quantifier.is_some() { "any " } else { "" };
        let every = if condition.quantifier.is_some() { "every " } else { "" };
        for (reading, spec) in judged(condition) {
            let limits = ground.limits().into_iter();
            for limit in limits.filter(|limit| limit.checks && limit.spec.name.text == spec.text) {
                let of = limit.source.of(limit.band.span);
                let ends = ends(limit.band);
                let reading = &reading.text;
                // What can be below zero has no limit on one side only: that is another rule's fault.
                let open = !signed(ground, &limit.spec.kind.text);
                let mut forms = Vec::new();
                for from_low in [false, true] {
                    let Some(number) = inside(of, &ends, if from_low { 0.2 } else { 0.3 }, from_low) else {
                        continue;
                    };
                    let (beyond, this_side) =
                        if from_low { ("below", "at least") } else { ("above", "at most") };
                    if open {
                        forms.push(format!(
                            "if {any}{reading} {beyond} {number} {{ end failed \"Renew it.\" }}"
                        ));
                        forms.push(format!(
                            "if {every}{reading} {this_side} {number} {{ note \"Good.\" }}\n else {{ end failed \"Renew it.\" }}"
                        ));
                    }
                    if let [(low, unit), (high, _)] = ends.as_slice() {
                        let typed = number.split(' ').next().unwrap_or_default();
                        let (bad, good) = if from_low {
                            (format!("{low} .. {typed} {unit}"), format!("{typed} .. {high} {unit}"))
                        } else {
                            (format!("{typed} .. {high} {unit}"), format!("{low} .. {typed} {unit}"))
                        };
                        forms.push(format!("if {any}{reading} within {bad} {{ end failed \"Renew it.\" }}"));
                        forms.push(format!(
                            "if {every}{reading} within {good} {{ note \"Good.\" }}\n else {{ end failed \"Renew it.\" }}"
                        ));
                    }
                }
                for form in forms {
                    let statement = spot.statement().span;
                    let broken = spot.source.broken(format!("`{form}`, and {reading} meets {}", spec.text));
                    all.push(broken.clone().put(statement.start, format!("{form}\n        ")));
                    all.push(broken.put(statement.end, format!("\n        {form}\n")));
                }
            }
        }
    }
    all
}

/// How the thread must be is no longer said, in a spec that a thing names as its torque.
fn thread_condition_missing(ground: &Ground) -> Vec<Broken> {
    let mut tightened: Vec<&str> = Vec::new();
    for thing in ground.things() {
        tightened.extend(thing.lines.iter().filter_map(|line| match &line.kind {
            LineKind::Torque(spec) => Some(spec.text.as_str()),
            _ => None,
        }));
    }
    let mut all = Vec::new();
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            let DeclarationKind::Spec(spec) = &declaration.kind else { continue };
            if !tightened.contains(&spec.name.text.as_str()) {
                continue;
            }
            for line in spec.lines.iter().filter(|line| matches!(line.kind, SpecLineKind::Condition(_))) {
                let broken = source.broken(format!("{} without {}", spec.name.text, source.of(line.span)));
                all.push(broken.cut(source.lines(line.span)).near(Near::Declaration));
            }
        }
    }
    all
}

/// Whether something of a procedure is measured under this name.
fn is_measured(ground: &Ground, procedure: &str, reading: &str) -> bool {
    ground.spots().iter().any(|spot| {
        spot.procedure.name.text == procedure
            && matches!(&spot.statement().kind, StatementKind::Measure(measure)
                if !measure.again && measure.readings.iter().any(|known| known.name.text == reading))
    })
}

/// The arm for no reading is lost before one that blames; or a part is blamed where an arm takes all that is left. Where an arm
/// adjusts, something is done about the reading first.
fn blamed_unread(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Expect { condition, proves: None, otherwise } = &spot.statement().kind else {
            continue;
        };
        let measured = judged(condition)
            .iter()
            .any(|(reading, _)| is_measured(ground, &spot.procedure.name.text, &reading.text));
        let Some(last) = otherwise.iter().find(|arm| arm.side.is_none()) else { continue };
        let lost = otherwise.iter().find(|arm| arm.side == Some(Side::NoReading));
        let adjusts = last
            .block
            .statements
            .iter()
            .any(|statement| matches!(statement.kind, StatementKind::Adjust { .. }));
        if !measured || adjusts {
            continue;
        }
        let blames = last.block.statements.iter().any(|statement| match &statement.kind {
            StatementKind::Cause { .. } => true,
            StatementKind::End { text: Some(text), .. } => text.text.starts_with("Renew "),
            _ => false,
        });
        let loses = |what: String| {
            let broken = spot.source.broken(what).near(Near::Declaration);
            lost.map_or(broken.clone(), |arm| broken.cut(spot.source.lines(arm.span)))
        };
        match (blames, lost) {
            (true, None) => {}
            (true, Some(_)) => all.push(loses("the arm for no reading is lost".to_owned())),
            (false, _) => {
                for item in items(ground, spot.procedure.name.text.as_str()) {
                    let broken = loses(format!("{item} is blamed whatever was read"));
                    all.push(broken.put(last.block.span.start + 1, format!(" cause {item} \"Worn.\"\n")));
                }
                let broken = loses("a new part is asked for whatever was read".to_owned());
                let inside = Span { start: last.block.span.start + 1, end: last.block.span.end - 1 };
                all.push(broken.swap(inside, " end failed \"Replace the sensor and its lead.\" "));
            }
        }
    }
    all
}

/// The first items, one of a place aside, that a procedure handles.
fn items<'a>(ground: &'a Ground, procedure: &str) -> Vec<&'a str> {
    let mut all: Vec<&str> = Vec::new();
    for spot in ground.spots().iter().filter(|spot| spot.procedure.name.text == procedure) {
        let StatementKind::Handle(handle) = &spot.statement().kind else { continue };
        let thing = ground.thing(&handle.item.text).filter(|thing| !thing.is_tool && thing.at_each.is_none());
        all.extend(thing.map(|thing| thing.name).filter(|name| !all.contains(name)));
    }
    all.truncate(2);
    all
}

/// What is out is worked on by hand, measured and judged once more.
fn out_not_mended(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Expect { condition, otherwise, .. } = &spot.statement().kind else { continue };
        let (Some(first), Some(last)) = (otherwise.first(), otherwise.last()) else { continue };
        let arms = first.span.to(last.span);
        let every = if condition.quantifier.is_some() { "every " } else { "" };
        for (reading, spec) in judged(condition) {
            if !is_measured(ground, &spot.procedure.name.text, &reading.text) {
                continue;
            }
            let (reading, spec) = (&reading.text, &spec.text);
            let work = format!("do \"Clean the contacts.\" measure {reading} again");
            let expect =
                format!("expect {every}{reading} meets {spec}\n otherwise {{ end failed \"Still out.\" }}");
            let forms = [
                ("inside", format!("otherwise {{ {work}\n {expect} }}")),
                ("behind", format!("otherwise {{ {work} }}\n {expect}")),
                (
                    "inside, low first",
                    format!(
                        "otherwise no reading {{ end unfinished \"Look at the tool.\" }}\n otherwise {{ {work}\n {expect} }}"
                    ),
                ),
                (
                    "behind, by a question",
                    format!(
                        "otherwise {{ ask seen \"Is it dirty?\"\n if seen is yes {{ {work} }} else {{ measure {reading} again }} }}\n {expect}"
                    ),
                ),
            ];
            for (how, text) in forms {
                let broken = spot.source.broken(format!("{reading} is judged twice, {how}"));
                all.push(broken.swap(arms, text).near(Near::Declaration));
            }
        }
    }
    all
}

/// A sentence asks for a new part: an instruction of its own, beside an instruction, or in the place of `renew`. "Take a new …"
/// is left out: one takes a new reading as well.
fn part_not_listed(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Handle(handle) = &spot.statement().kind else { continue };
        let Some(thing) = ground.thing(&handle.item.text).filter(|thing| !thing.is_tool) else { continue };
        let statement = spot.statement().span;
        if handle.verb.text == "renew" {
            let label = thing.name.replace('-', " ");
            for text in [format!("Renew the {label}."), format!("Fit a new {label}.")] {
                let broken = spot.source.broken(format!("“{text}” for renew {}", thing.name));
                all.push(broken.swap(statement, format!("do \"{text}\"")));
            }
            continue;
        }
        if !["refit", "fit", "tighten", "connect", "fill"].contains(&handle.verb.text.as_str()) {
            continue;
        }
        for text in [
            "Fit a new sealing ring.",
            "Replace the copper washer.",
            "Put in a new split pin.",
            "Clean the seat, then insert a new O-ring.",
            "Always use new bolts.",
            "Fit the cover with a new gasket.",
            "If it is torn, renew the boot.",
        ] {
            let broken = spot.source.broken(format!("“{text}” at {} {}", handle.verb.text, thing.name));
            all.push(broken.clone().put(statement.start, format!("do \"{text}\"\n        ")));
            all.push(broken.clone().put(statement.start, format!("note \"{text}\"\n        ")));
            all.push(match &handle.text {
                Some(told) => broken.put(told.span.end - 1, format!(" {text}")),
                None => broken.put(statement.end, format!(" \"{text}\"")),
            });
        }
    }
    all
}

/// Words that are each other's mirror, from left and right to inlet and outlet.
const SIDES: [(&str, &str); 5] =
    [("left", "right"), ("front", "rear"), ("inner", "outer"), ("upper", "lower"), ("inlet", "outlet")];

/// One half of a pair: a declaration or step with the side in its name, and a side in what it is called.
fn half(source: &Source, whole: Span, name: &Name, label: &Text, side: &str, said: &str) -> String {
    let before = &source.text[whole.start..name.span.start];
    let between = &source.text[name.span.end..label.span.start];
    let called = &source.text[label.span.start + 1..label.span.end];
    let rest = &source.text[label.span.end..whole.end];
    format!("{before}{side}-{}{between}\"{said}: {called}{rest}", name.text)
}

/// A thing, a quantity, or a step that nothing leads to and that takes no readings, becomes a pair; its other half still says
/// the first side.
fn mirrored_twice(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let mut double = |source: &Source, whole: Span, name: &Name, label: &Text| {
        for (side, turned) in SIDES {
            // What already speaks of sides is no half of this pair.
            let text = source.of(whole).to_lowercase();
            if text.contains(side) || text.contains(turned) {
                continue;
            }
            let first = half(source, whole, name, label, side, side);
            let copy = half(source, whole, name, label, turned, side);
            let words = copy.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
            if words.count() < 6 {
                continue;
            }
            let broken = source.broken(format!("{turned}-{} still says {side}", name.text));
            all.push(broken.swap(whole, format!("{first}\n{copy}")).near(Near::Line));
        }
    };
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            match &declaration.kind {
                DeclarationKind::Item(item) => {
                    if let Some(label) = &item.label {
                        double(source, declaration.span, &item.name, label);
                    }
                }
                DeclarationKind::Quantity(quantity) => {
                    if let Some(label) = &quantity.label {
                        double(source, declaration.span, &quantity.name, label);
                    }
                }
                DeclarationKind::Procedure(procedure) => {
                    for part in &procedure.parts {
                        let Part::Step(step) = part else { continue };
                        let Some(title) = &step.title else { continue };
                        if !reads(&step.block.statements) {
                            double(source, step.span, &step.name, title);
                        }
                    }
                }
                _ => {}
            }
        }
    }
    all
}

/// Whether statements give names to readings and answers, which two steps cannot both do.
fn reads(statements: &[Statement]) -> bool {
    statements.iter().any(|statement| {
        matches!(
            statement.kind,
            StatementKind::Measure(_)
                | StatementKind::Read { .. }
                | StatementKind::Ask { .. }
                | StatementKind::Let { .. }
                | StatementKind::LetBand { .. }
                | StatementKind::Choose { .. }
        ) || statement.blocks().iter().any(|block| reads(&block.statements))
    })
}
