//! The instruction of each node in full, as the technician reads it.

use crate::model::{Model, QuantityRef};
use dwell_card::graph::{Outcome, Stage};
use dwell_quantity::{Exact, Unit, from_base_difference};
use dwell_syntax::tree::{self, Fold};

/// A name with blanks for its hyphens.
pub(super) fn plain(name: &str) -> String {
    name.replace('-', " ")
}

/// The first letter large.
pub(super) fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// The first letter small.
pub(super) fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}

/// The title of a step or a procedure; its name where none is given.
pub(super) fn title(title: Option<&tree::Text>, name: &tree::Name) -> String {
    title.map_or_else(|| upper_first(&plain(&name.text)), |title| title.text.clone())
}

/// "The gearbox is neutral."
pub(super) fn state_sentence(label: &str, state: &str) -> String {
    format!("The {label} {} {}.", be(label), plain(state))
}

/// "The brake pedal stays pressed."
pub(super) fn stays(label: &str, how: &str) -> String {
    let stay = if be(label) == "are" { "stay" } else { "stays" };
    format!("The {label} {stay} {how}.")
}

/// "is", or "are" for a label that names several things: "electrical consumers", not "gas" or "chassis".
pub(crate) fn be(label: &str) -> &'static str {
    let name = label.split(" (").next().unwrap_or(label);
    let head = name.split(" of ").next().unwrap_or(name);
    let several =
        head.ends_with('s') && !["ss", "us", "is", "as"].iter().any(|ending| head.ends_with(ending));
    if several { "are" } else { "is" }
}

/// "Tighten the tensioner bolt to 22 ± 2 N·m with the torque wrench."
pub(super) fn handle(
    verb: &str,
    label: &str,
    at: Option<&str>,
    target: Option<&str>,
    band: Option<&str>,
    with: &[String],
) -> String {
    let mut says = format!("{} the {label}", upper_first(&plain(verb)));
    if let Some(at) = at {
        says.push_str(&format!(" {at}"));
    }
    if let Some(target) = target {
        says.push_str(&format!(" to the {target}"));
    }
    if let Some(band) = band.filter(|band| !band.is_empty()) {
        says.push_str(&format!(" to {band}"));
    }
    if !with.is_empty() {
        says.push_str(&format!(" with the {}", with.join(" and the ")));
    }
    says.push('.');
    says
}

/// "Stage 2 of 3: turn the head bolt by 90 ± 5 ° with the angle disc."
pub(super) fn stage(
    stage: Stage,
    verb: Option<&str>,
    label: &str,
    at: Option<&str>,
    band: &str,
    with: &[String],
) -> String {
    let says = match verb {
        Some(verb) => handle(verb, label, at, None, Some(band), with),
        None => {
            let at = at.map(|at| format!(" {at}")).unwrap_or_default();
            handle("turn", &format!("{label}{at} by {band}"), None, None, None, with)
        }
    };
    format!("Stage {} of {}: {}", stage.number, stage.of, lower_first(&says))
}

/// "Measure the tension with the belt tension meter, 3 times, take the mean."
pub(super) fn measure(names: &[String], tool: Option<&str>, manner: &[String]) -> String {
    let mut says = format!("Measure {}", names.join(", "));
    if let Some(tool) = tool {
        says.push_str(&format!(" with the {tool}"));
    }
    for word in manner {
        says.push_str(&format!(", {word}"));
    }
    says.push('.');
    says
}

/// "Measure the tension again."
pub(super) fn measure_again(names: &[String]) -> String {
    format!("Measure {} again, in the same way.", names.join(", "))
}

/// The same instruction, marked as a repetition.
pub(super) fn again(says: &str) -> String {
    match says.strip_prefix("Measure ") {
        Some(rest) => format!("Measure again: {rest}"),
        None => says.to_owned(),
    }
}

/// "Wait 2 min after starting the engine."
pub(super) fn wait(duration: &tree::Amount, since: Option<&str>, text: Option<&str>) -> String {
    let mut says = format!("Wait {}", amount(duration));
    if let Some(since) = since {
        says.push_str(&format!(", counted from {since}"));
    }
    says.push('.');
    if let Some(text) = text {
        says.push_str(&format!(" {text}"));
    }
    says
}

/// "starting the": a verb as it stands after "from".
pub(super) fn gerund(verb: &str) -> String {
    let plain = plain(verb);
    let (first, rest) =
        plain.split_once(' ').map_or((plain.as_str(), None), |(first, rest)| (first, Some(rest)));
    let stem = match first.strip_suffix('e') {
        Some(stem) if !first.ends_with("ee") => stem.to_owned(),
        _ => match first {
            "plug" | "unplug" | "fit" | "refit" | "stop" | "put" => {
                format!("{first}{}", first.chars().last().unwrap_or_default())
            }
            _ => first.to_owned(),
        },
    };
    match rest {
        Some(rest) => format!("{stem}ing {rest} the"),
        None => format!("{stem}ing the"),
    }
}

/// An amount as typed.
pub(super) fn amount(amount: &tree::Amount) -> String {
    match &amount.unit {
        Some(unit) if unit.text.starts_with('°') && unit.text.chars().count() == 1 => {
            format!("{}{}", amount.number.text, unit.text)
        }
        Some(unit) => format!("{} {}", amount.number.text, unit.text),
        None => amount.number.text.clone(),
    }
}

/// How several readings become one.
pub(super) fn fold(fold: Fold) -> &'static str {
    match fold {
        Fold::Lowest => "lowest",
        Fold::Highest => "highest",
        Fold::Mean => "mean",
        Fold::Spread => "spread (highest minus lowest)",
        Fold::Sum => "sum",
        Fold::Furthest => "one farthest from zero",
        Fold::Last => "last",
    }
}

/// An outcome as people see it.
pub(super) fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Passed => "passed",
        Outcome::Failed => "failed",
        Outcome::Unfinished => "unfinished",
        Outcome::Referred => "referred",
    }
}

/// A quantity with its kind: "toe-length (a length)".
pub(super) fn quantity(model: &Model, quantity: QuantityRef) -> String {
    let name = model.quantity_name(quantity);
    match (quantity, model.kind(quantity)) {
        (QuantityRef::Declared(_), Some(kind)) => format!("{name} ({})", plain(kind.name())),
        _ => plain(name),
    }
}

/// How many decimals a step of a tool has in its unit, at most 6.
pub(super) fn decimals_of(step: &Exact, unit: Unit) -> u32 {
    let shown = from_base_difference(step, unit);
    let ten = Exact::whole(10);
    let mut scaled = shown;
    for decimals in 0..6 {
        if scaled == scaled.rounded(0, dwell_quantity::Rounding::HalfEven) {
            return decimals;
        }
        scaled = &scaled * &ten;
    }
    6
}
