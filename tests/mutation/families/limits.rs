//! Breaks of limits: their kinds, their bands, the variants that they hold for.

use dwell_syntax::tree::{
    BandForm, DeclarationKind, Expr, Fold, LineKind, Name, NeverSide, Span, SpecLineKind, StatementKind,
    TestKind, When,
};

use super::Mutator;
use super::tools::users;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Limit, amounts, form, value};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("kind-mismatch", kind_mismatch),
    ("one-sided-band", one_sided_band),
    ("bare-nominal", bare_nominal),
    ("side-missing", side_missing),
    ("impossible-value", impossible_value),
    ("band-reversed", band_reversed),
    ("band-empty", band_empty),
    ("adjust-outside-check", adjust_outside_check),
    ("adjust-equals-check", adjust_equals_check),
    ("limit-stated-twice", limit_stated_twice),
    ("variant-uncovered", variant_uncovered),
    ("variant-overlap", variant_overlap),
    ("not-adjustable", not_adjustable),
];

/// All units of a limit become those of another kind; a limit is held against another spec.
fn kind_mismatch(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let units: Vec<&Name> = units(&limit);
        if units.is_empty() {
            continue;
        }
        let other = if units.iter().any(|unit| matches!(unit.text.as_str(), "N·m")) { "Hz" } else { "N·m" };
        let mut broken = limit.source.broken(format!("{other} for {}", units[0].text));
        for unit in units {
            broken = broken.swap(unit.span, format!(" {other}").trim_start());
        }
        all.push(broken);
    }
    all
}

fn units<'a>(limit: &Limit<'a>) -> Vec<&'a Name> {
    let of = |amount: &'a dwell_syntax::tree::Amount| amount.unit.as_ref();
    amounts(limit.band).into_iter().chain(&limit.band.target).filter_map(of).collect()
}

/// A band about nothing keeps its upper end alone: such a quantity has a sign. The one below nothing of a gauge pressure is a
/// vacuum: at most 2 kPa is a true limit for it, so pressures are left out.
fn one_sided_band(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        if let Some(text) = upper_end(limit.source, limit.band) {
            all.push(
                limit.source.broken(format!("{text} for a band about nothing")).swap(limit.band.span, text),
            );
        } else if let Some(text) = signed_end(ground, &limit) {
            let what = format!("{text} for a band of a quantity that says what its signs mean");
            all.push(limit.source.broken(what).swap(limit.band.span, text));
        }
    }
    for spot in ground.spots() {
        let StatementKind::Expect { condition, .. } = &spot.statement().kind else { continue };
        for test in &condition.tests {
            let TestKind::Band { band, .. } = &test.kind else { continue };
            let word = Span { start: band.span.start.saturating_sub(7), end: band.span.end };
            if let Some(text) = upper_end(spot.source, band)
                && spot.source.of(word).starts_with("within ")
            {
                all.push(spot.source.broken(format!("{text} for a band about nothing")).swap(word, text));
            }
        }
    }
    all
}

/// The upper end alone, where the quantity says what positive and negative mean.
fn signed_end(ground: &Ground, limit: &Limit<'_>) -> Option<String> {
    let signed =
        |line: &dwell_syntax::tree::Line| matches!(line.kind, LineKind::Positive(_) | LineKind::Negative(_));
    if !ground.quantity(&limit.spec.kind.text)?.lines.iter().any(signed) {
        return None;
    }
    match &limit.band.form {
        BandForm::Range(_, high) if value(high)? > 0.0 => {
            Some(format!("at most {}", limit.source.of(high.span)))
        }
        BandForm::PlusMinus(middle, half) => {
            let end = value(middle)? + value(half)?;
            let unit = half.unit.as_ref().or(middle.unit.as_ref())?;
            Some(format!("at most {end:.3} {}", unit.text))
        }
        _ => None,
    }
}

fn upper_end(source: &crate::mutation::ground::Source, band: &dwell_syntax::tree::Band) -> Option<String> {
    match &band.form {
        BandForm::PlusMinus(_, half) if half.unit.as_ref().is_some_and(|unit| unit.text.ends_with("Pa")) => {
            None
        }
        BandForm::PlusMinus(middle, half) if value(middle) == Some(0.0) => {
            Some(format!("at most {}", source.of(half.span)))
        }
        BandForm::Range(low, high) if value(low)? < 0.0 => Some(format!("at most {}", source.of(high.span))),
        _ => None,
    }
}

