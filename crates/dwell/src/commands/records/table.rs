//! Readings as a table: one in a line, with what was decided by it.

use crate::commands::kept;
use dwell_record::event::{Begun, Measured, Tested};
use dwell_record::number::SpanEnd;
use dwell_record::{Event, Value, What};
use dwell_store::{JobNumber, Records, Sqlite};

/// The names of the columns; new ones are only added at the end.
const COLUMNS: [&str; 24] = [
    "job",
    "event",
    "at",
    "procedure",
    "revision",
    "card",
    "vehicle",
    "variants",
    "in",
    "reading",
    "place",
    "as-found",
    "counts",
    "quantity",
    "unit",
    "value",
    "low",
    "high",
    "shown",
    "take",
    "tool",
    "side",
    "off",
    "band",
];

/// The readings of one job, or of all.
pub(super) fn of(store: &Sqlite, job: Option<JobNumber>) -> anyhow::Result<String> {
    let jobs = match job {
        Some(job) => vec![job],
        None => store.jobs().map_err(kept::said)?.into_iter().map(|job| job.number).collect(),
    };
    let mut table = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    table.write_record(COLUMNS)?;
    for job in jobs {
        let events = store.record(job).map_err(kept::said)?.events;
        let Some(What::Begun(begun)) = events.first().map(|event| &event.what) else { continue };
        for (place, event) in events.iter().enumerate() {
            if let What::Measured(measured) = &event.what {
                let after = events.get(place + 1..).unwrap_or_default();
                table.write_record(row(job, begun, event, measured, after))?;
            }
        }
    }
    Ok(String::from_utf8(table.into_inner().map_err(|error| error.into_error())?)?)
}

fn row(job: JobNumber, begun: &Begun, event: &Event, measured: &Measured, after: &[Event]) -> [String; 24] {
    let or_nothing = |text: &Option<String>| text.clone().unwrap_or_default();
    let revision = begun.revision.as_ref().map(|revision| revision.number.to_string());
    let vehicle = begun.vehicle.as_ref().map(|vehicle| vehicle.number.clone());
    let variants: Vec<String> =
        begun.variants.iter().map(|(axis, value)| format!("{axis}={value}")).collect();
    let (value, low, high) = numbers(&measured.value);
    let tested = decided(measured, after);
    let side = tested.map(side).unwrap_or_default();
    [
        job.to_string(),
        event.seq.to_string(),
        event.at.clone(),
        begun.procedure.clone(),
        revision.unwrap_or_default(),
        begun.card.clone(),
        vehicle.unwrap_or_default(),
        variants.join(" "),
        measured.reading.procedure.clone(),
        measured.reading.name.clone(),
        or_nothing(&measured.reading.place),
        yes_or_no(measured.as_found),
        yes_or_no(counts(event.seq, after)),
        measured.quantity.clone(),
        measured.unit.clone(),
        value,
        low,
        high,
        measured.shown.clone(),
        or_nothing(&measured.take),
        or_nothing(&measured.tool),
        side.to_owned(),
        tested.map(|test| or_nothing(&test.off)).unwrap_or_default(),
        tested.map(|test| or_nothing(&test.band)).unwrap_or_default(),
    ]
}

fn yes_or_no(holds: bool) -> String {
    if holds { "yes" } else { "no" }.to_owned()
}

/// The exact number, or the two ends between which it lies, `above 1000` as `(1000`; an end that belongs to it as `[1000`.
fn numbers(value: &Value) -> (String, String, String) {
    let end = |end: &Option<SpanEnd>| {
        end.as_ref()
            .map(|end| format!("{}{}", if end.included { '[' } else { '(' }, end.value.0))
            .unwrap_or_default()
    };
    match value {
        Value::Number(number) => (number.0.to_string(), String::new(), String::new()),
        Value::Between(span) => (String::new(), end(&span.low), end(&span.high)),
        Value::NoReading => Default::default(),
    }
}

/// Whether no later event opened the reading again: a value that was put right, or was gone back behind, counts no more.
fn counts(seq: u64, after: &[Event]) -> bool {
    !after.iter().any(|event| match &event.what {
        What::WentBack(back) => back.to <= seq,
        What::Corrected(wrong) => wrong.to <= seq,
        _ => false,
    })
}

/// The first decision by this value: before the same reading is taken once more.
fn decided<'e>(measured: &Measured, after: &'e [Event]) -> Option<&'e Tested> {
    let same =
        |event: &&Event| !matches!(&event.what, What::Measured(next) if next.reading == measured.reading);
    after.iter().take_while(same).find_map(|event| match &event.what {
        What::Judged(judged) => {
            judged.tests.iter().find(|test| test.reading.as_ref() == Some(&measured.reading))
        }
        _ => None,
    })
}

fn side(test: &Tested) -> &'static str {
    side_word(test.side)
}

/// How a test came out, for other programs.
pub(super) fn side_word(side: dwell_record::Side) -> &'static str {
    match side {
        dwell_record::Side::In => "in",
        dwell_record::Side::Low => "low",
        dwell_record::Side::High => "high",
        dwell_record::Side::NoReading => "no reading",
        dwell_record::Side::Other => "no",
    }
}
