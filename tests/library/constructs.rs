//! The library uses every construct of the language: each form of the tree is counted, and none may be missing.
//!
//! The walk matches every form without a catch-all, so a form that is new in the language does not compile here until it is
//! counted, and then fails until the library uses it.

mod declarations;
mod expressions;
mod statements;

use std::collections::BTreeSet;

use dwell_syntax::parse::parse;

use crate::merle::Merle;

/// What was met.
#[derive(Default)]
pub(super) struct Met(BTreeSet<&'static str>);

impl Met {
    /// This form was met.
    fn form(&mut self, form: &'static str) {
        self.0.insert(form);
    }

    /// This part was met, where it is there.
    fn part<'a, T>(&mut self, part: &'a Option<T>, form: &'static str) -> Option<&'a T> {
        if part.is_some() {
            self.form(form);
        }
        part.as_ref()
    }
}

/// The forms of the language that none of these texts has.
pub(crate) fn missing<'t>(texts: impl Iterator<Item = &'t str>) -> Vec<&'static str> {
    let mut met = Met::default();
    for text in texts {
        for declaration in &parse(text).tree.declarations {
            met.declaration(&declaration.kind);
        }
    }
    let all: BTreeSet<&str> =
        declarations::ALL.iter().chain(statements::ALL).chain(expressions::ALL).copied().collect();
    let unknown: Vec<&&str> = met.0.difference(&all).collect();
    assert!(unknown.is_empty(), "met, but not in the lists: {unknown:#?}");
    all.difference(&met.0).copied().collect()
}

#[test]
fn every_construct_is_used() {
    let library = Merle::read();
    let missing = missing(library.files.values().map(String::as_str));
    assert!(missing.is_empty(), "the library does not use: {missing:#?}");
}
