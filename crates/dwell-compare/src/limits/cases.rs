//! Bands that depend on variants, places and states, put beside each other for each combination of these.

use crate::words::Words;
use dwell_check::model::{ResolvedBand, SpecBand};
use std::collections::BTreeMap;

/// The most combinations that are looked at one by one; more are compared by the words of their conditions.
const MOST: usize = 2048;

/// The bands of one state with the words for their conditions.
type Bands<'a> = (&'a [SpecBand], Words<'a>);

/// A pair of bands and where it holds; where it holds everywhere, no words.
type Beside<'a> = (String, Option<&'a ResolvedBand>, Option<&'a ResolvedBand>);

/// Combinations of values that have the same two bands.
type Group<'a, 'b> = (Vec<Vec<&'b str>>, Option<&'a ResolvedBand>, Option<&'a ResolvedBand>);

/// For each combination the first band of each state that holds; combinations with the same two bands are one entry.
pub(super) fn beside<'a>(
    old: (&'a Vec<SpecBand>, Words<'a>),
    new: (&'a Vec<SpecBand>, Words<'a>),
) -> Vec<Beside<'a>> {
    let (old, new): (Bands, Bands) = ((old.0, old.1), (new.0, new.1));
    let mut axes: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (bands, words) in [old, new] {
        for when in bands.iter().flat_map(|band| &band.when) {
            let values = axes.entry(words.guard(when).0).or_default();
            for value in words.domain(when) {
                if !values.contains(&value) {
                    values.push(value);
                }
            }
        }
    }
    let count = axes.values().try_fold(1_usize, |count, values| count.checked_mul(values.len()));
    if count.is_none_or(|count| count > MOST) {
        return by_words(old, new);
    }
    let mut groups: Vec<Group> = Vec::new();
    for combination in combinations(&axes) {
        let pair = (holding(old, &axes, &combination), holding(new, &axes, &combination));
        let same = |one: Option<&ResolvedBand>, other: Option<&ResolvedBand>| match (one, other) {
            (Some(one), Some(other)) => std::ptr::eq(one, other),
            (None, None) => true,
            _ => false,
        };
        match groups.iter_mut().find(|(_, then, now)| same(*then, pair.0) && same(*now, pair.1)) {
            Some((known, ..)) => known.push(combination),
            None => groups.push((vec![combination], pair.0, pair.1)),
        }
    }
    groups.into_iter().map(|(which, then, now)| (in_words(&axes, &which), then, now)).collect()
}

/// All combinations of values, in the order of the axes.
fn combinations(axes: &BTreeMap<String, Vec<String>>) -> Vec<Vec<&str>> {
    let mut all = vec![Vec::new()];
    for values in axes.values() {
        all = all
            .iter()
            .flat_map(|before: &Vec<&str>| {
                values.iter().map(|value| {
                    let mut next = before.clone();
                    next.push(value.as_str());
                    next
                })
            })
            .collect();
    }
    all
}

/// The first band whose conditions all hold.
fn holding<'a>(
    (bands, words): Bands<'a>,
    axes: &BTreeMap<String, Vec<String>>,
    combination: &[&str],
) -> Option<&'a ResolvedBand> {
    let band = bands.iter().find(|band| {
        band.when.iter().map(|when| words.guard(when)).all(|(name, values)| {
            let place = axes.keys().position(|axis| *axis == name);
            let value = place.and_then(|place| combination.get(place));
            value.is_some_and(|value| values.iter().any(|known| known == value))
        })
    });
    band.map(|band| &band.limit)
}

/// `engine-family k9, charging single or double`, leaving out what does not matter; combination by combination where it is no such
/// block.
fn in_words(axes: &BTreeMap<String, Vec<String>>, which: &[Vec<&str>]) -> String {
    let mut block = 1;
    let mut parts = Vec::new();
    for (place, (name, all)) in axes.iter().enumerate() {
        let mut values: Vec<&str> = Vec::new();
        for value in which.iter().filter_map(|combination| combination.get(place)) {
            if !values.contains(value) {
                values.push(value);
            }
        }
        block *= values.len();
        if values.len() < all.len() {
            parts.push(format!("{name} {}", values.join(" or ")));
        }
    }
    if block == which.len() {
        return parts.join(", ");
    }
    let each: Vec<String> = which.iter().map(|combination| combination.join(" + ")).collect();
    each.join("; ")
}

/// Bands with the same words in their conditions.
fn by_words<'a>(old: Bands<'a>, new: Bands<'a>) -> Vec<Beside<'a>> {
    let named = |(bands, words): Bands<'a>| -> Vec<(String, &'a ResolvedBand)> {
        bands.iter().map(|band| (words.when(&band.when).trim().to_owned(), &band.limit)).collect()
    };
    let (before, after) = (named(old), named(new));
    let find = |list: &[(String, &'a ResolvedBand)], name: &str| {
        list.iter().find(|(known, _)| known == name).map(|(_, band)| *band)
    };
    let mut pairs: Vec<Beside> =
        after.iter().map(|(name, band)| (name.clone(), find(&before, name), Some(*band))).collect();
    let gone = before.iter().filter(|(name, _)| find(&after, name).is_none());
    pairs.extend(gone.map(|(name, band)| (name.clone(), Some(*band), None)));
    pairs
}
