//! The numbers of a sheet's lines, so that one line can send to another: `2.4` in the second step, `N.1` before it, `R.1` of what is
//! put back; in a performed procedure with its letter before it, `A1.2`.

use crate::outline::{Frame, Leads, Line, Outline};
use crate::vehicle::Vehicle;
use crate::words::side;
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use std::collections::{BTreeMap, BTreeSet};

/// The most rounds of a loop that have boxes of their own.
const MOST_ROUNDS: u32 = 8;

/// The numbers of all lines.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Numbers {
    /// For each node its number.
    lines: BTreeMap<usize, String>,
    /// For each node where it goes on after all that stands on its arms.
    next: BTreeMap<usize, String>,
    /// For each node in a loop how often it may be done.
    rounds: BTreeMap<usize, u32>,
    /// For each frame the number of the first line that is put back.
    restore: BTreeMap<usize, String>,
}

impl Numbers {
    /// The numbers of the lines of a sheet. They are those of the card for any vehicle, so that a line has the same number on
    /// every sheet of it; on one for a certain vehicle some are missing.
    pub(crate) fn of(card: &Card, outline: &Outline) -> Numbers {
        let any = Outline::of(card, &Vehicle::any(card));
        let numbers = Numbers::default();
        let (letters, seen, order, back) = (BTreeMap::new(), BTreeSet::new(), Vec::new(), Vec::new());
        let mut numbering = Numbering { card, outline: &any, numbers, letters, seen, order, back };
        numbering.frame(0, "");
        numbering.again();
        numbering.outline = outline;
        numbering.printed();
        numbering.follow(0, None, &mut BTreeSet::new());
        numbering.numbers
    }

    /// The numbers of all lines of a card, by their nodes.
    pub(crate) fn all(card: &Card) -> BTreeMap<usize, String> {
        Numbers::of(card, &Outline::of(card, &Vehicle::any(card))).lines
    }

    /// The number of a node's line.
    pub(crate) fn line(&self, node: usize) -> Option<&str> {
        self.lines.get(&node).map(String::as_str)
    }

    /// The number of the line below a node and all its arms.
    pub(crate) fn next(&self, node: usize) -> Option<&str> {
        self.next.get(&node).map(String::as_str)
    }

    /// How often a line may be done; 1 outside of loops.
    pub(crate) fn rounds(&self, node: usize) -> u32 {
        self.rounds.get(&node).copied().unwrap_or(1).clamp(1, MOST_ROUNDS)
    }

    /// The number of the first line of a frame that is put back.
    pub(crate) fn restore(&self, frame: usize) -> Option<&str> {
        self.restore.get(&frame).map(String::as_str)
    }
}

struct Numbering<'a> {
    card: &'a Card,
    outline: &'a Outline,
    numbers: Numbers,
    /// The letter of each performed frame.
    letters: BTreeMap<usize, String>,
    seen: BTreeSet<usize>,
    /// The nodes in the order in which they are read.
    order: Vec<usize>,
    /// The loops that lead back: from which node to which, and how often.
    back: Vec<(usize, usize, u32)>,
}

