//! The ways through procedures, each from its beginning to its end: found by the analysis, confirmed by the runner.

use crate::solve::{Led, led};
use crate::told::told;
use dwell_card::Card;
use dwell_card::graph::{Act, Outcome, Side, Test, Way};
use dwell_check::check::{Checked, Compiled, lowered_again};
use dwell_check::finding::{Place, Reply};
use dwell_check::flow::ways::{Effort, Through, all, combinations, covering};
use dwell_check::lower::Lowered;
use dwell_run::Session;

/// Which ways are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// So many that every branch is on one of them.
    EveryBranch,
    /// All, at most so many for each combination of variants.
    All(usize),
}

/// The ways through one procedure for one combination of variants.
#[derive(Clone, Debug)]
pub struct WaysThrough {
    /// Its name.
    pub procedure: String,
    /// Where its name is declared.
    pub place: Place,
    /// The variants that the ways differ by, each axis with its value.
    pub variants: Vec<(String, String)>,
    /// The ways, the usual ones first.
    pub ways: Vec<WayThrough>,
    /// Whether nothing is left out: every branch is on a way, or all ways are there.
    pub complete: bool,
}

/// One way.
#[derive(Clone, Debug)]
pub struct WayThrough {
    /// The nodes of the card, each with the way taken from it.
    pub nodes: Vec<(usize, Way)>,
    /// What to answer, in the order in which it is asked.
    pub answers: Vec<Reply>,
    /// What decides on it, in words.
    pub told: Vec<String>,
    /// The names of the steps that are passed.
    pub steps: Vec<String>,
    /// How it ends: `passed`, `failed`, `unfinished`, `referred`.
    pub ends: &'static str,
    /// Whether the runner went it.
    pub confirmed: Confirmed,
}

/// What the runner made of a way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Confirmed {
    /// It went it, node by node, to the same end.
    Yes,
    /// No readings were found with which it goes it; why, a sentence without its point. The way is possible as far as the
    /// analysis can tell, which does not compute with formulas and tables.
    NotFound(String),
    /// It goes another way although nothing but single readings decides: checker and runner do not mean the same. That is a
    /// mistake of Dwell.
    Contradicted(String),
}

/// The ways through the procedures that have a card and whose name is asked for, for the variants that are asked for (those
/// that are not named, for all of their values). `at` is the time that counts, as RFC 3339 writes it.
pub fn ways(
    checked: &Checked,
    procedure: Option<&str>,
    variants: &[(String, String)],
    wanted: Wanted,
    at: &str,
) -> Vec<WaysThrough> {
    let mut found = Vec::new();
    for (place, lowered) in lowered_again(checked) {
        let Some(compiled) = checked.procedures.get(place) else { continue };
        if compiled.card.is_none() || procedure.is_some_and(|name| name != compiled.name) {
            continue;
        }
        for chosen in combinations(&lowered) {
            let Some(chosen) = with(&lowered.card, chosen, variants) else { continue };
            let named = named(&lowered.card, &chosen);
            if found
                .iter()
                .any(|known: &WaysThrough| known.place == compiled.place && known.variants == named)
            {
                continue;
            }
            found.push(ways_of(compiled, &lowered, &chosen, wanted, at));
        }
    }
    found
}

/// The ways through one procedure, whether it is proved or not, for one combination of variants.
pub fn ways_of(
    compiled: &Compiled,
    lowered: &Lowered,
    chosen: &[usize],
    wanted: Wanted,
    at: &str,
) -> WaysThrough {
    let variants = named(&lowered.card, chosen);
    let mut ways: Vec<WayThrough> = Vec::new();
    let begun = Session::start_watched(lowered.card.clone(), &variants, at);
    let mut complete = begun.is_ok();
    if let Ok(begun) = begun {
        match wanted {
            Wanted::EveryBranch => {
                let mut doubtful: Vec<WayThrough> = Vec::new();
                let open = covering(lowered, chosen, &mut |through, effort| {
                    let (way, against) = confirm(compiled, &lowered.card, &begun, (through, effort), at);
                    if way.confirmed == Confirmed::Yes {
                        ways.push(way);
                        return Ok(());
                    }
                    doubtful.push(way);
                    Err(against)
                });
                // Of what was not confirmed the first way for each branch that is on no other.
                for edge in &open {
                    let on = |way: &WayThrough| way.nodes.contains(edge);
                    if let (false, Some(way)) = (ways.iter().any(on), doubtful.iter().find(|way| on(way))) {
                        ways.push(way.clone());
                    }
                }
            }
            Wanted::All(most) => {
                complete = all(lowered, chosen, most, &mut |through| {
                    ways.push(confirm(compiled, &lowered.card, &begun, (through, Effort::All), at).0);
                });
            }
        }
    }
    WaysThrough { procedure: compiled.name.clone(), place: compiled.place, variants, ways, complete }
}