/// Whether a quantity says that its limits have one side.
fn has_a_side(ground: &Ground, kind: &str) -> bool {
    ground.quantity(kind).is_some_and(|quantity| {
        quantity.lines.iter().any(|line| {
            matches!(
                line.kind,
                LineKind::Limits { .. } | LineKind::Means(Fold::Spread | Fold::Highest | Fold::Lowest, _)
            )
        }) || has_a_side(ground, &quantity.kind.text)
    })
}

/// A tolerance or a side is lost, where the quantity does not say on which side its limits are.
fn bare_nominal(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        if has_a_side(ground, &limit.spec.kind.text) {
            continue;
        }
        all.extend(bared(&limit));
    }
    all
}

/// The same, where the quantity says that its limits have one side.
fn side_missing(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        if has_a_side(ground, &limit.spec.kind.text) {
            all.extend(bared(&limit));
        }
    }
    // A quantity that has no side yet is said to have one, and a limit of it has lost its own.
    for limit in ground.limits() {
        let Some(quantity) = ground.quantity(&limit.spec.kind.text) else { continue };
        let declared = limit.source.declaration(quantity.name.span.start);
        let here = limit.source.tree.declarations.iter().any(
            |known| matches!(&known.kind, DeclarationKind::Quantity(other) if other.name == quantity.name),
        );
        let (Some(span), true) = (declared, here) else { continue };
        if has_a_side(ground, &limit.spec.kind.text) || limit.source.of(span).contains('}') {
            continue;
        }
        all.extend(bared(&limit).map(|broken| broken.put(span.end, " { limits at most }").near(Near::Use)));
    }
    all
}

fn bared(limit: &Limit<'_>) -> Option<Broken> {
    let (number, unit) = match &limit.band.form {
        BandForm::PlusMinus(middle, half) => (middle, half.unit.as_ref().or(middle.unit.as_ref())),
        BandForm::AtMost(Expr::Amount(amount)) | BandForm::AtLeast(Expr::Amount(amount)) => {
            (amount, amount.unit.as_ref())
        }
        _ => return None,
    };
    let unit = unit.map_or("", |unit| unit.text.as_str());
    let text = format!("{} {unit}", limit.source.of(number.number.span));
    Some(limit.source.broken(format!("{text} alone")).swap(form(limit.band), text))
}

/// The lower end gets a minus, or the tolerance ten times its size, where the quantity is never below nothing.
fn impossible_value(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let never = ground.quantity(&limit.spec.kind.text).is_some_and(|quantity| {
            quantity.lines.iter().any(|line| match &line.kind {
                LineKind::Never(NeverSide::Below, band) => {
                    amounts(band).first().and_then(|end| value(end)) == Some(0.0)
                }
                _ => false,
            })
        });
        if !never {
            continue;
        }
        match &limit.band.form {
            BandForm::Range(low, _) if value(low).is_some_and(|low| low > 0.0) => {
                all.push(limit.source.broken("a minus before the low end").put(low.span.start, "-"));
            }
            BandForm::PlusMinus(middle, half) => {
                let middle = limit.source.of(middle.number.span);
                let what = format!("a tolerance of {middle}0");
                all.push(limit.source.broken(what).swap(half.number.span, format!("{middle}0")));
            }
            BandForm::AtLeast(Expr::Amount(end)) => {
                all.push(limit.source.broken("a minus before the end").put(end.span.start, "-"));
            }
            _ => {}
        }
    }
    all
}

fn band_reversed(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        if let BandForm::Range(low, high) = &limit.band.form {
            let (first, last) = (limit.source.of(low.number.span), limit.source.of(high.number.span));
            let broken = limit.source.broken(format!("{last} before {first}"));
            all.push(broken.swap(low.number.span, last).swap(high.number.span, first));
        }
    }
    for source in &ground.sources {
        for declaration in &source.tree.declarations {
            let DeclarationKind::Table(table) = &declaration.kind else { continue };
            for row in table.groups.iter().flat_map(|group| &group.rows) {
                if let BandForm::Range(low, high) = &row.band.form {
                    let (first, last) = (source.of(low.number.span), source.of(high.number.span));
                    let broken = source.broken(format!("{last} before {first} in a row"));
                    all.push(broken.swap(low.number.span, last).swap(high.number.span, first));
                }
            }
        }
    }
    all
}

