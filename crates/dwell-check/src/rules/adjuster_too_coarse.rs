//! An adjuster, or a series of parts, whose one step is wider than the band that it is to bring a reading into.

use super::Rule;
use crate::check::statements_in;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::{ResolvedBand, Spec, Thing};
use dwell_quantity::{Exact, Rounding, amount_off, from_base_difference};
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
    .help("use an adjuster with finer steps or a finer series of parts, or ask engineering for a wider band")
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
