//! The rows of a readings file, one value each, in the order in which they are read at the vehicle.

use crate::fault::{Fault, MOST_FAULTS};
use crate::header::{Column, columns, separator};
use crate::quotes::misplaced;
use crate::value::{Value, value};
use csv::{ReaderBuilder, StringRecord, Trim};
use dwell_quantity::{Decimal, Lookup, Unit, lookup};

/// The name of a row that stops the run; its value is the reason, in words.
pub const STOP: &str = "STOP";

/// The name of a row that signs; its value is the name of the person.
pub const SIGNATURE: &str = "SIGNATURE";

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The line of the file in which it begins, from 1.
    pub line: usize,
    /// What was read or answered: the name of a reading, of a question, or of what a need is about.
    pub name: String,
    /// The value.
    pub value: Value,
    /// The value as it stands in the file.
    pub typed: String,
    /// The unit; none for answers, and for plain counts.
    pub unit: Option<TypedUnit>,
    /// The place, for one of a row of readings such as the cylinders.
    pub at: Option<String>,
    /// For a sample: seconds since the measurement began.
    pub time: Option<Decimal>,
    /// Whether it looks like a slip and is none: it was read again, and is kept.
    pub kept: bool,
    /// A remark.
    pub note: Option<String>,
}

/// A unit as it stands in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedUnit {
    /// The unit.
    pub unit: Unit,
    /// Its spelling in the file.
    pub typed: String,
}

/// Reads the text of a readings file.
///
/// # Errors
/// Every fault in the order of the rows, at most [`MOST_FAULTS`]; a file with one is not used at all, since a row left
/// out would give its reading to the next one.
pub fn read(text: &str) -> Result<Vec<Row>, Vec<Fault>> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let separator = separator(text);
    if let Some(fault) = misplaced(text, separator) {
        return Err(vec![fault]);
    }
    let mut source = ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let mut lines = LineCount { at: 0, line: 1, before: 0 };
    let mut layout: Option<Vec<Column>> = None;
    let mut rows = Vec::new();
    let mut faults = Vec::new();
    for record in source.records() {
        let record = record.map_err(|error| {
            vec![Fault::file(
                format!("it cannot be read as comma-separated values: {error}"),
                "save it again as CSV",
            )]
        })?;
        let line = lines.of(text, &record);
        match &layout {
            None => layout = Some(columns(line, record.iter())?),
            Some(layout) => match row(line, layout, &record) {
                Ok(row) => rows.push(row),
                Err(more) => faults.extend(more),
            },
        }
        if faults.len() >= MOST_FAULTS {
            break;
        }
    }
    faults.truncate(MOST_FAULTS);
    if layout.is_none() {
        faults.push(Fault::file(
            "it is empty",
            "its first row is `name,value,unit`, then one row for each value",
        ));
    }
    if faults.is_empty() {
        faults = same_times(&rows);
        faults.truncate(MOST_FAULTS);
    }
    if faults.is_empty() { Ok(rows) } else { Err(faults) }
}

/// Counts lines on the way through a text.
struct LineCount {
    at: usize,
    line: usize,
    before: u8,
}

impl LineCount {
    /// The line in which a record begins. The reader counts the blank lines before a record, and half of a line end, to
    /// it; here they are passed over.
    fn of(&mut self, text: &str, record: &StringRecord) -> usize {
        let from = record.position().and_then(|place| usize::try_from(place.byte()).ok()).unwrap_or(0);
        for byte in text.bytes().skip(self.at) {
            if self.at >= from && !matches!(byte, b'\r' | b'\n') {
                break;
            }
            self.line += usize::from(byte == b'\r' || byte == b'\n' && self.before != b'\r');
            self.before = byte;
            self.at += 1;
        }
        self.line
    }
}

fn row(line: usize, layout: &[Column], record: &StringRecord) -> Result<Row, Vec<Fault>> {
    row_of(line, layout, &record.iter().map(str::to_owned).collect::<Vec<_>>())
}

