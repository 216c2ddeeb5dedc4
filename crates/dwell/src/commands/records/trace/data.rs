//! The trace of a tool for other programs: JSON, and one use in a line as comma-separated values.

use super::{Found, Traced};
use dwell_record::trace::{How, Use};
use serde_json::{Value, json};

/// The names of the columns; new ones are only added at the end.
const COLUMNS: [&str; 19] = [
    "store",
    "job",
    "vehicle",
    "variants",
    "procedure",
    "revision",
    "card",
    "result",
    "event",
    "at",
    "how",
    "what",
    "as",
    "value",
    "side",
    "off",
    "band",
    "set-to",
    "counts",
];

/// As JSON: version 1.
pub(super) fn json(found: &Found) -> Value {
    let wanted = &found.wanted;
    json!({
        "version": 1,
        "tool": wanted.number,
        "serves-as": wanted.serves,
        "since": wanted.since,
        "since-by": found.by,
        "until": wanted.until,
        "jobs-looked-through": found.looked,
        "jobs": found.jobs.iter().map(job).collect::<Vec<_>>(),
        "not-read": found.unreadable,
    })
}

fn job(traced: &Traced) -> Value {
    let job = &traced.job;
    json!({
        "store": traced.store.display().to_string(),
        "job": job.number.0,
        "vehicle": job.vehicle,
        "variants": traced.variants,
        "procedure": job.procedure,
        "revision": traced.revision,
        "card": job.card,
        "begun": job.begun,
        "result": job.result,
        "uses": traced.uses.iter().map(one).collect::<Vec<_>>(),
    })
}

fn one(used: &Use) -> Value {
    json!({
        "event": used.seq,
        "at": used.at,
        "how": how(used.how),
        "what": used.what,
        "as": used.stands().replace(' ', "-"),
        "value": used.value,
        "side": used.side,
        "off": used.off,
        "band": used.band,
        "set-to": used.adjusting,
        "counts": used.counts,
        "put-right-by-event": used.put_right,
    })
}

fn how(how: How) -> &'static str {
    match how {
        How::Measured => "measured",
        How::WorkedOut => "worked-out",
        How::Set => "set",
        How::Unknown => "not-known",
    }
}

/// As comma-separated values.
pub(super) fn csv(found: &Found) -> anyhow::Result<String> {
    let mut table = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    table.write_record(COLUMNS)?;
    for traced in &found.jobs {
        let job = &traced.job;
        for used in &traced.uses {
            let or_nothing = |text: &Option<String>| text.clone().unwrap_or_default();
            let yes = |holds: bool| if holds { "yes" } else { "no" }.to_owned();
            let row: [String; 19] = [
                traced.store.display().to_string(),
                job.number.to_string(),
                or_nothing(&job.vehicle),
                traced.variants.join(" "),
                job.procedure.clone(),
                traced.revision.map(|number| number.to_string()).unwrap_or_default(),
                job.card.clone(),
                or_nothing(&job.result),
                used.seq.to_string(),
                used.at.clone(),
                how(used.how).to_owned(),
                used.what.clone(),
                used.stands().replace(' ', "-"),
                or_nothing(&used.value),
                used.side.map(super::super::table::side_word).unwrap_or_default().to_owned(),
                or_nothing(&used.off),
                or_nothing(&used.band),
                yes(used.adjusting),
                yes(used.counts),
            ];
            table.write_record(row)?;
        }
    }
    Ok(String::from_utf8(table.into_inner().map_err(|error| error.into_error())?)?)
}
