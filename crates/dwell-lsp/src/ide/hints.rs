//! What is shown in the text beside it: the other unit after a number, the band behind a spec's name, what is owed at a step's end.

use super::blocks;
use super::vehicle::{Owed, at_ends_of_steps};
use super::view::View;
use dwell_check::model::Thing;
use dwell_check::second::{self, Wish};
use dwell_quantity::System;
use dwell_syntax::tree::{Condition, Span, StatementKind, TestKind};

/// Which hints are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// The other unit after a number that has none beside it.
    pub units: bool,
    /// The band after `meets SPEC`.
    pub bands: bool,
    /// What is owed at the end of a step.
    pub owed: bool,
}

impl Default for Wanted {
    fn default() -> Wanted {
        Wanted { units: false, bands: true, owed: true }
    }
}

/// A hint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hint {
    /// The byte that it stands at.
    pub at: usize,
    /// Its words.
    pub words: String,
    /// What more is to be said of it; empty where nothing is.
    pub more: String,
}

/// The hints of a part of the file, in the order of their places.
pub fn hints(view: &View, range: Span, wanted: Wanted) -> Vec<Hint> {
    let mut hints = Vec::new();
    if wanted.units {
        hints.extend(units(view));
    }
    if wanted.bands {
        hints.extend(bands(view));
    }
    if wanted.owed {
        hints.extend(owed(view, range));
    }
    hints.retain(|hint| range.start <= hint.at && hint.at <= range.end);
    hints.sort_by_key(|hint| hint.at);
    hints
}

/// The other unit of each amount and limit that has none yet, as `dwell format --second-unit` would write it.
fn units(view: &View) -> Vec<Hint> {
    let checked = &view.checked;
    let mut all: Vec<Hint> = Vec::new();
    for system in [System::Metric, System::Us] {
        let wish = Wish { system: Some(system), rewrite: false };
        let edits = second::of_file(&checked.program, &checked.model, view.file(), wish);
        let added = edits.into_iter().filter(|edit| edit.place.span.start == edit.place.span.end);
        all.extend(added.map(|edit| Hint {
            at: edit.place.span.start,
            words: edit.replacement.trim().to_owned(),
            more: String::new(),
        }));
    }
    all
}

/// The band behind the name of each spec that something is judged by.
fn bands(view: &View) -> Vec<Hint> {
    let Some(source) = view.source() else { return Vec::new() };
    let mut hints = Vec::new();
    for declared in &source.tree.declarations {
        let dwell_syntax::tree::DeclarationKind::Procedure(procedure) = &declared.kind else { continue };
        for statement in blocks::statements(procedure) {
            let conditions: Vec<&Condition> = match &statement.kind {
                StatementKind::Expect { condition, .. } => vec![condition],
                StatementKind::If { arms, .. } => arms.iter().map(|(condition, _)| condition).collect(),
                _ => Vec::new(),
            };
            for test in conditions.iter().flat_map(|condition| &condition.tests) {
                if let TestKind::Meets { spec, .. } = &test.kind {
                    hints.extend(band(view, &spec.text).map(|(words, more)| Hint {
                        at: spec.span.end,
                        words,
                        more,
                    }));
                }
            }
        }
    }
    hints
}

/// The bands of a spec to check by, and the bands to set to.
fn band(view: &View, name: &str) -> Option<(String, String)> {
    let Thing::Spec(spec) = super::bands::thing(view, name)? else { return None };
    let spec = view.checked.model.specs.get(spec)?;
    let words = |bands: &[dwell_check::model::SpecBand]| {
        let all: Vec<String> = bands
            .iter()
            .map(|band| {
                let when = super::describe::when(view, &band.when);
                format!("{}{}", band.limit.written, when.replace(" when ", " for ").replace(" is ", " "))
            })
            .collect();
        all.join("; ")
    };
    if spec.check.is_empty() {
        return None;
    }
    let set = if spec.adjust.is_empty() { String::new() } else { format!("Set to {}.", words(&spec.adjust)) };
    Some((words(&spec.check), set))
}

/// What is owed where a step ends.
fn owed(view: &View, range: Span) -> Vec<Hint> {
    let here = view.checked.procedures.iter().filter(|compiled| {
        compiled.file == view.file() && compiled.graph.is_some() && compiled.place.span.start <= range.end
    });
    let mut hints = Vec::new();
    for compiled in here {
        for (step, here) in at_ends_of_steps(view, compiled) {
            let things = here.groups.iter().flat_map(|group| &group.things);
            let mut owed: Vec<(String, bool)> = things
                .filter_map(|thing| Some((thing.label.clone(), thing.owed? == Owed::ByRestore)))
                .collect();
            owed.sort();
            owed.dedup();
            if owed.is_empty() {
                continue;
            }
            let names: Vec<&str> = owed.iter().map(|(label, _)| label.as_str()).collect();
            let left: Vec<&str> =
                owed.iter().filter(|(_, restored)| !restored).map(|(label, _)| label.as_str()).collect();
            let more = if left.is_empty() {
                "restore puts all of it back.".to_owned()
            } else {
                format!("restore does not put back: {}.", left.join(", "))
            };
            hints.push(Hint { at: step.end, words: format!("owed: {}", names.join(", ")), more });
        }
    }
    hints
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::*;
    use expect_test::expect;

    const TEXT: &str = r#"variant family: k9, k9h
item guard: removable "Gehäuse"
item cover: removable "cover"
tool meter: hand-held "meter" { measures gauge-pressure 0 .. 10 bar resolution 0.1 bar accuracy ± 0.1 bar }
spec pressure: gauge-pressure { check 2 .. 3 bar when family is k9  check 3 .. 4 bar (44 .. 58 psi) when family is k9h }
procedure p "°é" { applies to family k9, k9h
  step s "S" { remove guard
    remove cover
    measure f: gauge-pressure with meter
    expect f meets pressure
    otherwise { end failed "Renew it." } }
  step t "T" { refit cover }
  restore { refit guard } }
procedure broken { step s { remove "#;

    #[test]
    fn each_has_its_own_switch() {
        let (view, _) = view(&[("a.dwell", TEXT)]);
        let all = Wanted { units: true, bands: true, owed: true };
        let whole = Span::new(0, view.text().len());
        let shown = |wanted| {
            let hints = hints(&view, whole, wanted);
            let lines = hints.iter().map(|hint| {
                let before = view.text().get(..hint.at).unwrap_or_default();
                let line = before.rsplit('\n').next().unwrap_or_default();
                let from = line.char_indices().rev().nth(24).map_or(0, |(at, _)| at);
                format!("…{}‹{}› {}", line.get(from..).unwrap_or_default(), hint.words, hint.more)
            });
            lines.collect::<Vec<_>>().join("\n")
        };
        expect![[r#"
            …auge-pressure 0 .. 10 bar‹(0 .. 145 psi)› 
            …10 bar resolution 0.1 bar‹(1.45 psi)› 
            ….1 bar accuracy ± 0.1 bar‹(1.45 psi)› 
            …essure { check 2 .. 3 bar‹(29.1 .. 43.5 psi)› 
            …  expect f meets pressure‹2 .. 3 bar for family k9; 3 .. 4 bar for family k9h› 
            …nd failed "Renew it." } }‹owed: Gehäuse, cover› restore does not put back: cover.
            …tep t "T" { refit cover }‹owed: Gehäuse› restore puts all of it back."#]]
        .assert_eq(&shown(all));
        assert_eq!(shown(Wanted { units: false, bands: false, owed: false }), "");
    }
}
