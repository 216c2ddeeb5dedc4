//! Decisions: what is asked, with the limits that decide, and what is done on each side.

use super::{Writer, anchor};
use crate::bands::{Against, against};
use crate::outline::{Leads, Line};
use crate::tests_of::all;
use crate::words::{condition, way};
use dwell_card::graph::{Act, Condition, Judge};
use maud::{Markup, html};

impl Writer<'_> {
    /// A decision that counts for the result.
    pub(super) fn judge(&mut self, line: &Line, judge: &Judge) -> Markup {
        let asks = if judge.adjusting { "Set" } else { "Decide" };
        html! {
            li.decide data-node=(line.node) id=(anchor(line.node)) {
                p { (self.no(line.node)) span.kind { (asks) } " " strong { (condition(self.card, &judge.condition)) } "?" }
                (self.limits(&judge.condition, judge.adjusting, false))
                @if !judge.proves.is_empty() { p.faint { "This is the proof: it is measured in this job." } }
                (self.judged_arms(line))
            }
        }
    }

    /// What only goes on is said in a line; what is something of its own stands below it.
    fn judged_arms(&mut self, line: &Line) -> Markup {
        let on = line.arms.iter().filter(|arm| arm.lines.is_empty() && arm.leads == Leads::On);
        let words: Vec<String> = on.map(|arm| way(self.card, arm.from, &arm.ways)).collect();
        html! {
            @for word in &words {
                p.way { "if " span class=(if word == "IN" { "word in" } else { "word out" }) { (word) } " → " (self.go_on(self.sheet.as_ref().and_then(|numbers| numbers.next(line.node)))) }
            }
            (self.arms(line))
        }
    }

    /// A question that the readings, answers or the vehicle decide.
    pub(super) fn branch(&mut self, line: &Line, asked: &Condition) -> Markup {
        if line.arms.is_empty() {
            return html! {};
        }
        if crate::words::side(asked).is_some() {
            return self.arms(line);
        }
        html! {
            li.decide data-node=(line.node) id=(anchor(line.node)) {
                p { (self.no(line.node)) span.kind { "If" } " " strong { (condition(self.card, asked)) } "?" }
                (self.limits(asked, false, true))
                (self.arms(line))
            }
        }
    }

    /// A loop that may go round so often.
    pub(super) fn counting(&mut self, line: &Line) -> Markup {
        let times = match self.card.nodes.get(line.node).map(|node| &node.act) {
            Some(Act::Count { counter }) => self.card.counters.get(*counter).copied(),
            _ => None,
        };
        html! {
            li.loop data-node=(line.node) id=(anchor(line.node)) {
                p {
                    (self.no(line.node)) span.kind { "Round" }
                    @match times {
                        Some(1) => " once: ",
                        Some(times) => { " at most " strong { (times) } " times: " }
                        None => " again: ",
                    }
                    @for _ in 0..times.unwrap_or(0).min(12) { span.tick {} }
                }
                (self.arms(line))
            }
        }
    }

    /// The limits of a condition, each once.
    fn limits(&self, asked: &Condition, adjusting: bool, named: bool) -> Markup {
        let mut found: Vec<Against> = Vec::new();
        for test in all(asked) {
            // A question that only leads another way has said its own bands.
            let known = against(self.card, self.vehicle, test, adjusting);
            found.extend(known.filter(|known| !found.contains(known) && (!named || known.name.is_some())));
        }
        html! {
            @for one in &found {
                @for case in &one.cases {
                    @let words = if adjusting { case.set.as_ref().or(case.check.as_ref()) } else { case.check.as_ref() };
                    @if let Some(words) = words {
                        p.band {
                            @if !case.when.is_empty() { span.when { (case.when) ":" } " " }
                            @if let Some(name) = &one.name { (crate::words::plain(name)) " " }
                            strong { (words.ends) }
                            @for more in words.written.iter().chain(&words.others) { " (" (more) ")" }
                            @if one.not_adjustable { span.faint { " not adjustable" } }
                        }
                    }
                }
                @if let (Some(name), false) = (&one.name, one.rows.is_empty()) {
                    p.band { (crate::words::plain(name)) ": as the rows say. " (one.looked_up.clone().unwrap_or_default()) }
                }
            }
        }
    }
}