fn band_empty(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let (at, text) = match &limit.band.form {
            BandForm::Range(low, high) => (high, limit.source.of(low.number.span)),
            BandForm::PlusMinus(_, half) => (half, "0"),
            _ => continue,
        };
        all.push(limit.source.broken("a band without room").swap(at.number.span, text));
    }
    all
}

/// Each line to adjust to, with the line to check by that holds for the same.
fn pairs<'a>(ground: &'a Ground) -> Vec<(Limit<'a>, Limit<'a>)> {
    let limits = ground.limits();
    let same = |one: &Limit<'_>, other: &Limit<'_>| {
        let when = |limit: &Limit<'_>| -> Vec<String> {
            limit.when.iter().map(|when| limit.source.of(when.span).to_owned()).collect()
        };
        one.source.path == other.source.path && one.spec.name == other.spec.name && when(one) == when(other)
    };
    let adjust = limits.iter().filter(|limit| !limit.checks);
    adjust
        .filter_map(|adjust| {
            let check = limits.iter().find(|check| check.checks && same(check, adjust))?;
            Some((*check, *adjust))
        })
        .collect()
}

/// The two bands have changed places; or the one to adjust to is five times as wide.
fn adjust_outside_check(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (check, adjust) in pairs(ground) {
        let (wide, narrow) = (form(check.band), form(adjust.band));
        let source = check.source;
        let broken = source.broken("the bands to check and to adjust have changed places");
        all.push(broken.swap(wide, source.of(narrow)).swap(narrow, source.of(wide)));
        match &adjust.band.form {
            // Of degrees and minutes the minutes stand last: more degrees are put before them.
            BandForm::PlusMinus(_, half) if half.number.compound => {
                all.push(source.broken("a tolerance of 90 degrees").put(half.number.span.start, "9"));
            }
            BandForm::PlusMinus(_, half) => {
                all.push(source.broken("a tolerance of ten times").swap(
                    half.number.span,
                    format!("{}0", source.of(half.number.span).trim_start_matches("0.")),
                ));
            }
            BandForm::AtMost(Expr::Amount(end)) => {
                all.push(source.broken("an end of ten times").put(end.number.span.start, "9"));
            }
            _ => {}
        }
    }
    all
}

fn adjust_equals_check(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (check, adjust) in pairs(ground) {
        let text = check.source.of(form(check.band));
        all.push(
            check.source.broken("the band to adjust to is the one to check").swap(form(adjust.band), text),
        );
        // Only one end of it.
        match (&check.band.form, &adjust.band.form) {
            (BandForm::Range(low, _), BandForm::Range(other, _)) => {
                let text = check.source.of(low.number.span);
                all.push(check.source.broken("the low ends are the same").swap(other.number.span, text));
            }
            (BandForm::PlusMinus(one, half), BandForm::PlusMinus(other, own))
                if value(one) == value(other) =>
            {
                let text = check.source.of(half.number.span);
                all.push(check.source.broken("the tolerances are the same").swap(own.number.span, text));
            }
            _ => {}
        }
    }
    all
}

/// A line stands twice, the second time with another first number.
fn limit_stated_twice(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        let Some(first) = amounts(limit.band).first().copied() else { continue };
        let Some(number) = value(first) else { continue };
        let source = limit.source;
        let before = Span { start: limit.line.span.start, end: first.number.span.start };
        let after = Span { start: first.number.span.end, end: limit.line.span.end };
        let decimals = first.number.text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let other = number + 10_f64.powi(-i32::try_from(decimals).unwrap());
        let line = format!("\n    {}{other:.decimals$}{}", source.of(before), source.of(after));
        all.push(
            source.broken(format!("{other:.decimals$} as well as {number}")).put(limit.line.span.end, line),
        );
    }
    all
}

/// The variants, by name, each with its values.
fn axes(ground: &Ground) -> Vec<&dwell_syntax::tree::Choice> {
    let all = ground.sources.iter().flat_map(|source| &source.tree.declarations);
    all.filter_map(|declaration| match &declaration.kind {
        DeclarationKind::Variant(choice) => Some(choice),
        _ => None,
    })
    .collect()
}

