//! An adjuster, or a series of parts, whose one step is wider than the band that it is to bring a reading into.

use super::Rule;
use crate::check::statements_in;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::{ResolvedBand, Spec, Thing};
use dwell_quantity::{Adjuster, Band, Exact, Rounding, amount_off, band_shown, from_base_difference};
use dwell_syntax::tree::{Block, StatementKind};

pub(super) const RULE: Rule = Rule {
    name: "adjuster-too-coarse",
    level: Level::Warning,
    waivable: true,
    page: include_str!("adjuster_too_coarse.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        crate::check::statements(procedure, whole, &mut |statement, _| {
            let StatementKind::Adjust { what, block, .. } = &statement.kind else { return };
            for (_, to) in what {
                let Some(spec) = facts.spec(file, &to.text) else { continue };
                let Some(step) = finest(facts, file, spec, block) else { continue };
                let bands = if spec.adjust.is_empty() { &spec.check } else { &spec.adjust };
                let tight = bands.iter().filter_map(|band| Some((&band.limit, band.limit.band.width()?)));
                let Some((limit, width)) =
                    tight.filter(|(_, width)| step.moves > *width).min_by_key(|(_, width)| width.clone())
                else {
                    continue;
                };
                findings.push(told(spec, &step, limit, &width, Place { file, span: to.span }));
            }
        });
    }
}

/// The finding: how wide the step and the band are, and how many of the readings can be brought in.
fn told(spec: &Spec, step: &Step, limit: &ResolvedBand, width: &Exact, place: Place) -> Finding {
    let show = |value: &Exact| {
        let needed = from_base_difference(value, limit.unit).decimals_needed();
        amount_off(value, limit.unit, spec.kind, needed.unwrap_or(limit.decimals + 1).max(limit.decimals))
    };
    let share = (width * &Exact::whole(100)).checked_div(&step.moves).unwrap_or_default();
    let share = share.rounded(0, Rounding::Down).fixed(0);
    RULE.at(
        place,
        format!(
            "one step of {} moves it by {}, and the band {} is only {} wide",
            step.of,
            show(&step.moves),
            limit.written,
            show(width)
        ),
    )
    .label("between two steps there may be none that is in")
    .related(step.place, "the step is said here")
    .related(limit.place, "the band is said here")
    .why(format!(
        "Of 100 vehicles only {share} can be brought in: for the others one step is too little and the next too much."
    ))
    .help(format!(
        "{}use an adjuster with finer steps or a finer series of parts, or ask engineering for a wider band",
        reached(step, spec, limit)
    ))
}

/// From which readings as found the band is reached: the bands one step below, in it and one step above; the others follow in
/// the same distance. What the quantity can never be is left out.
fn reached(step: &Step, spec: &Spec, limit: &ResolvedBand) -> String {
    let (Some(low), Some(high)) = (&limit.band.low, &limit.band.high) else { return String::new() };
    let adjuster = Adjuster { step: step.moves.clone(), most: Some(1) };
    let around = Band::closed(&low.value - &step.moves, &high.value + &step.moves);
    let possible = spec.kind.possible().intersect(&around);
    let decimals = [low, high]
        .into_iter()
        .flat_map(|end| [end.value.clone(), &end.value - &step.moves, &end.value + &step.moves])
        .filter_map(|value| from_base_difference(&value, limit.unit).decimals_needed())
        .max()
        .unwrap_or(limit.decimals)
        .clamp(limit.decimals, limit.decimals + 3);
    let show = |band: &Band| band_shown(band, limit.unit, spec.kind, decimals);
    let all: Vec<String> = adjuster.brings_in(&limit.band, &possible).iter().map(show).collect();
    let Some((last, front)) = all.split_last().filter(|(_, front)| !front.is_empty()) else {
        return String::new();
    };
    format!(
        "it can be brought in from {} or {last}, and so on from step to step, and from no reading between: ",
        front.join(", ")
    )
}

/// The finest step with which a block moves a quantity.
struct Step {
    moves: Exact,
    of: String,
    place: Place,
}

/// The finest step of a block on the quantity of a spec; none where something turns it that says no steps.
fn finest(facts: &Facts, file: usize, spec: &Spec, block: &Block) -> Option<Step> {
    let model = facts.model;
    let mut steps: Vec<Step> = Vec::new();
    let mut free = false;
    statements_in(block, &mut |statement, _| match &statement.kind {
        StatementKind::Handle(handle) => {
            let Some(Thing::Item(item)) = facts.thing(file, &handle.item.text) else { return };
            let Some(item) = model.items.get(item) else { return };
            let own = |moved: &&crate::model::Moves| {
                moved.verb == handle.verb.text && model.may_meet(moved.quantity, spec.quantity)
            };
            for moved in item.moves.iter().filter(own) {
                match &moved.step {
                    Some(step) => steps.push(Step {
                        moves: step.clone(),
                        of: format!("the {}", item.label),
                        place: moved.place,
                    }),
                    None => free |= handle.verb.text == "turn",
                }
            }
        }
        StatementKind::Choose { from, .. } => {
            let Some(Thing::Series(series)) = facts.thing(file, &from.text) else { return };
            let Some(series) = model.series.get(series) else { return };
            if model.kind(series.quantity) == Some(spec.kind) {
                steps.push(Step {
                    moves: series.step.clone(),
                    of: format!("`{}`", series.name),
                    place: series.place,
                });
            }
        }
        _ => {}
    });
    if free { None } else { steps.into_iter().min_by_key(|step| step.moves.clone()) }
}
