//! A limit that is typed again in a condition, although a spec has it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::{ResolvedBand, Spec};
use crate::resolve::alone;
use dwell_quantity::Bound;
use dwell_syntax::tree::{Amount, Band, BandForm, Condition, Expr, Name, Span, StatementKind, TestKind};

pub(super) const RULE: Rule = Rule {
    name: "limit-copied",
    level: Level::Information,
    waivable: true,
    page: include_str!("limit_copied.md"),
};

/// What is typed in a condition and may be a copy.
struct Typed<'a> {
    /// What it is asked of.
    reading: &'a str,
    what: What,
    span: Span,
}

enum What {
    /// A number, with the unit of the other end where it has none of its own: the `56` of `56 .. 68 Hz`.
    End(Amount),
    /// A band by its ends.
    Ends(Amount, Amount),
    /// A band that is written by its middle: `62 ± 6 Hz`.
    Middle,
}

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        let mut judged: Vec<(&str, &Name)> = Vec::new();
        let mut typed: Vec<Typed> = Vec::new();
        crate::check::statements(procedure, whole, &mut |statement, _| match &statement.kind {
            StatementKind::Expect { condition, .. } => tests(condition, &mut judged, &mut typed),
            StatementKind::If { arms, .. } => {
                arms.iter().for_each(|(condition, _)| tests(condition, &mut judged, &mut typed));
            }
            StatementKind::ForEach { condition: Some(condition), .. } => {
                tests(condition, &mut judged, &mut typed)
            }
            _ => {}
        });
        let mut told: Vec<Span> = Vec::new();
        for one in typed {
            let specs = judged.iter().filter(|(name, _)| *name == one.reading);
            let same =
                |spec: &&Spec| spec.check.iter().any(|band| one.copies(facts, spec, &band.limit, file));
            let found = specs.filter_map(|(_, spec)| facts.spec(file, &spec.text)).find(same);
            let Some(spec) = found.filter(|_| {
                !told.iter().any(|band| band.start <= one.span.start && one.span.end <= band.end)
            }) else {
                continue;
            };
            told.push(one.span);
            findings.push(one.told(facts, spec, file));
        }
    }
}

impl Typed<'_> {
    /// Whether it is a limit of a spec: as that is written, or by its value.
    fn copies(&self, facts: &Facts, spec: &Spec, limit: &ResolvedBand, file: usize) -> bool {
        let value = |amount: &Amount| alone(file, amount, spec.kind, false);
        let is = |end: &Option<Bound>, amount: &Amount| {
            end.as_ref().is_some_and(|end| Some(&end.value) == value(amount).as_ref())
        };
        let (low, high) = (&limit.band.low, &limit.band.high);
        match &self.what {
            What::Ends(first, last) => {
                (is(low, first) && is(high, last)) || (is(high, first) && is(low, last))
            }
            What::Middle => {
                let typed = facts.text(Place { file, span: self.span });
                typed.split_whitespace().eq(limit.written.split_whitespace())
            }
            What::End(end) if end.number.text == "0" => false,
            What::End(end) => stands_in(facts, end, &limit.written, file) || is(low, end) || is(high, end),
        }
    }

    fn told(&self, facts: &Facts, spec: &Spec, file: usize) -> Finding {
        let place = Place { file, span: self.span };
        let what = match &self.what {
            What::End(Amount { number, unit: Some(unit), .. }) => {
                format!("{} {}", facts.text(Place { file, span: number.span }), unit.text)
            }
            _ => facts.text(place).to_owned(),
        };
        let (reading, name) = (self.reading, &spec.name);
        let part = if matches!(self.what, What::End(_)) { "it is a limit" } else { "it is the band" };
        RULE.at(place, format!("{what} is typed here once more; {part} of `{name}`"))
            .label("a copy of the limit")
            .related(spec.place, "the limit stands here")
            .why("When the spec is changed this number stays, and one reading is good in one line and bad in the next.")
            .help(format!(
                "write `{reading} meets {name}` or `misses`; an `otherwise low` or `otherwise high` tells the sides apart"
            ))
    }
}

/// What a condition judges by specs, and by numbers of its own.
fn tests<'a>(condition: &'a Condition, judged: &mut Vec<(&'a str, &'a Name)>, typed: &mut Vec<Typed<'a>>) {
    for test in &condition.tests {
        match &test.kind {
            TestKind::Meets { what: Expr::Name(name), spec, .. } => judged.push((&name.text, spec)),
            TestKind::Band { what: Expr::Name(name), band } => typed.extend(numbers(&name.text, band)),
            _ => {}
        }
    }
}

/// A whole band, and then the numbers at its ends.
fn numbers<'a>(reading: &'a str, band: &'a Band) -> Vec<Typed<'a>> {
    let one = |end: &Amount| Typed { reading, what: What::End(end.clone()), span: end.span };
    match &band.form {
        BandForm::Range(low, high) => {
            let span = low.span.to(high.span);
            let mut low = low.clone();
            if low.unit.is_none() && !low.number.compound {
                low.unit.clone_from(&high.unit);
            }
            let whole = Typed { reading, what: What::Ends(low.clone(), high.clone()), span };
            vec![whole, one(&low), one(high)]
        }
        BandForm::PlusMinus(first, last) | BandForm::Uneven(first, _, last) => {
            vec![Typed { reading, what: What::Middle, span: first.span.to(last.span) }]
        }
        BandForm::AtLeast(Expr::Amount(end))
        | BandForm::AtMost(Expr::Amount(end))
        | BandForm::Above(Expr::Amount(end))
        | BandForm::Below(Expr::Amount(end)) => vec![one(end)],
        _ => Vec::new(),
    }
}

/// Whether a number stands in a band as it is written, in the same unit.
fn stands_in(facts: &Facts, amount: &Amount, written: &str, file: usize) -> bool {
    let Some(unit) = &amount.unit else { return false };
    let number = facts.text(Place { file, span: amount.number.span });
    written.ends_with(&unit.text) && written.split(' ').any(|word| word == number)
}