/// Lets the runner go a way; with it the decisions that stand against the way, where it does not.
fn confirm(
    compiled: &Compiled,
    card: &Card,
    begun: &Session,
    (through, effort): (Through, Effort),
    at: &str,
) -> (WayThrough, Vec<(usize, Way)>) {
    let Through { witness, told: words, ends, sure } = through;
    let Led { answers, run, against } = led(begun, &witness.nodes, &witness.answers, effort, at);
    let came = run.session.result().map(crate::trial::ends);
    let confirmed = match &run.left {
        None if came == Some(word(ends)) => Confirmed::Yes,
        None => Confirmed::Contradicted(format!(
            "it ends {} and not {}",
            came.unwrap_or("not at all"),
            word(ends)
        )),
        Some(why) if sure => Confirmed::Contradicted(why.clone()),
        Some(why) => Confirmed::NotFound(not_found(card, &witness.nodes, run.nodes, why)),
    };
    let told = match confirmed {
        Confirmed::Yes => denied(card, &witness.nodes)
            .into_iter()
            .chain(told(run.session.events(), compiled).into_iter().map(|told| told.words))
            .collect(),
        _ => words,
    };
    let steps = steps(card, &witness.nodes);
    let answers = if confirmed == Confirmed::Yes { answers } else { witness.answers };
    (WayThrough { nodes: witness.nodes, answers, told, steps, ends: word(ends), confirmed }, against)
}

/// Why no readings were found: what would have to come out otherwise where the run left the way.
fn not_found(card: &Card, way: &[(usize, Way)], left_at: usize, why: &str) -> String {
    let wanted = way.get(left_at).and_then(|(node, on)| {
        let (condition, comes) = match (&card.nodes.get(*node)?.act, on) {
            (Act::Judge(judge), Way::In) => (&judge.condition, "holds"),
            (Act::Judge(judge), _) => (&judge.condition, "does not hold"),
            (Act::Branch { condition }, Way::Yes) => (condition, "holds"),
            (Act::Branch { condition }, Way::NoReading) => (condition, "cannot be decided"),
            (Act::Branch { condition }, _) => (condition, "does not hold"),
            (Act::Choose(choose), Way::Then) => {
                return Some(format!("a size of `{}` is found", choose.series));
            }
            (Act::Choose(choose), _) => return Some(format!("no size of `{}` is found", choose.series)),
            (Act::Work(work), on) => {
                let set = work.worked_out.as_ref()?;
                let comes = if *on == Way::Then { "can" } else { "cannot" };
                return Some(format!("`{}` {comes} be worked out", set.name));
            }
            _ => return None,
        };
        let side = match condition.tests.as_slice() {
            [Test::Side { side: Side::Low, .. }] => Some("low"),
            [Test::Side { side: Side::High, .. }] => Some("high"),
            [Test::Side { .. }] => Some("without a reading"),
            _ => None,
        };
        Some(match side {
            Some(side) if *on == Way::Yes => format!("it comes out {side}"),
            Some(side) => format!("it does not come out {side}"),
            None => format!("“{}” {comes}", condition.says.trim_end_matches('.')),
        })
    });
    match wanted {
        Some(wanted) => {
            format!(
                "no reading leads here: after what was decided before, none was found with which {wanted}"
            )
        }
        None => format!("no reading leads here: {why}"),
    }
}

/// The needs that do not hold on a way, in words.
fn denied(card: &Card, nodes: &[(usize, Way)]) -> Vec<String> {
    let needs = nodes.iter().filter_map(|(node, way)| match &card.nodes.get(*node)?.act {
        Act::Need { says, .. } if *way == Way::No => {
            Some(format!("“{}” does not hold", says.trim_end_matches('.')))
        }
        _ => None,
    });
    needs.collect()
}

fn steps(card: &Card, nodes: &[(usize, Way)]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for (node, _) in nodes {
        let Some(known) = card.nodes.get(*node).filter(|node| node.frame == 0) else { continue };
        let Act::Step { step } = &known.act else { continue };
        let Some(step) = card.steps.get(*step) else { continue };
        if all.last() != Some(&step.name) {
            all.push(step.name.clone());
        }
    }
    all
}

/// The word with which a case says an outcome.
fn word(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Passed => "passed",
        Outcome::Failed => "failed",
        Outcome::Unfinished => "unfinished",
        Outcome::Referred => "referred",
    }
}

/// The combination with the variants that are asked for in their places; nothing where the card does not apply to them.
fn with(card: &Card, mut chosen: Vec<usize>, variants: &[(String, String)]) -> Option<Vec<usize>> {
    for (name, value) in variants {
        let Some(axis) = card.axes.iter().position(|axis| axis.name == *name) else { continue };
        let wanted = card.axes.get(axis)?.values.iter().position(|known| known == value)?;
        *chosen.get_mut(axis)? = wanted;
    }
    Some(chosen)
}

/// The variants by their names.
fn named(card: &Card, chosen: &[usize]) -> Vec<(String, String)> {
    let axes = card.axes.iter().zip(chosen);
    axes.filter_map(|(axis, value)| Some((axis.name.clone(), axis.values.get(*value)?.clone()))).collect()
}
