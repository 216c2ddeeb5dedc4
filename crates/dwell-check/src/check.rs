//! From texts to findings and cards: the files, the names, the quantities, the flow, the rules, in this order.

mod blocks;
mod judged;
mod levels;
mod places;
mod reach;
mod shadow;
#[cfg(test)]
mod tests;
mod waiver;

pub(crate) use blocks::{statements, statements_in};
pub(crate) use judged::{conditions, quantities, reading};

use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::flow::{Reachable, Walks};
use crate::lower::{Lowered, cases, lower};
use crate::model::{Model, ProcedureHead};
use crate::options::{Options, SettingsText};
use crate::program::{Content, Program, SourceFile, Sources};
use crate::trouble::Trouble;
use crate::{flow, limits, prose, resolve, rules, uses};
use dwell_card::Card;
use dwell_syntax::lines::Lines;
use dwell_syntax::tree::File;
use rayon::prelude::*;
use reach::Reach;
use std::cmp::Reverse;
use std::collections::HashSet;
use std::sync::Arc;
use waiver::Waiver;

/// What came out.
#[derive(Clone, Debug)]
pub struct Checked {
    /// The files.
    pub program: Program,
    /// What the declarations mean.
    pub model: Model,
    /// What was found, by file and place.
    pub findings: Vec<Finding>,
    /// What was found and waived, each with the reason.
    pub waived: Vec<Waived>,
    /// The procedures of the files that were asked for.
    pub procedures: Vec<Compiled>,
    waivers: Vec<Waiver>,
    levels: levels::Set,
}

/// A finding that the writer waived.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waived {
    /// The finding.
    pub finding: Finding,
    /// The writer's reason.
    pub because: String,
    /// Where it is waived.
    pub place: Place,
}

/// One procedure.
#[derive(Clone, Debug)]
pub struct Compiled {
    /// Its name.
    pub name: String,
    /// The file that declares it.
    pub file: usize,
    /// Where its name is declared.
    pub place: Place,
    /// Its card; none while an error concerns its file, one that this file uses, or the settings.
    pub card: Option<Card>,
    /// The graph that was walked, proved or not: what a witness refers to. None where the text has a hole.
    pub graph: Option<Card>,
    /// For each node of the card the text that it comes from.
    pub places: Vec<Place>,
    /// For each node whether no statement stands for it.
    pub made: Vec<bool>,
    /// For each frame of the card the text that performs it.
    pub performed_at: Vec<Place>,
    /// What can be reached on the card.
    pub reached: Reachable,
}

impl Checked {
    /// Whether any finding is an error.
    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(|finding| finding.level == Level::Error)
    }

    /// Findings about these texts that were made elsewhere: those that stand, and those that the writer waives, with the levels
    /// that were set.
    pub fn sorted(&self, findings: Vec<Finding>) -> (Vec<Finding>, Vec<Waived>) {
        let (mut findings, mut waived) = waiver::apart(ordered(findings), &self.waivers);
        self.levels.put(&mut findings, &mut waived);
        (ordered(findings), waived)
    }
}

/// Checks these files, with all that they use. The procedures that stand in them are walked through on every way and
/// for every variant; those of used files only where they are performed.
pub fn check(roots: &[String], sources: &dyn Sources) -> Checked {
    check_with(roots, sources, &Options::default())
}

/// The same on a day, year-month-day: what is withdrawn by then must not be used any more.
pub fn check_on(roots: &[String], sources: &dyn Sources, day: Option<&str>) -> Checked {
    check_with(roots, sources, &Options { day: day.map(str::to_owned), ..Options::default() })
}

/// The same with a day, levels and words of a house.
pub fn check_with(roots: &[String], sources: &dyn Sources, options: &Options) -> Checked {
    whole_check(roots, sources, options, None, &|| true)
}

/// What is kept from one check of a file to the next; it changes nothing of what is found.
#[derive(Debug, Default)]
pub struct Memory {
    pub(crate) walks: Walks,
}

