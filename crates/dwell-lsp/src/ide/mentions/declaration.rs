//! The names in the declarations of a file.

use super::{Role, Sort, Walk, What, Whose};
use dwell_syntax::tree::{
    Choice, Declaration, DeclarationKind, Handling, Hazard, Item, Quantity, Row, RowGroup, Series, Spec,
    SpecLine, SpecLineKind, Table, Tool, Transition,
};

impl<'a> Walk<'a> {
    /// One declaration.
    pub(super) fn declared(&mut self, node: &'a Declaration) {
        let Declaration { kind, waivers, span } = node;
        self.parts.push(*span);
        match kind {
            DeclarationKind::Use(path) => {
                self.written(&path.text, path.span, Role::Refers, Sort::Fixed(What::File));
            }
            DeclarationKind::Handling(node) => self.handling(node),
            DeclarationKind::Item(Item { name, handlings, at_each, label: _, lines }) => {
                self.declares(name, What::Item);
                self.refers_to_all(handlings, What::Handling);
                self.refers_to_all(at_each, What::Positions);
                self.lines(lines, Whose::Handlings(handlings));
            }
            DeclarationKind::Tool(Tool { name, handlings, label: _, lines }) => {
                self.declares(name, What::Tool);
                self.refers_to_all(handlings, What::Handling);
                self.lines(lines, Whose::Handlings(handlings));
            }
            DeclarationKind::Quantity(Quantity { name, kind, at_each, label: _, lines }) => {
                self.declares(name, What::Quantity);
                self.refers(kind, What::Quantity);
                self.refers_to_all(at_each, What::Positions);
                self.lines(lines, Whose::Nobody);
            }
            DeclarationKind::Spec(Spec { name, kind, lines }) => {
                self.declares(name, What::Spec);
                self.refers(kind, What::Quantity);
                self.spec_lines(lines);
            }
            DeclarationKind::Table(node) => self.table(node),
            DeclarationKind::Series(Series { name, kind, range, step }) => {
                self.declares(name, What::Series);
                self.refers(kind, What::Quantity);
                self.band(range);
                self.amount(step);
            }
            DeclarationKind::Hazard(Hazard { name, level: _, text: _ }) => self.declares(name, What::Hazard),
            DeclarationKind::Variant(node) => self.choice(node, What::Variant),
            DeclarationKind::Positions(node) => self.choice(node, What::Positions),
            DeclarationKind::Procedure(node) => self.procedure(node),
            DeclarationKind::Broken => {}
        }
        self.lines(waivers, Whose::Nobody);
    }

    fn handling(&mut self, node: &'a Handling) {
        let Handling { name, states, transitions, lines } = node;
        let own = Whose::Handling(name);
        self.declares(name, What::Handling);
        for state in states {
            self.note(state, Role::Declares, Sort::State(own));
        }
        for Transition { verb, from, to, span } in transitions {
            self.parts.push(*span);
            if let Some(verb) = verb {
                self.note(verb, Role::Declares, Sort::Verb(own));
            }
            for state in from.iter().chain([to]) {
                self.note(state, Role::Refers, Sort::State(own));
            }
        }
        self.lines(lines, own);
    }

    fn choice(&mut self, node: &'a Choice, what: What) {
        let Choice { name, values } = node;
        self.declares(name, what);
        for value in values {
            self.note(value, Role::Declares, Sort::Value(name));
        }
    }

    fn table(&mut self, node: &'a Table) {
        let Table { name, kind, by, groups, between_linear: _, outside_refuse: _, lines } = node;
        self.declares(name, What::Table);
        self.refers(kind, What::Quantity);
        self.refers(by, What::Quantity);
        for RowGroup { when, rows } in groups {
            self.when(when);
            for Row { key, band, span } in rows {
                self.parts.push(*span);
                self.band(key);
                self.band(band);
            }
        }
        self.spec_lines(lines);
    }

    fn spec_lines(&mut self, lines: &'a [SpecLine]) {
        for SpecLine { kind, span } in lines {
            self.parts.push(*span);
            match kind {
                SpecLineKind::Check(band, when) | SpecLineKind::Adjust(band, when) => {
                    self.band(band);
                    self.when(when);
                }
                SpecLineKind::Stages(stages) => {
                    for (_, band) in stages {
                        self.band(band);
                    }
                }
                SpecLineKind::Waive { rule, because: _ } => self.rule(rule),
                SpecLineKind::NotAdjustable
                | SpecLineKind::Source(_)
                | SpecLineKind::Condition(_)
                | SpecLineKind::Signed(_)
                | SpecLineKind::Withdrawn(..) => {}
            }
        }
    }
}
