//! One cell of the column `value`: a number, an edge that the reading lies beyond, a word, or no reading.

use dwell_quantity::{Amount, Decimal, NumberError};

/// What a row says was read or answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A number as it was typed.
    Number(Decimal),
    /// Degrees and minutes, or hours and minutes, with their units: `-0° 32′`.
    Compound(String),
    /// A reading known only to lie beyond a number: `above 1000`, as an instrument shows at the end of its range.
    Beyond(Edge, Decimal),
    /// An answer to a question, or `yes` and `no` to a need.
    Word(String),
    /// The reading could not be taken: `no reading`.
    NoReading,
}

/// On which side of a number a reading lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// `above`
    Above,
    /// `at least`
    AtLeast,
    /// `below`
    Below,
    /// `at most`
    AtMost,
}

impl Edge {
    const ALL: [Edge; 4] = [Edge::Above, Edge::AtLeast, Edge::Below, Edge::AtMost];

    /// Its words.
    pub fn words(self) -> &'static str {
        match self {
            Edge::Above => "above",
            Edge::AtLeast => "at least",
            Edge::Below => "below",
            Edge::AtMost => "at most",
        }
    }
}

/// Words that other programs write where there was nothing to write; none of them says whether somebody looked.
const EMPTY_WORDS: [&str; 7] = ["nan", "inf", "infinity", "n/a", "#n/a", "null", "#value!"];

/// What is wrong with a cell and what to write, both without a final point.
pub(crate) type Wrong = (String, String);

/// Reads a cell; `unit` is the text of the column `unit`.
pub(crate) fn value(cell: &str, unit: &str) -> Result<Value, Wrong> {
    if cell.is_empty() {
        return Err((
            "empty".to_owned(),
            "write the value, or `no reading`: an empty cell could be either, and is never taken as 0"
                .to_owned(),
        ));
    }
    let bare = cell.to_lowercase();
    if bare == "no reading" {
        return Ok(Value::NoReading);
    }
    if EMPTY_WORDS.contains(&bare.trim_start_matches(['+', '-'])) {
        return Err((
            format!("`{cell}` is no value"),
            "write the value, or `no reading` where it could not be taken".to_owned(),
        ));
    }
    if let Some(found) = beyond(cell) {
        return found;
    }
    if unit.is_empty() && Decimal::parse(cell).is_err() && Amount::compound(cell).is_ok() {
        return Ok(Value::Compound(cell.to_owned()));
    }
    let begins_as_word = cell.chars().next().is_some_and(char::is_alphabetic);
    if begins_as_word && unit.is_empty() && !mistyped_number(cell) {
        return Ok(Value::Word(cell.to_owned()));
    }
    if !begins_as_word || unit.is_empty() {
        return number(cell).map(Value::Number);
    }
    Err((
        format!("`{cell}` has the unit `{unit}` but is no number"),
        "write a number, or `no reading`; for a word that answers a question leave the unit empty".to_owned(),
    ))
}

/// A word such as `l2` or `O.5`, where a letter stands for a digit.
fn mistyped_number(cell: &str) -> bool {
    matches!(Decimal::parse(cell), Err(NumberError::LookAlike { .. }))
        && cell.contains(|c: char| c.is_ascii_digit())
}

/// `above 1000` and its like; none where the cell does not begin so.
fn beyond(cell: &str) -> Option<Result<Value, Wrong>> {
    let (edge, rest) = Edge::ALL
        .into_iter()
        .find_map(|edge| Some((edge, cell.strip_prefix(edge.words())?.strip_prefix(' ')?.trim())))?;
    Some(number(rest).map(|number| Value::Beyond(edge, number)))
}

fn number(cell: &str) -> Result<Decimal, Wrong> {
    Decimal::parse(cell).map_err(|error| {
        let has_unit = cell.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c))
            && cell.ends_with(|c: char| c.is_alphabetic() || "%°".contains(c))
            && error == NumberError::NotANumber;
        let help = if has_unit {
            "write the number alone here, and its unit in the column `unit`".to_owned()
        } else {
            error.to_string()
        };
        (format!("`{cell}` cannot be read as a number"), help)
    })
}
