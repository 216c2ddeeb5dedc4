//! The lines of a part, each as one thing to do, to read or to decide.

mod by_hand;
mod decision;
mod reading;
mod work;

use crate::ends::ends_alike;
use crate::head::signal;
use crate::outline::{Arm, Graph, Leads, Line, Outline};
use crate::parts::{procedure, result};
use crate::sheet::numbers::Numbers;
use crate::vehicle::Vehicle;
use crate::words::{is_side, outcome, plain, text, upper_first, way};
use dwell_card::Card;
use dwell_card::graph::{Act, End, Way};
use maud::{Markup, html};
use std::collections::BTreeSet;

/// Writes lines, and remembers what was said already.
pub(crate) struct Writer<'a> {
    pub(crate) card: &'a Card,
    pub(crate) vehicle: &'a Vehicle,
    pub(crate) outline: &'a Outline,
    /// The cautions in reach, by their nodes.
    cover: Vec<usize>,
    /// Those that were shown in this part.
    shown: BTreeSet<usize>,
    /// The hazards that one may be exposed to by now.
    exposed: BTreeSet<usize>,
    /// The things whose place was told.
    located: BTreeSet<String>,
    /// The frames that were written out: what is performed twice stands once.
    performed: BTreeSet<usize>,
    /// How deep in arms the line stands.
    deep: usize,
    /// The numbers of the lines, on a sheet that is filled in by hand.
    pub(crate) sheet: Option<Numbers>,
    /// Where each line around this one goes on, innermost last.
    goes_on: Vec<Option<String>>,
}

