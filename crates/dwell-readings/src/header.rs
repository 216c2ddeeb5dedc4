//! The first row: it names the columns, and by that declares which character separates them.

use crate::fault::Fault;

/// A column that a readings file can have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Column {
    Name,
    Value,
    Unit,
    At,
    Time,
    Kept,
    Note,
}

impl Column {
    const ALL: [Column; 7] =
        [Column::Name, Column::Value, Column::Unit, Column::At, Column::Time, Column::Kept, Column::Note];

    /// Its heading.
    pub(crate) fn heading(self) -> &'static str {
        match self {
            Column::Name => "name",
            Column::Value => "value",
            Column::Unit => "unit",
            Column::At => "at",
            Column::Time => "time",
            Column::Kept => "kept",
            Column::Note => "note",
        }
    }

    fn needed(self) -> bool {
        matches!(self, Column::Name | Column::Value | Column::Unit)
    }
}

/// What the first row must be.
const HEADINGS: &str = "the first row of a readings file is `name,value,unit`, and may have `at`, `time`, `kept` and `note` besides";

/// The separator that the first line of `text` uses: `;` or a tab where it has one, else a comma.
pub(crate) fn separator(text: &str) -> u8 {
    let first = text.lines().find(|line| !line.trim().is_empty()).unwrap_or("");
    if first.contains(';') {
        b';'
    } else if first.contains('\t') {
        b'\t'
    } else {
        b','
    }
}

/// The columns that the cells of the first row name, in their order.
pub(crate) fn columns<'a>(
    row: usize,
    cells: impl Iterator<Item = &'a str>,
) -> Result<Vec<Column>, Vec<Fault>> {
    let mut found = Vec::new();
    let mut faults = Vec::new();
    for (at, cell) in cells.enumerate() {
        match Column::ALL.into_iter().find(|column| column.heading() == cell) {
            Some(column) if found.contains(&column) => faults.push(Fault::cell(
                row,
                cell,
                format!("the heading `{cell}` stands twice"),
                "each column has its own heading: take one of the two out",
            )),
            Some(column) => found.push(column),
            None => faults.push(unknown(row, at + 1, cell)),
        }
    }
    let missing: Vec<&str> = Column::ALL
        .into_iter()
        .filter(|column| column.needed() && !found.contains(column))
        .map(Column::heading)
        .collect();
    if faults.is_empty() && !missing.is_empty() {
        faults.push(Fault::row(
            row,
            format!("the heading lacks the column `{}`", missing.join("`, `")),
            HEADINGS,
        ));
    }
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

/// The fault of a heading that is none; `at` is its column, from 1.
fn unknown(row: usize, at: usize, cell: &str) -> Fault {
    if cell.is_empty() {
        return Fault::row(row, format!("column {at} has no heading"), HEADINGS);
    }
    let lower = cell.to_lowercase();
    let meant = Column::ALL.into_iter().map(Column::heading).find(|heading| lower.starts_with(heading));
    let help = match meant {
        Some("value") if lower.len() > "value".len() => {
            "write the heading `value`, and the unit of each reading in the column `unit`".to_owned()
        }
        Some("time") if lower.len() > "time".len() => {
            "write the heading `time`: the times are seconds since the measurement began".to_owned()
        }
        Some(heading) => format!("write the heading `{heading}`"),
        None => format!("{HEADINGS}; take other columns out"),
    };
    Fault::cell(row, cell, format!("there is no column `{cell}` in a readings file"), help)
}