/// The same for a file that is checked again and again. `wanted` is asked now and then, and when nobody wants to know any
/// more, nothing comes back.
pub fn check_remembering(
    roots: &[String],
    sources: &dyn Sources,
    options: &Options,
    memory: &Memory,
    wanted: &(dyn Fn() -> bool + Sync),
) -> Option<Checked> {
    memory.walks.begin();
    let checked = whole_check(roots, sources, options, Some(memory), wanted);
    // What was begun and not finished is not told.
    wanted().then_some(checked)
}

fn whole_check(
    roots: &[String],
    sources: &dyn Sources,
    options: &Options,
    memory: Option<&Memory>,
    wanted: &(dyn Fn() -> bool + Sync),
) -> Checked {
    let mut troubles = Vec::new();
    let mut program = Program::load(roots, sources, &mut troubles);
    let mut model = resolve::resolve(&program, &mut troubles);
    model.house = options.house;
    limits::declared(&model, &mut troubles);
    let waivers = waiver::all(&program, &mut troubles);
    let reach = Reach::of(&program, &model);
    let mut of_cases = Vec::new();
    let roots = |head: &ProcedureHead| program.files.get(head.place.file).is_some_and(|file| file.root);
    let asked: Vec<usize> =
        (0..).zip(&model.procedures).filter(|(_, head)| roots(head)).map(|(index, _)| index).collect();
    let mut lowered: Vec<Option<Lowered>> = Vec::new();
    for procedure in &asked {
        let mut whole = || whole(&program, &model, *procedure, &reach, &mut troubles, &mut of_cases);
        lowered.push(if wanted() { whole() } else { None });
    }
    let walks = memory.map(|memory| &memory.walks);
    let mut walked = walked(&lowered, walks, wanted);
    troubles.extend(walked.iter_mut().flat_map(|(troubles, _)| std::mem::take(troubles)));
    let mut walked = walked.into_iter().map(|(_, reached)| reached);
    let mut procedures: Vec<Compiled> = Vec::new();
    for (index, lowered) in asked.into_iter().zip(lowered) {
        let reached = lowered.as_ref().and_then(|_| walked.next()).unwrap_or_default();
        let Some(head) = model.procedures.get(index) else { continue };
        let (card, beside) = lowered
            .map(|lowered| (lowered.card, (lowered.places, lowered.made, lowered.frame_places)))
            .unzip();
        let (places, made, performed_at) = beside.unwrap_or_default();
        procedures.push(Compiled {
            name: head.name.clone(),
            file: head.place.file,
            place: head.place,
            graph: card.clone(),
            card,
            places,
            made,
            performed_at,
            reached,
        });
    }
    uses::unused_names(&program, &model, &mut troubles);
    uses::unused_readings(&program, &model, &mut troubles);
    troubles.append(&mut of_cases);
    troubles.retain(|trouble| !reach.follows_from_a_hole(trouble));
    shadow::leave_out(&program, &mut troubles);
    places::join(&mut troubles);
    program.files.extend(options.settings.as_ref().map(settings));
    let prose = prose::passages(&program);
    let findings = rules::findings(&Facts {
        program: &program,
        model: &model,
        options,
        prose: &prose,
        troubles: &troubles,
    });
    let (mut findings, mut waived) = waiver::apart(ordered(findings), &waivers);
    let idle = waiver::unused(&program, &waivers, &waived, |file| {
        let mut here = procedures.iter().filter(|compiled| compiled.file == file).peekable();
        here.peek().is_some() && here.all(|compiled| compiled.graph.is_some())
    });
    let idle = rules::of_waivers(&Facts {
        program: &program,
        model: &model,
        options,
        prose: &prose,
        troubles: &idle,
    });
    let (idle, idle_waived) = waiver::apart(ordered(idle), &waivers);
    findings.extend(idle);
    waived.extend(idle_waived);
    let levels = levels::Set::of(options, &program, sources);
    levels.put(&mut findings, &mut waived);
    let findings = ordered(findings);
    let errors = findings.iter().filter(|finding| finding.level == Level::Error);
    let in_error: HashSet<usize> = errors.map(|error| error.place.file).collect();
    let unset = options.settings.as_ref().is_some_and(|settings| !settings.slips.is_empty());
    for compiled in &mut procedures {
        if unset || reach.files_seen(compiled.file).iter().any(|file| in_error.contains(file)) {
            compiled.card = None;
        }
    }
    Checked { program, model, findings, waived, procedures, waivers, levels }
}

