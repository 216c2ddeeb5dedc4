//! Looking up a unit by its spelling: exact, in a closed table, with suggestions where it is not there.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::Unit;
use super::ambiguous::{AMBIGUOUS, Ambiguous};
use crate::kind::Kind;
use crate::lookalike::fold_twin;

/// What a spelling is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lookup {
    /// A unit of the table.
    Unit(Unit),
    /// A spelling that could be two things.
    Ambiguous {
        /// One clause: what it could be.
        why: &'static str,
        /// The symbols to choose from.
        choices: Vec<&'static str>,
    },
    /// Not in the table.
    Unknown {
        /// Symbols that are spelt nearly so, the nearest first; at most three.
        suggestions: Vec<&'static str>,
    },
}

static BY_SYMBOL: LazyLock<HashMap<&'static str, Unit>> =
    LazyLock::new(|| Unit::all().map(|unit| (unit.symbol(), unit)).collect());

static BY_SPELLING: LazyLock<HashMap<String, Unit>> = LazyLock::new(|| {
    Unit::all()
        .flat_map(|unit| all_spellings(unit).map(move |spelling| (folded(spelling), unit)))
        .filter(|(spelling, _)| !spelling.is_empty())
        .collect()
});

/// The symbol and the other spellings of a unit.
fn all_spellings(unit: Unit) -> impl Iterator<Item = &'static str> {
    std::iter::once(unit.symbol()).chain(unit.spellings().iter().copied())
}

/// The unit printed with that symbol.
pub(super) fn by_symbol(symbol: &str) -> Option<Unit> {
    BY_SYMBOL.get(symbol).copied()
}

/// What a spelling after a number is. The case of letters counts (`MPa` is not `mPa`); twins of one character mean the
/// same, and a no-break space is a blank.
pub fn lookup(spelling: &str) -> Lookup {
    let spelling = folded(spelling);
    if let Some(unit) = BY_SPELLING.get(&spelling) {
        return Lookup::Unit(*unit);
    }
    match ambiguous(&spelling) {
        Some(found) => Lookup::Ambiguous { why: found.why, choices: found.choices.to_vec() },
        None => Lookup::Unknown { suggestions: suggestions(&spelling) },
    }
}

/// Every spelling that may follow a number, the ambiguous ones included, in no particular order and without the empty
/// one. Spellings with a blank inside are given with one plain blank.
pub fn spellings() -> impl Iterator<Item = &'static str> {
    let ambiguous = AMBIGUOUS.iter().flat_map(|row| row.spellings.iter().copied());
    Unit::all().flat_map(all_spellings).filter(|spelling| !spelling.is_empty()).chain(ambiguous)
}

/// The units that can measure a kind, in the order of the table.
pub fn units_for(kind: Kind) -> Vec<Unit> {
    Unit::all().filter(|unit| unit.measures(kind)).collect()
}

/// A spelling with twins made one and every blank a plain one.
fn folded(spelling: &str) -> String {
    spelling
        .chars()
        .map(|c| if matches!(c, '\u{00A0}' | '\u{202F}') { ' ' } else { fold_twin(c).unwrap_or(c) })
        .collect()
}

fn ambiguous(spelling: &str) -> Option<&'static Ambiguous> {
    AMBIGUOUS.iter().find(|row| row.spellings.contains(&spelling))
}

/// The symbols spelt most nearly like this.
fn suggestions(spelling: &str) -> Vec<&'static str> {
    const MOST: usize = 3;
    let wanted = bare(spelling);
    if wanted.is_empty() || spelling.chars().count() > 24 {
        return Vec::new();
    }
    let mut near: Vec<(usize, &'static str)> = Unit::all()
        .filter_map(|unit| {
            let distance =
                all_spellings(unit).filter_map(|known| distance(spelling, &wanted, known)).min()?;
            Some((distance, unit.symbol()))
        })
        .collect();
    near.sort_by_key(|(distance, _)| *distance);
    near.into_iter().map(|(_, symbol)| symbol).filter(|symbol| !symbol.is_empty()).take(MOST).collect()
}

/// How far a known spelling is from the wanted one; `None` where it is too far to be meant. The same letters in another
/// case, or with other joints, are nearest.
fn distance(spelling: &str, wanted: &str, known: &str) -> Option<usize> {
    if bare(known) == wanted {
        return Some(0);
    }
    let letters = spelling.chars().count();
    let most = if letters < 7 { 1 } else { 2 };
    let apart = strsim::damerau_levenshtein(wanted, &bare(known));
    (apart <= most && apart < letters).then_some(apart + 1)
}

/// The letters and digits of a spelling, in lower case, with the marks for a degree in words.
fn bare(spelling: &str) -> String {
    spelling
        .chars()
        .flat_map(|c| match c {
            '\u{00BA}' | '\u{02DA}' => vec!['\u{00B0}'],
            '\u{2103}' => vec!['\u{00B0}', 'c'],
            '\u{2109}' => vec!['\u{00B0}', 'f'],
            '\u{00B2}' => vec!['2'],
            '\u{00B3}' => vec!['3'],
            _ => c.to_lowercase().collect(),
        })
        .filter(|c| c.is_alphanumeric() || matches!(c, '\u{00B0}' | '%' | '/' | '\u{2032}' | '\u{2033}'))
        .collect()
}
