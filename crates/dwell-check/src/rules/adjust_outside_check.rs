//! A band to set to that is not inside the band to check against.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::repair;
use crate::trouble::Trouble;
use dwell_quantity::{Band, Decimal, Lookup, lookup, second_unit};
use dwell_syntax::tree::Span;

pub(super) const RULE: Rule = Rule {
    name: "adjust-outside-check",
    level: Level::Error,
    waivable: false,
    page: include_str!("adjust_outside_check.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::AdjustOutsideCheck { place, check, adjust_written, check_written, by, cut } = trouble
        else {
            continue;
        };
        let cut = cut.as_ref().and_then(|(written, band, whole)| {
            let then = if *whole {
                "then both bands are the same, and how much tighter it is set is engineering's to say"
            } else {
                "then it ends where the check ends, and whether it ends before is engineering's to say"
            };
            Some((
                format!("cut it to what passes the check, `{written}`; {then}"),
                repair(facts, *place, written, band)?,
            ))
        });
        let (title, edits) = cut.unzip();
        findings.push(
            RULE.at(*place, format!("set to {adjust_written}, but checked against {check_written}"))
                .label(by.clone())
                .related(*check, "the band to check against")
                .why("A value that has just been set well would be out of band at the next check.")
                .help(format!("let the band to set to lie inside {check_written}"))
                .mended(title.unwrap_or_default(), edits),
        );
    }
}

/// The band to set to cut to what passes the check, and so its second unit. Nothing that the check rejects is set then,
/// whichever of the two bands was meant otherwise.
fn repair(facts: &Facts, place: Place, written: &str, cut: &Band) -> Option<Vec<Edit>> {
    let band = repair::declared_band(facts, place)?;
    let end = band.form.amounts().last()?.span.end;
    let first = Place { file: place.file, span: Span::new(place.span.start, end) };
    let mut edits = vec![Edit { place: first, replacement: written.to_owned() }];
    if let Some(second) = &band.second {
        let kind = repair::declared_kind(facts, place)?;
        let amounts = second.form.amounts();
        let Lookup::Unit(unit) =
            amounts.iter().find_map(|amount| Some(lookup(&amount.unit.as_ref()?.text)))?
        else {
            return None;
        };
        let decimals = amounts.iter().filter_map(|amount| Decimal::parse(&amount.number.text).ok());
        let most = decimals.map(|number| number.decimals).max()?;
        let place = Place { file: place.file, span: second.span };
        edits.push(Edit { place, replacement: second_unit(cut, unit, kind, most) });
    }
    Some(edits)
}