/// A line for one variant is lost, with the line to adjust to that goes with it.
fn variant_uncovered(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let axes = axes(ground);
    let limits = ground.limits();
    for limit in limits.iter().filter(|limit| limit.checks) {
        let Some(when) = limit.when.first() else { continue };
        if !axes.iter().any(|axis| axis.name.text == when.name.text) {
            continue;
        }
        let mut broken = limit.source.broken(format!("no line {}", limit.source.of(when.span)));
        for other in &limits {
            let same_spec = other.source.path == limit.source.path && other.spec.name == limit.spec.name;
            if same_spec
                && other.when.first().map(|other| limit.source.of(other.span))
                    == Some(limit.source.of(when.span))
            {
                broken = broken.cut(limit.source.lines(other.line.span));
            }
        }
        let broken = broken.near(Near::Use);
        for user in users(ground, &limit.spec.name.text, &limit.source.path) {
            // A procedure that does not apply to this variant does not miss its line.
            let applies = |value: &Name| {
                ground.procedures().filter(|(source, _)| source.path == user).any(|(_, procedure)| {
                    let mut choices = procedure.parts.iter().filter_map(|part| match part {
                        dwell_syntax::tree::Part::Applies(choice) if choice.name.text == when.name.text => {
                            Some(choice)
                        }
                        _ => None,
                    });
                    choices
                        .next()
                        .is_none_or(|choice| choice.values.iter().any(|known| known.text == value.text))
                })
            };
            if when.values.iter().any(applies) {
                all.push(broken.clone().checked(user));
            }
        }
    }
    all
}

/// A line loses the variant that it holds for, and another one has its own.
fn variant_overlap(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let limits = ground.limits();
    for limit in &limits {
        let (Some(first), Some(last)) = (limit.when.first(), limit.when.last()) else { continue };
        let rival = limits.iter().any(|other| {
            other.source.path == limit.source.path
                && other.spec.name == limit.spec.name
                && other.checks == limit.checks
                && other.line.span != limit.line.span
                && !other.when.is_empty()
        });
        // After a line with a state one without is what holds in all other states, and says so.
        let of_state = |when: &[When]| when.iter().any(|one| ground.thing(&one.name.text).is_some());
        let falls_back = limits.iter().any(|other| {
            other.source.path == limit.source.path
                && other.spec.name == limit.spec.name
                && other.checks == limit.checks
                && other.line.span.start < limit.line.span.start
                && of_state(other.when)
        });
        if rival && !(falls_back && of_state(limit.when)) {
            let span = Span { start: form(limit.band).end.max(limit.band.span.end), end: last.span.end };
            let what = format!("`{}` is lost", limit.source.of(first.span));
            all.push(limit.source.broken(what).cut(span).near(Near::Declaration));
        }
    }
    all
}

/// A spec is not adjustable any more, and is adjusted; or one that never was is adjusted now.
fn not_adjustable(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    let limits = ground.limits();
    for spot in ground.spots() {
        match &spot.statement().kind {
            StatementKind::Adjust { what, .. } => {
                for (_, spec) in what {
                    let lines: Vec<&Limit<'_>> = limits
                        .iter()
                        .filter(|limit| limit.spec.name.text == spec.text && !limit.checks)
                        .collect();
                    let Some(first) = lines.first() else { continue };
                    let mut broken = first.source.broken(format!("{} is not adjustable", spec.text));
                    for line in &lines {
                        let same = line.line.span == first.line.span;
                        broken = broken.swap(line.line.span, if same { "not adjustable" } else { "" });
                    }
                    all.push(broken.near(Near::Use).checked(&spot.source.path));
                }
            }
            StatementKind::Expect { condition, otherwise, .. } => {
                let [test] = condition.tests.as_slice() else { continue };
                let TestKind::Meets { what: Expr::Name(reading), misses: false, spec, at: None } = &test.kind
                else {
                    continue;
                };
                let fixed = ground.sources.iter().flat_map(|source| &source.tree.declarations).any(|known| {
                    matches!(&known.kind, DeclarationKind::Spec(known) if known.name.text == spec.text
                        && known.lines.iter().any(|line| line.kind == SpecLineKind::NotAdjustable))
                });
                let Some(arm) = otherwise.last().and_then(|arm| arm.block.statements.first()) else {
                    continue;
                };
                // What is only computed, and what is read once for all, is not for this rule.
                if fixed && condition.quantifier.is_none() {
                    let line = format!(
                        "adjust {} to {} up to 3 times by {{ do \"Set it.\" }}\n            otherwise {{ end failed \"Renew it.\" }}\n            ",
                        reading.text, spec.text
                    );
                    let what = format!("{} is adjusted", spec.text);
                    all.push(spot.source.broken(what).put(arm.span.start, line).near(Near::Declaration));
                }
            }
            _ => {}
        }
    }
    all
}
