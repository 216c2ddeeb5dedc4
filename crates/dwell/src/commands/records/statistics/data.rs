//! The figures for other programs; numbers that are exact are texts, as in the record.

use dwell_quantity::Exact;
use dwell_record::statistics::{Five, Group, Key, Statistics, Values};
use serde_json::{Value, json};

/// The names of the columns; new ones are only added at the end.
const COLUMNS: [&str; 22] = [
    "procedure",
    "reading",
    "quantity",
    "unit",
    "variants",
    "band",
    "jobs",
    "as",
    "readings",
    "in",
    "low",
    "high",
    "no-reading",
    "other",
    "share-in",
    "interval-low",
    "interval-high",
    "lower-quartile",
    "median",
    "upper-quartile",
    "on-limit",
    "adjusted",
];

/// As JSON: version 1.
pub(super) fn json(sums: &Statistics) -> Value {
    json!({
        "version": 1,
        "jobs": sums.jobs,
        "not-over": sums.not_over,
        "readings": sums.groups.iter().map(|(key, group)| one(key, group)).collect::<Vec<_>>(),
    })
}

fn one(key: &Key, group: &Group) -> Value {
    let end = |end: &Option<Exact>| end.as_ref().map(ToString::to_string);
    json!({
        "procedure": key.procedure,
        "reading": key.reading,
        "quantity": key.quantity,
        "unit": key.unit,
        "variants": key.variants,
        "band": key.band,
        "low-limit": end(&group.limits.low),
        "high-limit": end(&group.limits.high),
        "jobs": group.jobs,
        "adjusted": group.adjusted,
        "as-found": values(&group.found, group),
        "as-left": values(&group.left, group),
        "last-digits": group.digits.0,
        "chi-square": group.digits.chi_square(),
        "zero-and-five": group.digits.whipple(),
        "digits-heaped": group.digits.heaped(),
    })
}

fn values(values: &Values, group: &Group) -> Value {
    let five = values.five().map(|Five { least, lower, median, upper, most }| {
        [least, lower, median, upper, most].map(|value| value.to_string())
    });
    let near = group.limits.near(&values.values);
    json!({
        "readings": values.count(),
        "in": values.inside,
        "low": values.low,
        "high": values.high,
        "no-reading": values.nothing,
        "other": values.other,
        "share-in": values.share().value(),
        "interval": values.share().interval().map(|(low, high)| [low, high]),
        "five": five,
        "values": values.values.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "on-limit": near.map(|near| near.on),
        "just-inside": near.map(|near| near.inside),
        "just-outside": near.map(|near| near.outside),
        "limits-heaped": near.and_then(dwell_record::statistics::Near::heaped),
    })
}

/// As comma-separated values, two lines for each reading.
pub(super) fn csv(sums: &Statistics) -> anyhow::Result<String> {
    let mut table = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    table.write_record(COLUMNS)?;
    for (key, group) in &sums.groups {
        for (name, values) in [("as-found", &group.found), ("as-left", &group.left)] {
            let number = |value: Option<f64>| value.map(|value| format!("{value:.6}")).unwrap_or_default();
            let interval = values.share().interval();
            let five = values.five();
            let exact = |pick: fn(&Five) -> &Exact| {
                five.as_ref().map(|five| pick(five).to_string()).unwrap_or_default()
            };
            let near = group.limits.near(&values.values);
            let row: [String; 22] = [
                key.procedure.clone(),
                key.reading.clone(),
                key.quantity.clone(),
                key.unit.clone(),
                key.variants.join(" "),
                key.band.clone().unwrap_or_default(),
                group.jobs.to_string(),
                name.to_owned(),
                values.count().to_string(),
                values.inside.to_string(),
                values.low.to_string(),
                values.high.to_string(),
                values.nothing.to_string(),
                values.other.to_string(),
                number(values.share().value()),
                number(interval.map(|(low, _)| low)),
                number(interval.map(|(_, high)| high)),
                exact(|five| &five.lower),
                exact(|five| &five.median),
                exact(|five| &five.upper),
                near.map(|near| near.on.to_string()).unwrap_or_default(),
                group.adjusted.to_string(),
            ];
            table.write_record(row)?;
        }
    }
    Ok(String::from_utf8(table.into_inner().map_err(|error| error.into_error())?)?)
}
