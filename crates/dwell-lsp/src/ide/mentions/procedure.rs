//! The names in the parts of a procedure: what it applies to, needs and leaves, its steps, its cases.

use super::{Procedure as Own, Role, Sort, Walk, What, locals, steps};
use dwell_syntax::tree::{Case, CaseEntry, CaseValue, Choice, Keep, Kept, Name, Need, Part, Procedure, Step};

impl<'a> Walk<'a> {
    pub(super) fn procedure(&mut self, node: &'a Procedure) {
        let Procedure { name, title: _, parts, body } = node;
        self.parts.push(*body);
        self.declares(name, What::Procedure);
        let steps = steps(node).into_iter().map(|name| name.text.as_str()).collect();
        let locals = locals(node).into_iter().map(|local| (local.name.text.as_str(), local)).collect();
        self.of = Some(Own { locals, steps });
        for part in parts {
            self.part(part);
        }
        self.of = None;
    }

    fn part(&mut self, part: &'a Part) {
        match part {
            Part::Revision { number: _, date: _, why: _, span } | Part::Decide { guarded: _, span } => {
                self.parts.push(*span);
            }
            Part::Withdrawn(..) => {}
            Part::Applies(Choice { name, values }) => {
                self.refers(name, What::Variant);
                for value in values {
                    self.note(value, Role::Refers, Sort::Value(name));
                }
            }
            Part::Needs(needs, span) => {
                self.parts.push(*span);
                for Need { state, by } in needs {
                    self.state_of(state);
                    self.refers_to_all(by, What::Procedure);
                }
            }
            Part::Leaves(states, span) => {
                self.parts.push(*span);
                states.iter().for_each(|state| self.state_of(state));
            }
            Part::Keep(keep, span) => {
                self.parts.push(*span);
                self.keep(keep);
            }
            Part::Statement(statement) => self.statement(statement),
            Part::Step(Step { name, title: _, signed: _, block, span }) => {
                self.parts.push(*span);
                self.note(name, Role::Declares, Sort::Step);
                self.block(block);
            }
            Part::Restore { block, signed: _, span } => {
                self.parts.push(*span);
                self.block(block);
            }
            Part::Case(case) => self.case(case),
        }
    }

    /// A kept quantity is a reading too, named like it.
    pub(super) fn keep(&mut self, keep: &'a Keep) {
        let Keep { what, with, text, block, otherwise } = keep;
        match what {
            Kept::State(state) => self.state_of(state),
            Kept::Quantity(name, band) => {
                self.note(name, Role::Declares, Sort::Kept);
                self.band(band);
            }
        }
        self.refers_to_all(with, What::Tool);
        self.spoken_if(text.as_ref());
        block.iter().for_each(|block| self.block(block));
        self.arms(otherwise);
    }

    fn case(&mut self, case: &'a Case) {
        let Case { title: _, entries, ends, span } = case;
        self.parts.push(*span);
        for CaseEntry { name, values } in entries {
            self.note(name, Role::Refers, Sort::CaseName);
            values.iter().for_each(|value| self.case_value(name, value));
        }
        if let Some(ends) = ends {
            self.note(ends, Role::Refers, Sort::Fixed(What::Outcome));
        }
    }

    fn case_value(&mut self, of: &'a Name, value: &'a CaseValue) {
        match value {
            CaseValue::Amount(amount) | CaseValue::Interval(_, amount) => self.amount(amount),
            CaseValue::Series(_, unit, _) => self.unit(unit.as_ref()),
            CaseValue::Word(word) if matches!(word.text.as_str(), "no-reading" | "lost") => {
                self.note(word, Role::Refers, Sort::Fixed(What::Word));
            }
            CaseValue::Word(word) | CaseValue::Not(word) => {
                self.note(word, Role::Refers, Sort::CaseValue(of));
            }
        }
    }
}