impl<'a> Writer<'a> {
    pub(crate) fn new(card: &'a Card, vehicle: &'a Vehicle, outline: &'a Outline) -> Writer<'a> {
        Writer {
            card,
            vehicle,
            outline,
            cover: Vec::new(),
            shown: BTreeSet::new(),
            exposed: BTreeSet::new(),
            located: BTreeSet::new(),
            performed: BTreeSet::new(),
            deep: 0,
            sheet: None,
            goes_on: Vec::new(),
        }
    }

    /// A part begins: cautions whose hazard may last are shown again.
    pub(crate) fn begin_part(&mut self) -> Markup {
        self.shown.clear();
        let lasting: Vec<usize> = self.exposed.iter().copied().collect();
        self.cautions_for(&lasting)
    }

    /// Lines one under the other.
    pub(crate) fn lines(&mut self, lines: &[Line]) -> Markup {
        html! { @for line in lines { (self.line(line)) } }
    }

    fn line(&mut self, line: &Line) -> Markup {
        let at = line.node;
        if let Some(frame) = line.performs {
            return self.performing(line, frame);
        }
        let Some(known) = self.card.nodes.get(at) else { return html! {} };
        match &known.act {
            Act::Caution { .. } => {
                self.cover.push(at);
                let caution = self.caution(at);
                html! { li.anchor id=(anchor(at)) {} (caution) }
            }
            Act::Uncover { cautions } => {
                self.cover.retain(|known| !cautions.contains(known));
                html! {}
            }
            Act::Note { text: words } => {
                html! { li.note data-node=(at) id=(anchor(at)) { span.kind { "Note" } " " (text(words, self.card)) (self.arms(line)) } }
            }
            Act::Need { .. } => self.need(line),
            Act::Keep { slot, state } => {
                let slot = self.card.slots.get(*slot);
                let state = slot
                    .and_then(|slot| slot.states.get(*state))
                    .map(|state| plain(state))
                    .unwrap_or_default();
                let label = slot.map(|slot| upper_first(&slot.label)).unwrap_or_default();
                html! { li.keep data-node=(at) id=(anchor(at)) { span.kind { "Keep" } " " (label) ": " (state) ", until everything is put back." } }
            }
            Act::Hold(hold) => html! {
                li.keep data-node=(at) id=(anchor(at)) {
                    span.kind { "Hold" } " " (text(&hold.says, self.card))
                    @if let Some(more) = &hold.text { " " (text(more, self.card)) }
                }
            },
            Act::Release { hold, lost } => html! {
                @if !lost {
                    @let held = self.card.nodes.get(*hold).map(|node| &node.act);
                    @if let Some(Act::Hold(held)) = held {
                        li.keep data-node=(at) id=(anchor(at)) { span.kind { "No longer" } " " (plain(&held.name)) " need not be held any more." }
                    }
                }
            },
            Act::Work(work) => self.work(line, work),
            Act::Measure(measure) => self.measure(line, measure),
            Act::Choose(choose) => self.choose(line, choose),
            Act::Ask { question } => html! {
                @if let Some(question) = self.card.questions.get(*question) {
                    li.ask data-node=(at) id=(anchor(at)) {
                        (self.no(at)) (self.when(at)) (text(&question.text, self.card))
                        span.answers { @for value in &question.values { span.answer { span.tick {} (plain(value)) } } }
                        (self.arms(line))
                    }
                }
            },
            Act::Judge(judge) => self.judge(line, judge),
            Act::Branch { condition } => self.branch(line, condition),
            Act::Count { .. } => html! { @if !line.arms.is_empty() { (self.counting(line)) } },
            Act::Sign { persons } => html! {
                li.sign data-node=(at) id=(anchor(at)) {
                    (self.no(at))
                    @if *persons > 1 { "Two persons sign" } @else { "Signed" }
                    (self.signatures(*persons))
                    (self.arms(line))
                }
            },
            Act::Wait { says, .. } => {
                html! { li.do data-node=(at) id=(anchor(at)) { (self.no(at)) (self.when(at)) span.tick {} (text(says, self.card)) (self.arms(line)) } }
            }
            Act::Cause { item, text: why, located } => html! {
                li.cause data-node=(at) id=(anchor(at)) {
                    span.kind { "Probable cause" } " " (item)
                    @if let Some(place) = located { " (" (place) ")" }
                    @if let Some(why) = why { ": " (text(why, self.card)) }
                }
            },
            Act::End(end) => {
                html! { li.end data-node=(at) id=(anchor(at)) { (self.ending(end)) @if !end.in_restore { (self.then_back(known.frame)) } } }
            }
            Act::Unhandled => {
                html! { li.end data-node=(at) id=(anchor(at)) { "Here the text does not say how it goes on." } }
            }
            Act::Open | Act::Step { .. } | Act::Begin { .. } | Act::Restore | Act::Close | Act::Finish => {
                html! {}
            }
        }
    }

    fn ending(&self, end: &End) -> Markup {
        html! {
            (result(outcome(end.outcome)))
            @if let Some(refer) = &end.refer { ": go on with " strong { (plain(refer)) } }
            @if let Some(words) = &end.text { ": " (text(words, self.card)) }
        }
    }

    /// Whether a line asks for something that must hold.
    pub(crate) fn is_need(&self, line: &Line) -> bool {
        matches!(self.card.nodes.get(line.node).map(|node| &node.act), Some(Act::Need { .. }))
    }

    /// Something that must hold, and what is done where it does not.
    pub(crate) fn need(&mut self, line: &Line) -> Markup {
        let Some(Act::Need { says, proved, .. }) = self.card.nodes.get(line.node).map(|node| &node.act)
        else {
            return html! {};
        };
        let does = |arm: &&Arm| arm.lines.iter().any(|line| line.performs.is_some());
        let other = line.arms.iter().find(|arm| arm.ways.contains(&Way::No)).filter(does).cloned();
        html! {
            li data-node=(line.node) id=(anchor(line.node)) {
                (self.no(line.node)) span.tick {} (says) @if *proved { span.faint { " Only a proof in this job counts." } }
                @if let Some(arm) = other { ol.items { (self.lines(&arm.lines)) } }
            }
        }
    }

    /// The caution of a node.
    fn caution(&mut self, at: usize) -> Markup {
        self.shown.insert(at);
        let Some(Act::Caution { level, text: words, .. }) = self.card.nodes.get(at).map(|node| &node.act)
        else {
            return html! {};
        };
        html! {
            li class=(format!("caution {}", level.word().to_lowercase())) data-node=(at) role="note" {
                (signal(*level)) " " (text(words, self.card))
            }
        }
    }

    /// The cautions in reach that cover these hazards and have not been shown in this part.
    fn cautions_for(&mut self, hazards: &[usize]) -> Markup {
        let due = self.cover.iter().copied().filter(|at| {
            let known = self.card.nodes.get(*at).map(|node| &node.act);
            matches!(known, Some(Act::Caution { hazard, .. }) if hazards.contains(hazard))
                && !self.shown.contains(at)
        });
        let due: Vec<usize> = due.collect();
        html! { @for at in due { (self.caution(at)) } }
    }

    /// Another procedure, written out where it is performed.
    fn performing(&mut self, line: &Line, frame: usize) -> Markup {
        let outline = self.outline;
        let known = self.card.frames.get(frame);
        let parts = outline.frames.get(frame).filter(|_| self.performed.insert(frame));
        let cover = std::mem::take(&mut self.cover);
        let others: Vec<Arm> = line.arms.iter().filter(|arm| !ends_alike(self.card, arm)).cloned().collect();
        let alike = others.len() < line.arms.len();
        let written = html! {
            li.performed data-node=(line.node) id=(anchor(line.node)) {
                p { (self.no(line.node)) span.kind { "Do" } " " strong { (known.map_or("", |known| known.title.as_str())) } }
                @if let Some(withdrawn) = known.and_then(|known| known.withdrawn.as_ref()) {
                    p.withdrawn { "Withdrawn from " (withdrawn.on) " on. " (withdrawn.why) }
                }
                @if let Some(parts) = parts { (procedure(self, parts)) } @else if self.sheet.is_some() { p.faint { "As it stands above; its readings go on a sheet of their own." } }
                @if alike { p.faint { "Where it does not end passed, this procedure ends the same way." } }
                (self.arms_of(line.node, &others))
            }
        };
        self.cover = cover;
        written
    }

    /// The ways that leave a line.
    fn arms(&mut self, line: &Line) -> Markup {
        self.arms_of(line.node, &line.arms)
    }

    fn arms_of(&mut self, node: usize, arms: &[Arm]) -> Markup {
        let next = self.sheet.as_ref().and_then(|numbers| numbers.next(node)).map(str::to_owned);
        self.goes_on.push(next);
        let written = self.these_arms(arms);
        self.goes_on.pop();
        written
    }

    fn these_arms(&mut self, arms: &[Arm]) -> Markup {
        let told: Vec<&Arm> =
            arms.iter().filter(|arm| !(arm.lines.is_empty() && arm.leads == Leads::On)).collect();
        html! { @if !told.is_empty() { ul.arms { @for arm in told { (self.arm(arm)) } } } }
    }

    fn arm(&mut self, arm: &Arm) -> Markup {
        // How the decision came out is asked next: its answers stand in the place of this one.
        if let [asks] = arm.lines.as_slice()
            && is_side(self.card, asks.node)
        {
            let arms = asks.arms.clone();
            return html! { @for arm in &arms { (self.arm(arm)) } };
        }
        let word = way(self.card, arm.from, &arm.ways);
        let class = match word.as_str() {
            "LOW" | "HIGH" | "OUT" => "word out",
            "IN" => "word in",
            _ => "word",
        };
        self.deep += 1;
        let written = html! {
            li.arm {
                span.way { @if word != "otherwise" { "if " } span class=(class) { (word) } }
                ol.items { (self.lines(&arm.lines)) }
                @let on = arm.leads == Leads::On && self.sheet.is_some();
                @if on || !matches!(arm.leads, Leads::On | Leads::Ended) || arm.lines.is_empty() {
                    p.leads { "→ " (self.where_to(arm.leads)) }
                }
            }
        };
        self.deep -= 1;
        written
    }

    /// Where it goes on, in words.
    pub(crate) fn where_to(&self, leads: Leads) -> Markup {
        let place = |node: usize| self.pointer(node);
        match leads {
            Leads::On => self.go_on(self.goes_on.last().and_then(Option::as_deref)),
            Leads::Back(node) => html! { "back to: " (place(node)) },
            Leads::Further(node) => html! { "further below: " (place(node)) },
            Leads::Step(node) => html! { "go on with: " (place(node)) },
            Leads::Out => html! { "put back what is owed: that is all" },
            Leads::Ended => html! {},
        }
    }

    /// A pointer to a node, past all that is not told; an end is told again.
    fn pointer(&self, node: usize) -> Markup {
        let graph = Graph::new(self.card, self.vehicle);
        let mut at = node;
        for _ in 0..self.card.nodes.len() {
            if graph.is_out(at) {
                return html! { "put back what is owed: that is all" };
            }
            match (graph.act(at), graph.ways(at).as_slice()) {
                (Some(Act::End(end)), _) => return self.ending(end),
                (Some(Act::Uncover { .. } | Act::Begin { .. } | Act::Release { .. }), [(_, next)]) => {
                    at = *next
                }
                (Some(Act::Branch { .. } | Act::Count { .. }), [(_, next)]) => at = *next,
                _ => break,
            }
        }
        html! { a href=(format!("#{}", anchor(at))) { (self.no(at)) (self.called(at)) } }
    }

    /// What a node is called where it is pointed at.
    fn called(&self, node: usize) -> String {
        let Some(known) = self.card.nodes.get(node) else { return String::new() };
        match &known.act {
            Act::Step { step } => {
                self.card.steps.get(*step).map(|step| step.title.clone()).unwrap_or_default()
            }
            Act::Judge(judge) => crate::words::condition(self.card, &judge.condition),
            Act::Branch { condition } => crate::words::condition(self.card, condition),
            Act::Work(work) => text(&work.says, self.card),
            Act::Measure(measure) => text(&measure.says, self.card),
            Act::Ask { question } => self
                .card
                .questions
                .get(*question)
                .map(|known| text(&known.text, self.card))
                .unwrap_or_default(),
            Act::Wait { says, .. } | Act::Note { text: says } | Act::Caution { text: says, .. } => {
                text(says, self.card)
            }
            Act::Cause { item, .. } => item.clone(),
            Act::Choose(choose) => format!("choose from {}", plain(&choose.series)),
            Act::Count { .. } => "the round".to_owned(),
            Act::Open => {
                self.card.frames.get(known.frame).map(|frame| frame.title.clone()).unwrap_or_default()
            }
            _ => "the line there".to_owned(),
        }
    }
}

/// The name of a node's place on the page.
pub(crate) fn anchor(node: usize) -> String {
    format!("n{node}")
}
