//! Lines above cases and procedures: what can be done there, each with the command that does the same at a terminal.

use super::view::View;
use dwell_check::check::Compiled;
use dwell_check::flow::ways::combinations;
use dwell_check::lower::lower;
use dwell_syntax::tree::{DeclarationKind, Part, Span};
use dwell_trial::{Wanted, test, ways};

/// A line above something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lens {
    /// What it stands above.
    pub span: Span,
    /// Its words.
    pub words: String,
    /// The program and its arguments; none where nothing can be started.
    pub command: Option<Vec<String>>,
    /// What an editor may do by itself.
    pub does: Does,
}

/// What a lens does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Does {
    /// It carries out the case with this title.
    RunCase(String),
    /// It carries out all cases of the procedure with this name.
    RunCases(String),
    /// It counts the ways through the procedure with this name.
    CountWays(String),
    /// It only says something.
    Nothing,
}

/// The lenses of a file; nothing is carried out for them.
pub fn lenses(view: &View) -> Vec<Lens> {
    let Some(source) = view.source() else { return Vec::new() };
    let command = |words: &[&str]| {
        let all = std::iter::once("dwell").chain(words.iter().copied());
        Some(all.map(str::to_owned).collect::<Vec<_>>())
    };
    let mut lenses = Vec::new();
    for declared in &source.tree.declarations {
        let DeclarationKind::Procedure(procedure) = &declared.kind else { continue };
        let name = &procedure.name.text;
        let span = procedure.name.span;
        let compiled =
            view.checked.procedures.iter().find(|one| one.file == view.file() && one.place.span == span);
        let cases = procedure.parts.iter().filter(|part| matches!(part, Part::Case(_))).count();
        if cases > 0 {
            let words = if cases == 1 { "run its case".to_owned() } else { format!("run its {cases} cases") };
            let command = command(&["test", &view.path, "--only", name]);
            lenses.push(Lens { span, words, command, does: Does::RunCases(name.clone()) });
        }
        if compiled.is_some_and(|compiled| compiled.card.is_some()) {
            let command = command(&["paths", &view.path]);
            lenses.push(Lens {
                span,
                words: "ways through".to_owned(),
                command,
                does: Does::CountWays(name.clone()),
            });
        }
        if let Some(words) = compiled.and_then(|compiled| applies(view, compiled)) {
            lenses.push(Lens { span, words, command: None, does: Does::Nothing });
        }
        for part in &procedure.parts {
            let Part::Case(case) = part else { continue };
            let title = &case.title.text;
            let command = command(&["test", &view.path, "--only", title]);
            let does = Does::RunCase(title.clone());
            lenses.push(Lens { span: case.title.span, words: "run this case".to_owned(), command, does });
        }
    }
    lenses
}

/// For which vehicles a procedure is, and how many of them go different ways.
fn applies(view: &View, compiled: &Compiled) -> Option<String> {
    let card = compiled.graph.as_ref()?;
    if card.axes.is_empty() {
        return None;
    }
    let axes = card.axes.iter().map(|axis| format!("{} {}", axis.name, axis.values.join(", ")));
    let words = axes.collect::<Vec<_>>().join("; ");
    let model = &view.checked.model;
    let index = model.procedures.iter().position(|head| head.place == compiled.place)?;
    let lowered = lower(&view.checked.program, model, index, &mut Vec::new())?;
    Some(match combinations(&lowered).len() {
        0 | 1 => format!("for {words}"),
        many => format!("for {words}: {many} combinations"),
    })
}

/// How many ways lead through a procedure so that every branch is on one of them: "ways through: 12". `at` is the time that counts,
/// as RFC 3339 writes it. Nothing where the procedure has no card.
pub fn count_ways(view: &View, procedure: &str, at: &str) -> Option<String> {
    let found = ways(&view.checked, Some(procedure), &[], Wanted::EveryBranch, at);
    let ways: usize = found.iter().map(|one| one.ways.len()).sum();
    (!found.is_empty()).then(|| format!("ways through: {ways}"))
}

/// How a case came out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// Where its title stands.
    pub span: Span,
    /// Its title.
    pub title: String,
    /// Whether it ends as it says; none where it was not carried out.
    pub as_it_says: Option<bool>,
    /// The outcome in words.
    pub words: String,
}

