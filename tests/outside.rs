//! Checks against the outside: published standards and tables, and general-purpose programs that know units.
//!
//! Every value stands in `outside/data/` with its source beside it. A row that rests on memory says so there, and the
//! test that uses it says so again.

mod cases;
mod decisions;
mod dominators;
mod fits;
mod law;
mod letters;
mod pairs;
mod programs;
mod risks;
mod rounding;
mod statistics;
mod trade;
mod traps;
mod units;
mod vehicles;
mod words;
mod worked;

use std::collections::HashMap;

use dwell_quantity::{Amount, Band, Bound, Decimal, Exact, Kind, Lookup, Unit, lookup};

/// One row of a data file, by the names of its columns.
struct Row(HashMap<String, String>);

impl Row {
    /// The cell of that column.
    fn get(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    /// The number in the cell of that column; `None` where it is empty.
    fn number(&self, column: &str) -> Option<Exact> {
        let text = self.get(column);
        (!text.is_empty()).then(|| exact(text))
    }
}

/// The rows of a data file, of which there must be some.
fn rows(text: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let header = reader.headers().unwrap().clone();
    let named = |record: csv::StringRecord| {
        Row(header.iter().map(str::to_owned).zip(record.iter().map(str::to_owned)).collect())
    };
    let rows: Vec<Row> = reader.records().map(|record| named(record.unwrap())).collect();
    assert!(!rows.is_empty());
    rows
}

/// A number as it is printed in a table.
fn exact(text: &str) -> Exact {
    Decimal::parse(text).unwrap_or_else(|why| panic!("{text:?}: {why}")).value
}

/// The unit of that spelling.
fn unit(spelling: &str) -> Unit {
    match lookup(spelling) {
        Lookup::Unit(unit) => unit,
        other => panic!("{spelling:?} is no unit: {other:?}"),
    }
}

/// A number of a unit, in base units of a kind.
fn base(number: &str, spelling: &str, kind: Kind) -> Exact {
    Amount::new(Decimal::parse(number).unwrap(), unit(spelling)).in_base(kind).unwrap()
}

/// A band from its two ends, either of which may be missing.
fn band(low: Option<Exact>, high: Option<Exact>) -> Band {
    Band { low: low.map(Bound::closed), high: high.map(Bound::closed) }
}

/// The number of decimals a printed number has.
fn decimals(printed: &str) -> u32 {
    Decimal::parse(printed).unwrap().decimals
}
