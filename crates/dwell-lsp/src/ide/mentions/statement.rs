//! The names in the statements of a procedure.

use super::{Role, Sort, Spot, Walk, What, Whose};
use dwell_syntax::tree::{
    Arm, Block, Clause, Event, Handle, Measure, Name, NewReading, Statement, StatementKind, To,
};

impl<'a> Walk<'a> {
    pub(super) fn block(&mut self, block: &'a Block) {
        let Block { statements, span } = block;
        self.parts.push(*span);
        statements.iter().for_each(|statement| self.statement(statement));
    }

    pub(super) fn arms(&mut self, arms: &'a [Arm]) {
        for Arm { side: _, of, block, span } in arms {
            self.parts.push(*span);
            of.iter().for_each(|of| self.reading(of));
            self.block(block);
        }
    }

    pub(super) fn statement(&mut self, statement: &'a Statement) {
        let Statement { kind, span } = statement;
        self.parts.push(*span);
        match kind {
            StatementKind::Caution { level: _, hazard, text } => {
                self.refers(hazard, What::Hazard);
                self.spoken_if(text.as_ref());
            }
            StatementKind::Note(text) => self.spoken(text),
            StatementKind::Handle(handle) => self.handle(handle),
            StatementKind::Do { text, brings, zeroes } => {
                self.spoken(text);
                self.effects(brings);
                self.refers_to_all(zeroes, What::Tool);
            }
            StatementKind::Measure(measure) => self.measure(measure),
            StatementKind::Read { name, kind, from: _, expected } => {
                self.taken(name, kind.as_ref());
                expected.iter().for_each(|band| self.band(band));
            }
            StatementKind::Expect { condition, proves, otherwise } => {
                self.condition(condition);
                proves.iter().for_each(|state| self.state_of(state));
                self.arms(otherwise);
            }
            StatementKind::Adjust { what, times: _, block, otherwise } => {
                for (reading, spec) in what {
                    self.reading(reading);
                    self.local_or(spec, What::Spec);
                }
                self.block(block);
                self.arms(otherwise);
            }
            StatementKind::If { arms, last } => {
                for (condition, block) in arms {
                    self.condition(condition);
                    self.block(block);
                }
                last.iter().for_each(|block| self.block(block));
            }
            StatementKind::Ask { name, text, answers } => {
                self.note(name, Role::Declares, Sort::Local(What::Question));
                self.spoken(text);
                for answer in answers {
                    self.note(answer, Role::Declares, Sort::Answer(&name.text));
                }
            }
            StatementKind::Let { name, kind, value } => {
                self.note(name, Role::Declares, Sort::Local(What::Computed));
                self.refers_to_all(kind, What::Quantity);
                self.formula(value);
            }
            StatementKind::LetBand { name, kind, band } => {
                self.note(name, Role::Declares, Sort::Local(What::Limit));
                self.refers_to_all(kind, What::Quantity);
                self.computed_band(band);
            }
            StatementKind::Wait { duration, since, text } => {
                self.amount(duration);
                if let Some(Event { verb, item }) = since {
                    self.note(verb, Role::Refers, Sort::Verb(Whose::Item(item)));
                    self.refers(item, What::Item);
                }
                self.spoken_if(text.as_ref());
            }
            StatementKind::Perform { what, otherwise } => {
                let own = self.of.as_ref().is_some_and(|own| own.steps.contains(&what.text.as_str()));
                let sort = if own { Sort::Step } else { Sort::Thing(What::Procedure) };
                self.note(what, Role::Refers, sort);
                self.arms(otherwise);
            }
            StatementKind::Refer { to, text } => {
                self.refers(to, What::Procedure);
                self.spoken_if(text.as_ref());
            }
            StatementKind::Cause { item, text } => {
                self.refers(item, What::Item);
                self.spoken_if(text.as_ref());
            }
            StatementKind::End { outcome, text } => {
                self.note(outcome, Role::Refers, Sort::Fixed(What::Outcome));
                self.spoken_if(text.as_ref());
            }
            StatementKind::Back { step, times: _, otherwise } => {
                self.note(step, Role::Refers, Sort::Step);
                self.arms(otherwise);
            }
            StatementKind::On { step } => self.note(step, Role::Refers, Sort::Step),
            StatementKind::Keep(keep) => self.keep(keep),
            StatementKind::ForEach { positions, condition, block } => {
                self.refers(positions, What::Positions);
                condition.iter().for_each(|condition| self.condition(condition));
                self.block(block);
            }
            StatementKind::Choose { name, from, nearest, otherwise } => {
                self.note(name, Role::Declares, Sort::Local(What::Reading));
                self.refers(from, What::Series);
                self.formula(nearest);
                self.arms(otherwise);
            }
            StatementKind::Waive { rule, because: _ } => self.rule(rule),
            StatementKind::Broken => {}
        }
    }

    fn handle(&mut self, handle: &'a Handle) {
        let Handle { verb, item, to, at_each, at, with, text } = handle;
        self.note(verb, Role::Refers, Sort::Verb(Whose::Item(item)));
        self.refers(item, What::Item);
        match to {
            Some(To::Name(name)) => self.local_or(name, What::Spec),
            Some(To::Band(band)) => self.band(band),
            None => {}
        }
        self.refers_to_all(at_each, What::Positions);
        self.place_of(at.as_ref(), Spot::Item(item));
        self.refers_to_all(with, What::Tool);
        self.spoken_if(text.as_ref());
    }

    /// A reading that is taken; without a kind it is of the quantity that it is named like.
    fn taken(&mut self, name: &'a Name, kind: Option<&'a Name>) {
        match kind {
            Some(kind) => {
                self.note(name, Role::Declares, Sort::Local(What::Reading));
                self.refers(kind, What::Quantity);
            }
            None => self.note(name, Role::Declares, Sort::Like),
        }
    }

    fn measure(&mut self, measure: &'a Measure) {
        let Measure { readings, again, with, clauses, text } = measure;
        for NewReading { name, kind } in readings {
            if *again {
                self.known_reading(name, Role::Retakes);
                self.refers_to_all(kind, What::Quantity);
            } else {
                self.taken(name, kind.as_ref());
            }
        }
        self.refers_to_all(with, What::Tool);
        let first = readings.first().map_or(Spot::Reading(None, None), |new| self.spot(&new.name.text));
        for clause in clauses {
            match clause {
                Clause::At(name) => self.note(name, Role::Refers, Sort::ItemOrPlace(first)),
                Clause::AtEach(positions) => self.refers(positions, What::Positions),
                Clause::After(amount)
                | Clause::Every(amount)
                | Clause::Averaging(amount)
                | Clause::Over(amount, _) => self.amount(amount),
                Clause::Times(_) | Clause::Take(..) => {}
                Clause::Until(condition) => self.condition(condition),
            }
        }
        self.spoken_if(text.as_ref());
    }
}
