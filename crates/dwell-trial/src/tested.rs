//! All cases of all procedures that were checked, carried out.

use crate::coverage::Coverage;
use crate::said::cases_of;
use crate::trial::{Trial, ends, tried};
use dwell_check::check::{Checked, Compiled, Waived};
use dwell_check::finding::{Finding, Place};
use dwell_check::rules::branch_without_case;
use dwell_run::Session;
use dwell_syntax::tree::{Case, DeclarationKind, Procedure};

/// What came of the cases.
#[derive(Clone, Debug, Default)]
pub struct Tested {
    /// The procedures, in the order in which they were checked.
    pub procedures: Vec<ProcedureTested>,
    /// What was found: cases that fail, and branches that no case comes to.
    pub findings: Vec<Finding>,
    /// What was found and waived.
    pub waived: Vec<Waived>,
}

/// One procedure.
#[derive(Clone, Debug)]
pub struct ProcedureTested {
    /// Its name.
    pub name: String,
    /// The file that declares it, by its place in the program.
    pub file: usize,
    /// Where its name is declared.
    pub place: Place,
    /// Whether it has a card; without one, because of an error in its text, no case is carried out.
    pub has_card: bool,
    /// Its cases that were asked for.
    pub cases: Vec<CaseTested>,
    /// How far they go; none where only some cases were asked for, or there is no card.
    pub coverage: Option<Coverage>,
}

/// One case.
#[derive(Clone, Debug)]
pub struct CaseTested {
    /// Its title.
    pub title: String,
    /// Where its title stands.
    pub place: Place,
    /// How it ends: `passed`, `failed`, `unfinished`, `referred`; none where it does not come to an end.
    pub ends: Option<&'static str>,
    /// What is wrong; none where it ends as it says, or was not carried out.
    pub failure: Option<Finding>,
}

impl Tested {
    /// How many cases do not end as they say.
    pub fn failed(&self) -> usize {
        self.cases().filter(|case| case.failure.is_some()).count()
    }

    /// All cases.
    pub fn cases(&self) -> impl Iterator<Item = &CaseTested> {
        self.procedures.iter().flat_map(|procedure| &procedure.cases)
    }
}

/// Carries out the cases of all procedures that were checked; with `only` those whose title, or whose procedure's name, has
/// this text in it, whatever its capitals. `at` is the time that counts for them, as RFC 3339 writes it: what is withdrawn by
/// then is refused.
pub fn test(checked: &Checked, only: Option<&str>, at: &str) -> Tested {
    let mut tested = Tested::default();
    let mut findings = Vec::new();
    for compiled in &checked.procedures {
        let Some(declared) = declared(checked, compiled) else { continue };
        let all = cases_of(declared);
        let asked: Vec<&Case> = all
            .iter()
            .copied()
            .filter(|case| only.is_none_or(|only| is_asked(only, compiled, case)))
            .collect();
        if only.is_some() && asked.is_empty() {
            continue;
        }
        let mut runs: Vec<Session> = Vec::new();
        let mut cases = Vec::new();
        for case in &asked {
            let trial = compiled.card.as_ref().map(|card| tried(case, compiled, card, at));
            let Trial { session, failure } = trial.unwrap_or(Trial { session: None, failure: None });
            findings.extend(failure.clone());
            let place = Place { file: compiled.file, span: case.title.span };
            let ends = session.as_ref().and_then(Session::result).map(ends);
            cases.push(CaseTested { title: case.title.text.clone(), place, ends, failure });
            runs.extend(session);
        }
        let card = compiled.card.as_ref().filter(|_| only.is_none());
        let coverage = card.map(|card| Coverage::of(compiled, card, &checked.program, &runs));
        findings
            .extend(coverage.iter().flat_map(|coverage| without_case(coverage, compiled, all.is_empty())));
        tested.procedures.push(ProcedureTested {
            name: compiled.name.clone(),
            file: compiled.file,
            place: compiled.place,
            has_card: compiled.card.is_some(),
            cases,
            coverage,
        });
    }
    (tested.findings, tested.waived) = checked.sorted(findings);
    tested
}

/// The tree of a procedure.
fn declared<'a>(checked: &'a Checked, compiled: &Compiled) -> Option<&'a Procedure> {
    let file = checked.program.files.get(compiled.file)?;
    file.tree.declarations.iter().find_map(|declaration| match &declaration.kind {
        DeclarationKind::Procedure(procedure) if procedure.name.span == compiled.place.span => {
            Some(procedure.as_ref())
        }
        _ => None,
    })
}

fn is_asked(only: &str, compiled: &Compiled, case: &Case) -> bool {
    let only = only.to_lowercase();
    case.title.text.to_lowercase().contains(&only) || compiled.name.to_lowercase().contains(&only)
}

/// The branches that no case takes; of a procedure without any case only that.
fn without_case(coverage: &Coverage, compiled: &Compiled, has_none: bool) -> Vec<Finding> {
    if has_none {
        return vec![branch_without_case::of_none(compiled.place, &compiled.name)];
    }
    let open = coverage.branches.iter().filter(|branch| branch.cases == 0);
    open.map(|branch| branch_without_case::finding(branch.place, &branch.what)).collect()
}
