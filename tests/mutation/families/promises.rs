//! Breaks of what a name and a word promise: a level called a difference, letters that nobody explains, a check that nothing passes.

use dwell_syntax::tree::{DeclarationKind, Name, Part, Span, StatementKind, Text};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Source};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("name-says-difference", name_says_difference),
    ("abbreviation-unexplained", abbreviation_unexplained),
    ("never-passes", never_passes),
];

/// The kind that a quantity is in the end, by its name.
fn root<'a>(ground: &'a Ground, name: &'a str) -> &'a str {
    ground.quantity(name).map_or(name, |known| root(ground, &known.kind.text))
}

/// Whether a name means a pressure or a temperature at a place, and no difference of two.
fn is_level(ground: &Ground, kind: &str) -> bool {
    ["gauge-pressure", "absolute-pressure", "vacuum", "temperature"].contains(&root(ground, kind))
}

/// A level gets a name that says a difference; or a difference gets the kind of a level.
fn name_says_difference(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let mut named = |source: &Source, name: &Name, kind: &Name| {
        if is_level(ground, &kind.text) {
            for word in ["drop", "rise", "fluctuation"] {
                let broken = source.broken(format!("{} is called a {word}", name.text));
                all.push(broken.put(name.span.end, format!("-{word}")).near(Near::Line));
            }
        }
        let difference = ["drop", "gain", "rise"].iter().any(|word| name.text.ends_with(word));
        if difference && root(ground, &kind.text) == "pressure-difference" {
            let broken = source.broken(format!("{} is a gauge pressure", name.text));
            all.push(broken.swap(kind.span, "gauge-pressure"));
        }
    };
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            match &declaration.kind {
                DeclarationKind::Quantity(quantity) => named(source, &quantity.name, &quantity.kind),
                DeclarationKind::Spec(spec) => named(source, &spec.name, &spec.kind),
                _ => {}
            }
        }
    }
    for spot in ground.spots() {
        match &spot.statement().kind {
            StatementKind::Measure(measure) if !measure.again => {
                for reading in &measure.readings {
                    if let Some(kind) = &reading.kind {
                        named(spot.source, &reading.name, kind);
                    }
                }
            }
            StatementKind::Let { name, kind: Some(kind), .. } => named(spot.source, name, kind),
            _ => {}
        }
    }
    all
}

/// A text names something by letters that stand nowhere else.
fn abbreviation_unexplained(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let mut put = |source: &Source, text: &Text, letters: &str, more: &str| {
        let broken = source.broken(format!("{letters} in {}", source.of(text.span)));
        all.push(broken.put(text.span.end - 1, more));
    };
    for spot in ground.spots() {
        let text = match &spot.statement().kind {
            StatementKind::Do { text, .. } | StatementKind::Note(text) | StatementKind::Ask { text, .. } => {
                text
            }
            StatementKind::Handle(handle) => match &handle.text {
                Some(text) => text,
                None => continue,
            },
            _ => continue,
        };
        put(spot.source, text, "SAS", " Look at the SAS.");
        put(spot.source, text, "EGR", " The plug of the EGR stays open.");
        put(spot.source, text, "ECM", " Read it from the ECM: it is faster.");
    }
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            let DeclarationKind::Item(item) = &declaration.kind else { continue };
            if let Some(label) = &item.label {
                put(source, label, "TPS", " of the TPS");
            }
        }
    }
    all
}

/// Behind all that is judged stands one end more, which was meant for an `otherwise`. A procedure that judges nothing, refers on
/// or is referred to is no check; one that has passed before has passed.
fn never_passes(ground: &Ground) -> Vec<Broken> {
    let spots = ground.spots();
    let mut all = Vec::new();
    for (source, procedure) in ground.procedures() {
        let name = procedure.name.text.as_str();
        let own = || {
            spots.iter().filter(|spot| spot.procedure.name.text == name).map(|spot| &spot.statement().kind)
        };
        let judges = own().any(|kind| matches!(kind, StatementKind::Expect { proves: None, .. }));
        let leaves = own().any(|kind| match kind {
            StatementKind::Refer { .. } => true,
            StatementKind::End { outcome, .. } => outcome.text == "passed",
            _ => false,
        });
        let searched = spots
            .iter()
            .any(|spot| matches!(&spot.statement().kind, StatementKind::Refer { to, .. } if to.text == name));
        let mut steps = procedure.parts.iter().filter_map(|part| match part {
            Part::Step(step) => Some(step),
            _ => None,
        });
        let Some(last) = steps.next_back().filter(|_| judges && !leaves && !searched) else { continue };
        let at = Span { start: last.block.span.end - 1, end: last.block.span.end - 1 };
        for end in ["end failed \"Renew it.\"", "end unfinished \"Begin again.\""] {
            let broken = source.broken(format!("{name} ends in {end}"));
            all.push(broken.swap(at, format!("    {end}\n    ")).near(Near::Declaration));
        }
    }
    all
}