/// The row that some cells make.
pub(crate) fn row_of(line: usize, layout: &[Column], cells: &[String]) -> Result<Row, Vec<Fault>> {
    if cells.len() != layout.len() {
        return Err(vec![ragged(line, layout.len(), cells.len())]);
    }
    let cell = |wanted: Column| {
        let place = layout.iter().position(|column| *column == wanted);
        place.and_then(|at| cells.get(at)).map_or("", String::as_str)
    };
    let some = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    let mut faults = Vec::new();
    let name = cell(Column::Name);
    if name.is_empty() {
        faults.push(Fault::cell(
            line,
            Column::Name.heading(),
            "empty".to_owned(),
            "write the name of the reading or question that this value belongs to",
        ));
    }
    let unit = unit(line, cell(Column::Unit)).unwrap_or_else(|fault| {
        faults.push(fault);
        None
    });
    let typed = cell(Column::Value);
    let read = if matches!(name, STOP | SIGNATURE) && !typed.is_empty() {
        Ok(Value::Word(typed.to_owned()))
    } else {
        value(typed, cell(Column::Unit))
    };
    let value = read.unwrap_or_else(|(what, help)| {
        faults.push(Fault::cell(line, Column::Value.heading(), what, help));
        Value::NoReading
    });
    let time = time(line, cell(Column::Time), &value).unwrap_or_else(|fault| {
        faults.push(fault);
        None
    });
    let kept = match cell(Column::Kept) {
        "" | "no" => false,
        "yes" => true,
        other => {
            let what = format!("`{other}` does not say whether the value is kept");
            faults.push(Fault::cell(
                line,
                Column::Kept.heading(),
                what,
                "write `yes`, or leave the cell empty",
            ));
            false
        }
    };
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(Row {
        kept,
        line,
        name: name.to_owned(),
        value,
        typed: typed.to_owned(),
        unit,
        at: some(cell(Column::At)),
        time,
        note: some(cell(Column::Note)),
    })
}

/// The time of a sample in seconds; none where the cell is empty.
fn time(line: usize, typed: &str, value: &Value) -> Result<Option<Decimal>, Fault> {
    let fault = |what: String, help: &str| Err(Fault::cell(line, Column::Time.heading(), what, help));
    if typed.is_empty() {
        return Ok(None);
    }
    if matches!(value, Value::Word(_)) {
        return fault(format!("`{typed}` stands beside an answer"), "only samples of a reading have a time");
    }
    match Decimal::parse(typed) {
        Ok(time) if time.value.is_negative() => fault(
            format!("`{typed}` lies before the measurement began"),
            "write the seconds since its beginning, from 0 up",
        ),
        Ok(time) => Ok(Some(time)),
        Err(_) => fault(
            format!("`{typed}` cannot be read as a number of seconds"),
            "write the seconds since the measurement began, without a unit: `0.75`, `12`",
        ),
    }
}

/// Samples of one reading that stand one behind the other at the same time: which of them counts?
fn same_times(rows: &[Row]) -> Vec<Fault> {
    let twice = |(place, row): (usize, &Row)| {
        let before =
            rows.get(..place)?.iter().rev().find(|known| known.name == row.name && known.at == row.at)?;
        let (one, other) = (before.time.as_ref()?, row.time.as_ref()?);
        (one.value == other.value).then(|| {
            Fault::cell(
                row.line,
                Column::Time.heading(),
                format!("`{other}` is the time of row {} as well", before.line),
                "the times of one measurement rise from row to row; where they fall, the next measurement begins",
            )
        })
    };
    rows.iter().enumerate().filter_map(twice).collect()
}

fn ragged(line: usize, wanted: usize, found: usize) -> Fault {
    let cells = |count: usize| if count == 1 { "1 cell".to_owned() } else { format!("{count} cells") };
    Fault::row(
        line,
        format!("this row has {}, the first row has {wanted}", cells(found)),
        if found > wanted {
            "a comma inside a cell separates it: write a decimal point in a number, and put a text with commas \
             between quotation marks"
        } else {
            "write every cell of the row, the empty ones too: `battery,yes,`"
        },
    )
}

fn unit(line: usize, typed: &str) -> Result<Option<TypedUnit>, Fault> {
    if typed.is_empty() {
        return Ok(None);
    }
    let fault = |what: String, help: String| Fault::cell(line, Column::Unit.heading(), what, help);
    match lookup(typed) {
        Lookup::Unit(unit) => Ok(Some(TypedUnit { unit, typed: typed.to_owned() })),
        Lookup::Ambiguous { why, choices } => {
            Err(fault(format!("`{typed}` could be two units: {why}"), format!("write {}", one_of(&choices))))
        }
        Lookup::Unknown { suggestions } if suggestions.is_empty() => Err(fault(
            format!("`{typed}` is not a unit that is known here"),
            "write a unit of the table, such as mm, bar, V or N·m".to_owned(),
        )),
        Lookup::Unknown { suggestions } => Err(fault(
            format!("`{typed}` is not a unit that is known here"),
            format!("did you mean {}?", one_of(&suggestions)),
        )),
    }
}

/// "`a`, `b` or `c`".
fn one_of(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}