/// Carries out the cases of this file whose title is this, or all of a procedure. `at` is the time that counts.
pub fn run_cases(view: &View, does: &Does, at: &str) -> Vec<Outcome> {
    let (only, exact) = match does {
        Does::RunCase(title) => (title, true),
        Does::RunCases(name) => (name, false),
        Does::CountWays(_) | Does::Nothing => return Vec::new(),
    };
    let tested = test(&view.checked, Some(only), at);
    let mut outcomes = Vec::new();
    for procedure in tested.procedures.iter().filter(|one| one.file == view.file()) {
        let wanted = |title: &str| if exact { title == only } else { procedure.name == *only };
        for case in procedure.cases.iter().filter(|case| wanted(&case.title)) {
            let (as_it_says, words) = match (&case.failure, case.ends) {
                _ if !procedure.has_card => {
                    (None, "not carried out: an error is open in its text".to_owned())
                }
                (Some(failure), _) => {
                    let why =
                        if failure.why.is_empty() { String::new() } else { format!(" {}", failure.why) };
                    (Some(false), format!("{}.{why}", failure.message.trim_end_matches('.')))
                }
                (None, Some(ends)) => (Some(true), format!("ends {ends}, as it says")),
                (None, None) => (None, "not carried out".to_owned()),
            };
            outcomes.push(Outcome { span: case.place.span, title: case.title.clone(), as_it_says, words });
        }
    }
    outcomes
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::*;
    use expect_test::expect;

    const AT: &str = "2031-01-01T00:00:00Z";
    const TEXT: &str = r#"variant family: k9, k9h
item guard: removable "guard"
tool meter: hand-held "meter" { measures gauge-pressure 0 .. 10 bar resolution 0.1 bar accuracy ± 0.1 bar }
spec pressure: gauge-pressure { check 2 .. 3 bar when family is k9  check 3 .. 4 bar when family is k9h }
procedure druck "Prüfen" { applies to family k9, k9h
  step s "S" { measure f: gauge-pressure with meter
    expect f meets pressure
    otherwise { end failed "Renew the valve." } }
  case "good é" { family k9  f 2.5 bar  ends passed }
  case "says the wrong end" { family k9  f 9 bar  ends passed } }
"#;

    #[test]
    fn lenses_and_what_they_do() {
        let mut shown = shown(TEXT);
        shown.push_str(&self::shown(&format!("{TEXT}procedure broken {{ step s {{ remove ")));
        expect![[r#"
            druck: run its 2 cases ["dwell", "test", "a.dwell", "--only", "druck"]
                good é: Some(true) ends passed, as it says
                says the wrong end: Some(false) the case “says the wrong end” ends failed, not passed. With these readings a technician would come to another end than the writer has in mind. Its way: f is 9.0 bar, high by 6.0 bar of 2 .. 3 bar; it ends failed: “Renew the valve”.
            druck: ways through ["dwell", "paths", "a.dwell"]
            druck: for family k9, k9h: 2 combinations []
            "good é": run this case ["dwell", "test", "a.dwell", "--only", "good é"]
                good é: Some(true) ends passed, as it says
            "says the wrong end": run this case ["dwell", "test", "a.dwell", "--only", "says the wrong end"]
                says the wrong end: Some(false) the case “says the wrong end” ends failed, not passed. With these readings a technician would come to another end than the writer has in mind. Its way: f is 9.0 bar, high by 6.0 bar of 2 .. 3 bar; it ends failed: “Renew the valve”.
            Some("ways through: 4")
            druck: run its 2 cases ["dwell", "test", "a.dwell", "--only", "druck"]
                good é: None not carried out: an error is open in its text
                says the wrong end: None not carried out: an error is open in its text
            druck: for family k9, k9h: 2 combinations []
            "good é": run this case ["dwell", "test", "a.dwell", "--only", "good é"]
                good é: None not carried out: an error is open in its text
            "says the wrong end": run this case ["dwell", "test", "a.dwell", "--only", "says the wrong end"]
                says the wrong end: None not carried out: an error is open in its text
            None
        "#]].assert_eq(&shown);
    }

    fn shown(text: &str) -> String {
        let (view, _) = view(&[("a.dwell", text)]);
        let mut shown = String::new();
        for lens in lenses(&view) {
            let of = view.text().get(lens.span.start..lens.span.end).unwrap_or_default();
            shown.push_str(&format!("{of}: {} {:?}\n", lens.words, lens.command.unwrap_or_default()));
            for outcome in run_cases(&view, &lens.does, AT) {
                shown.push_str(&format!(
                    "    {}: {:?} {}\n",
                    outcome.title, outcome.as_it_says, outcome.words
                ));
            }
        }
        shown.push_str(&format!("{:?}\n", count_ways(&view, "druck", AT)));
        shown
    }
}
