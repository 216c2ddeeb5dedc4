//! Two bands beside each other: tighter, looser, moved, the same in another unit, or only rounded; and by how much.

use crate::Grade;
use dwell_check::model::ResolvedBand;
use dwell_quantity::{Band, Bound, Exact, Kind, Unit, amount_off, from_base, from_base_difference, shown};
use std::cmp::Ordering;

/// The most digits behind the point that are shown of a limit.
const DECIMALS: u32 = 6;

/// A band as it is meant and as it is written.
#[derive(Clone, Debug)]
pub(crate) struct Stated {
    pub(crate) band: Band,
    pub(crate) unit: Unit,
    pub(crate) kind: Kind,
    pub(crate) decimals: u32,
    pub(crate) target: Option<Exact>,
    pub(crate) written: String,
}

/// Grade, kind and words of a change.
type Told = (Grade, &'static str, String);

impl Stated {
    pub(crate) fn of(band: &ResolvedBand, kind: Kind) -> Stated {
        Stated {
            band: band.band.clone(),
            unit: band.unit,
            kind,
            decimals: band.decimals,
            target: band.target.clone(),
            written: band.written.clone(),
        }
    }

    /// Half of the last digit that is written, in base units.
    fn half_digit(&self) -> Exact {
        let mut digit = Exact::one();
        let tenth = Exact::ratio(1, 10).unwrap_or_else(Exact::one);
        for _ in 0..self.decimals {
            digit = &digit * &tenth;
        }
        let one = from_base_difference(&Exact::one(), self.unit);
        let base = digit.checked_div(&one).unwrap_or_else(Exact::zero);
        (&base * &Exact::ratio(1, 2).unwrap_or_else(Exact::zero)).abs()
    }
}

/// What is different between two bands; `adjusting` where they are bands to set to.
pub(crate) fn band_change(old: &Stated, new: &Stated, adjusting: bool) -> Vec<Told> {
    let mut told = Vec::new();
    told.extend(limits(old, new, adjusting));
    told.extend(target(old, new));
    told
}

fn limits(old: &Stated, new: &Stated, adjusting: bool) -> Option<Told> {
    let what = if adjusting { "band to set to" } else { "limit" };
    let both = format!("{} → {}", old.written, new.written);
    if old.kind == new.kind && old.band == new.band {
        if old.unit != new.unit {
            return Some((
                Grade::Quiet,
                "unit only",
                format!("{what} in another unit, exactly the same: {both}"),
            ));
        }
        return (old.written != new.written).then(|| {
            (Grade::Quiet, "written otherwise", format!("{what} written otherwise, exactly the same: {both}"))
        });
    }
    if old.unit != new.unit && digits(&old.written) == digits(&new.written) {
        return Some((
            Grade::Loud,
            "unit without number",
            format!("the unit of the {what} changed and its number did not: {both}"),
        ));
    }
    if old.kind != new.kind {
        return Some((Grade::Loud, "limit moved", format!("{what} of another kind of quantity: {both}")));
    }
    let ends = ends(old, new);
    if old.unit != new.unit && only_rounded(old, new) {
        return Some((Grade::Middle, "rounded", format!("{what} in another unit and rounded: {both}{ends}")));
    }
    let (grade, kind, word) = if new.band.inside(&old.band) {
        (Grade::Middle, if adjusting { "set-to band tightened" } else { "limit tightened" }, "tighter")
    } else if old.band.inside(&new.band) {
        (Grade::Loud, if adjusting { "set-to band loosened" } else { "limit loosened" }, "looser")
    } else {
        (Grade::Loud, if adjusting { "set-to band moved" } else { "limit moved" }, "moved")
    };
    // The wider limit is still what decides where a band to set to is looser.
    let grade = if adjusting { Grade::Middle } else { grade };
    Some((grade, kind, format!("{what} {word}: {both}{ends}")))
}

/// The numbers of a written band without the letters of its unit.
fn digits(written: &str) -> String {
    written
        .chars()
        .filter(|letter| letter.is_ascii_digit() || matches!(letter, '.' | '+' | '-' | '±'))
        .collect()
}

/// Whether no end moved further than half a digit of the coarser writing, nor than a twentieth of the band.
fn only_rounded(old: &Stated, new: &Stated) -> bool {
    let digit = old.half_digit().max(new.half_digit());
    let twentieth = old.band.width().and_then(|width| width.checked_div(&Exact::whole(20)));
    let most = twentieth.map_or_else(|| digit.clone(), |share| share.min(digit.clone()));
    let near = |one: &Option<Bound>, other: &Option<Bound>| match (one, other) {
        (Some(one), Some(other)) => one.closed == other.closed && (&one.value - &other.value).abs() <= most,
        (None, None) => true,
        _ => false,
    };
    near(&old.band.low, &new.band.low) && near(&old.band.high, &new.band.high)
}

/// `; low end 56 → 54 Hz, 2 Hz lower, 16.7 % of the band`.
fn ends(old: &Stated, new: &Stated) -> String {
    let mut parts = Vec::new();
    let pairs = [("low end", &old.band.low, &new.band.low), ("high end", &old.band.high, &new.band.high)];
    for (name, then, now) in pairs {
        match (then, now) {
            (Some(one), Some(other)) if one.value != other.value => {
                parts.push(end(name, one, other, old, new))
            }
            (Some(one), Some(other)) if one.closed != other.closed => {
                let is = |bound: &Bound| if bound.closed { "in" } else { "out" };
                parts.push(format!("a reading on the {name} was {} and is {}", is(one), is(other)));
            }
            (Some(one), None) => parts.push(format!("{name} {} gone", value(&one.value, old))),
            (None, Some(other)) => parts.push(format!("{name} {} new", value(&other.value, new))),
            _ => {}
        }
    }
    parts.into_iter().map(|part| format!("; {part}")).collect()
}

fn end(name: &str, one: &Bound, other: &Bound, old: &Stated, new: &Stated) -> String {
    let by = &other.value - &one.value;
    let way =
        if (by.cmp(&Exact::zero()) == Ordering::Less) == new.unit.descending() { "higher" } else { "lower" };
    let amount = amount_off(&by, new.unit, new.kind, new.decimals.max(old.decimals));
    let share = old.band.width().filter(|width| !width.is_zero()).and_then(|width| {
        let share = (&by.abs() * &Exact::whole(100)).checked_div(&width)?;
        Some(format!(", {} % of the band", short(&share)))
    });
    format!(
        "{name} {} → {}, {amount} {way}{}",
        value(&one.value, old),
        value(&other.value, new),
        share.unwrap_or_default()
    )
}

/// A value in the unit that it was written in.
fn value(value: &Exact, of: &Stated) -> String {
    let number = from_base(value, of.unit, of.kind);
    let needed = number.decimals_needed().unwrap_or(DECIMALS).min(DECIMALS).max(of.decimals);
    shown(value, of.unit, of.kind, needed)
}

/// With at most one digit behind the point, none where it is nothing.
fn short(number: &Exact) -> String {
    let one = number.fixed(1);
    one.strip_suffix(".0").map(str::to_owned).unwrap_or(one)
}

fn target(old: &Stated, new: &Stated) -> Option<Told> {
    if old.target == new.target {
        return None;
    }
    let says = |of: &Stated| of.target.as_ref().map_or_else(|| "none".to_owned(), |at| value(at, of));
    Some((Grade::Middle, "target", format!("value to aim at: {} → {}", says(old), says(new))))
}