/// The procedures whose text has no hole, lowered once more: each by its place among [`Checked::procedures`].
pub fn lowered_again(checked: &Checked) -> Vec<(usize, Lowered)> {
    let (model, mut troubles, mut all) = (&checked.model, Vec::new(), Vec::new());
    for (place, compiled) in checked.procedures.iter().enumerate().filter(|(_, known)| known.graph.is_some())
    {
        let index = model.procedures.iter().position(|head| head.place == compiled.place);
        let lowered = index.and_then(|index| lower(&checked.program, model, index, &mut troubles));
        all.extend(lowered.map(|lowered| (place, lowered)));
    }
    all
}

/// The settings as one file more, which nothing uses: only so can what is wrong in them be shown.
fn settings(settings: &SettingsText) -> SourceFile {
    let content = Content {
        lines: Lines::of(&settings.text),
        text: settings.text.clone(),
        tree: File::default(),
        slips: settings.slips.clone(),
    };
    SourceFile { path: settings.path.clone(), content: Arc::new(content), uses: Vec::new(), root: false }
}

/// Lowers one procedure, as far as its text has no hole.
fn whole(
    program: &Program,
    model: &Model,
    procedure: usize,
    reach: &Reach,
    troubles: &mut Vec<Trouble>,
    of_cases: &mut Vec<Trouble>,
) -> Option<Lowered> {
    if reach.is_broken(procedure) {
        return None;
    }
    let lowered = lower(program, model, procedure, troubles)?;
    if reach.has_hole(procedure, troubles) {
        return None;
    }
    limits::judged(model, &lowered, troubles);
    cases(program, model, procedure, &lowered, of_cases);
    Some(lowered)
}

/// What the walks through these find, and what they reach, in their order. Each walk is on its own, so they are done side by side, on as many
/// cores as there are; the largest first, so that none of them is waited for alone at the end.
fn walked(
    lowered: &[Option<Lowered>],
    walks: Option<&Walks>,
    wanted: &(dyn Fn() -> bool + Sync),
) -> Vec<(Vec<Trouble>, Reachable)> {
    let mut largest_first: Vec<(usize, &Lowered)> =
        lowered.iter().enumerate().filter_map(|(place, one)| Some((place, one.as_ref()?))).collect();
    largest_first.sort_by_key(|(_, one)| Reverse(one.card.nodes.len()));
    let walk =
        |one: &Lowered| if wanted() { walk(one, walks) } else { <(Vec<Trouble>, Reachable)>::default() };
    let mut walked: Vec<(usize, (Vec<Trouble>, Reachable))> =
        largest_first.into_par_iter().with_max_len(1).map(|(place, one)| (place, walk(one))).collect();
    walked.sort_by_key(|(place, _)| *place);
    walked.into_iter().map(|(_, walked)| walked).collect()
}

/// Walks through one procedure, on every way and for every variant.
fn walk(lowered: &Lowered, walks: Option<&Walks>) -> (Vec<Trouble>, Reachable) {
    let mut troubles = Vec::new();
    let reached = flow::analyse(lowered, walks, &mut troubles);
    (troubles, reached)
}

/// By file and place; what two callers of one procedure found alike stands there once.
fn ordered(mut findings: Vec<Finding>) -> Vec<Finding> {
    let mut seen = HashSet::new();
    findings.retain(|finding| seen.insert((finding.place, finding.rule, finding.message.clone())));
    findings.sort_by(|one, other| {
        (one.place, one.level, one.rule, &one.message).cmp(&(
            other.place,
            other.level,
            other.rule,
            &other.message,
        ))
    });
    findings
}