impl Numbering<'_> {
    fn act(&self, node: usize) -> Option<&Act> {
        self.card.nodes.get(node).map(|node| &node.act)
    }

    fn frame(&mut self, frame: usize, letter: &str) {
        let outline = self.outline;
        let Some(parts) = outline.frames.get(frame).filter(|_| self.seen.insert(frame)) else { return };
        let (needs, others) = self.apart(&parts.before);
        let mut count = 0;
        self.lines(&[needs, others].concat(), &format!("{letter}N"), &mut count, 1);
        let mut counts: BTreeMap<usize, (usize, u32)> = BTreeMap::new();
        for step in &parts.steps {
            let new = counts.len() + 1;
            let (number, mut count) = *counts.entry(step.step).or_insert((new, 0));
            let name = format!("{letter}{number}");
            self.numbers.lines.insert(step.node, name.clone());
            self.order.push(step.node);
            self.lines(&step.lines.iter().collect::<Vec<_>>(), &name, &mut count, 1);
            counts.insert(step.step, (number, count));
        }
        let mut count = 0;
        self.lines(&parts.restore.iter().collect::<Vec<_>>(), &format!("{letter}R"), &mut count, 1);
    }

    /// Only what stands on the sheet keeps its number; what is put back begins at the first line that stands there.
    fn printed(&mut self) {
        let outline = self.outline;
        let steps = outline.frames.iter().flat_map(|frame| &frame.steps).map(|step| step.node);
        let lines = outline.frames.iter().flat_map(Frame::all_lines);
        let lines = lines.filter(|line| self.is_numbered(line)).map(|line| line.node);
        let there: BTreeSet<usize> = steps.chain(lines).collect();
        self.numbers.lines.retain(|node, _| there.contains(node));
        for (frame, parts) in outline.frames.iter().enumerate() {
            if let Some(first) = self.first(&parts.restore) {
                self.numbers.restore.insert(frame, first);
            }
        }
    }

    /// Needs stand before the other lines.
    fn apart<'l>(&self, lines: &'l [Line]) -> (Vec<&'l Line>, Vec<&'l Line>) {
        lines.iter().partition(|line| matches!(self.act(line.node), Some(Act::Need { .. })))
    }

    fn lines(&mut self, lines: &[&Line], part: &str, count: &mut u32, mut rounds: u32) {
        for line in lines {
            self.order.push(line.node);
            if self.is_numbered(line) {
                *count += 1;
                self.numbers.lines.insert(line.node, format!("{part}.{count}"));
            }
            if rounds > 1 {
                self.numbers.rounds.insert(line.node, rounds);
            }
            if let Some(frame) = line.performs {
                let new = letter(self.letters.len());
                let letter = self.letters.entry(frame).or_insert(new).clone();
                self.frame(frame, &letter);
            }
            let counter = match self.act(line.node) {
                Some(Act::Count { counter }) => self.card.counters.get(*counter).copied(),
                _ => None,
            };
            if let Some(times) = counter {
                self.loops(line, times);
                if line.arms.iter().all(|arm| {
                    !arm.ways.contains(&Way::Again) || arm.lines.is_empty() && arm.leads == Leads::On
                }) {
                    // The round itself stands below.
                    rounds = times;
                }
            }
            let is_need = matches!(self.act(line.node), Some(Act::Need { .. }));
            for arm in &line.arms {
                // Of a need only what is done about it is told.
                let told = !is_need
                    || arm.ways.contains(&Way::No) && arm.lines.iter().any(|line| line.performs.is_some());
                let again = arm.ways.contains(&Way::Again);
                let rounds = counter.filter(|_| again).unwrap_or(rounds);
                if told {
                    self.lines(&arm.lines.iter().collect::<Vec<_>>(), part, count, rounds);
                }
            }
        }
    }

    /// Where a loop leads back to something above, that is done once more for each round.
    fn loops(&mut self, line: &Line, times: u32) {
        for arm in line.arms.iter().filter(|arm| arm.ways.contains(&Way::Again)) {
            if let Leads::Back(to) | Leads::Step(to) = arm.leads {
                self.back.push((line.node, to, times.saturating_add(1)));
            }
        }
    }

    /// All lines between where a loop leads back to and the loop itself are done as often as it goes round.
    fn again(&mut self) {
        for (from, to, times) in std::mem::take(&mut self.back) {
            let place = |node: usize| self.order.iter().position(|known| *known == node);
            let (Some(first), Some(last)) = (place(to), place(from)) else { continue };
            for node in self.order.get(first..last).unwrap_or_default() {
                let rounds = self.numbers.rounds.entry(*node).or_insert(1);
                *rounds = times.max(*rounds);
            }
        }
    }

    fn is_numbered(&self, line: &Line) -> bool {
        if line.performs.is_some() {
            return true;
        }
        match self.act(line.node) {
            Some(
                Act::Need { .. }
                | Act::Work(_)
                | Act::Measure(_)
                | Act::Choose(_)
                | Act::Ask { .. }
                | Act::Judge(_)
                | Act::Sign { .. }
                | Act::Wait { .. },
            ) => true,
            Some(Act::Branch { condition }) => !line.arms.is_empty() && side(condition).is_none(),
            Some(Act::Count { .. }) => !line.arms.is_empty(),
            _ => false,
        }
    }

    /// The number of the first of these lines that has one.
    fn first(&self, lines: &[Line]) -> Option<String> {
        lines.iter().find_map(|line| {
            let own = self.numbers.lines.get(&line.node).cloned();
            own.or_else(|| line.arms.iter().find_map(|arm| self.first(&arm.lines)))
        })
    }

    /// Where each line goes on, `after` being what comes after the frame.
    fn follow(&mut self, frame: usize, after: Option<String>, seen: &mut BTreeSet<usize>) {
        let outline = self.outline;
        let Some(parts) = outline.frames.get(frame).filter(|_| seen.insert(frame)) else { return };
        let restore = self.numbers.restore.get(&frame).cloned().or(after.clone());
        let first = parts.steps.first().and_then(|step| self.numbers.lines.get(&step.node).cloned());
        let lead = self.leads(parts.before_leads).or(first).or(restore.clone());
        self.follow_lines(&parts.before, &lead, seen);
        for (place, step) in parts.steps.iter().enumerate() {
            let below =
                parts.steps.get(place + 1).and_then(|next| self.numbers.lines.get(&next.node).cloned());
            let lead = match step.leads {
                Leads::Out | Leads::Ended => restore.clone(),
                leads => self.leads(leads).or(below),
            };
            self.follow_lines(&step.lines, &lead, seen);
        }
        self.follow_lines(&parts.restore, &after, seen);
    }

    fn leads(&self, leads: Leads) -> Option<String> {
        match leads {
            Leads::Step(node) | Leads::Back(node) | Leads::Further(node) => {
                self.numbers.lines.get(&node).cloned()
            }
            _ => None,
        }
    }

    fn follow_lines(&mut self, lines: &[Line], after: &Option<String>, seen: &mut BTreeSet<usize>) {
        for (place, line) in lines.iter().enumerate() {
            let next = self.first(lines.get(place + 1..).unwrap_or_default()).or_else(|| after.clone());
            if let Some(next) = &next {
                self.numbers.next.insert(line.node, next.clone());
            }
            if let Some(frame) = line.performs {
                self.follow(frame, next.clone(), seen);
            }
            for arm in &line.arms {
                let lead = match arm.leads {
                    Leads::On => next.clone(),
                    Leads::Back(node) | Leads::Further(node) | Leads::Step(node) => {
                        self.numbers.lines.get(&node).cloned()
                    }
                    Leads::Out | Leads::Ended => None,
                };
                self.follow_lines(&arm.lines, &lead, seen);
            }
        }
    }
}

/// `A` for the first, `B` for the next, `A2` after `Z`.
fn letter(place: usize) -> String {
    let letter = u8::try_from(place % 26).map_or('?', |place| char::from(b'A' + place));
    let round = place / 26;
    if round == 0 { letter.to_string() } else { format!("{letter}{}-", round + 1) }
}
