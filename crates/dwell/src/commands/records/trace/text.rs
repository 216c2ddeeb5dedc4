//! The trace of a tool for people: by vehicle, then by job, then in the order of the events.

use super::{Found, Traced};
use crate::commands::kept::moment;
use crate::drawing::visible;
use crate::screen::{Ink, Screen, wrapped};
use dwell_record::trace::{How, Use};
use std::collections::BTreeMap;

const SURE: [How; 3] = [How::Measured, How::WorkedOut, How::Set];

pub(super) fn write(screen: &mut Screen, found: &Found, several: bool) -> anyhow::Result<()> {
    let wanted = &found.wanted;
    let days = match &wanted.until {
        Some(until) => format!("from {} to {until}", wanted.since),
        None => format!("from {} on", wanted.since),
    };
    say(screen, "", &format!("{}: what rests on it, {days} ({})", wanted.number, found.by))?;
    let sure = by_vehicle(found, |one| SURE.contains(&one.how));
    for (vehicle, jobs) in &sure {
        heading(screen, vehicle)?;
        for (job, uses) in jobs {
            one_job(screen, job, several)?;
            for one in uses {
                one_use(screen, one)?;
            }
        }
    }
    let open = by_vehicle(found, |one| one.how == How::Unknown);
    if !open.is_empty() {
        let as_what: Vec<&str> = wanted.serves.iter().map(String::as_str).collect();
        screen.line("")?;
        screen.line(&screen.style.ink(Ink::Bold, "NOT KNOWN: it may have been used here as well"))?;
        say(screen, "  ", &format!("Nobody noted which {} was used.", as_what.join(" or ")))?;
        for (vehicle, jobs) in &open {
            heading(screen, vehicle)?;
            for (job, uses) in jobs {
                one_job(screen, job, several)?;
                for one in uses {
                    one_use(screen, one)?;
                }
            }
        }
    }
    for words in &found.unreadable {
        say(screen, "NOT READ: ", words)?;
    }
    screen.line("")?;
    for line in sums(found, sure.len(), open.len()) {
        say(screen, "", &line)?;
    }
    Ok(())
}

type ByVehicle<'f> = BTreeMap<String, Vec<(&'f Traced, Vec<&'f Use>)>>;

fn by_vehicle(found: &Found, which: impl Fn(&Use) -> bool) -> ByVehicle<'_> {
    let mut all: ByVehicle<'_> = BTreeMap::new();
    for job in &found.jobs {
        let uses: Vec<&Use> = job.uses.iter().filter(|one| which(one)).collect();
        if !uses.is_empty() {
            let name = job.job.vehicle.as_ref().map_or_else(
                || "A vehicle whose number was not noted".to_owned(),
                |vehicle| format!("Vehicle {vehicle}"),
            );
            all.entry(name).or_default().push((job, uses));
        }
    }
    all
}

fn heading(screen: &mut Screen, vehicle: &str) -> anyhow::Result<()> {
    screen.line("")?;
    screen.line(&screen.style.ink(Ink::Bold, &visible(vehicle))).map_err(Into::into)
}

fn one_job(screen: &mut Screen, traced: &Traced, several: bool) -> anyhow::Result<()> {
    let job = &traced.job;
    let result = job.result.as_deref().unwrap_or("UNFINISHED");
    let revision = traced.revision.map(|number| format!(", revision {number}")).unwrap_or_default();
    let variants = traced.variants.iter().map(|one| format!(", {one}")).collect::<String>();
    let store = if several { format!(", in {}", traced.store.display()) } else { String::new() };
    let words = format!(
        "{}  {}  {}{revision}{variants}: {result}{store}",
        job.number,
        moment(&job.begun),
        job.procedure
    );
    say(screen, "  job ", &words)
}

/// `    tension, as found: 54.6 Hz, LOW by 1.4 Hz, band 56 .. 68 Hz`.
fn one_use(screen: &mut Screen, one: &Use) -> anyhow::Result<()> {
    let stands = one.stands();
    let stands = if stands.is_empty() { String::new() } else { format!(", {stands}") };
    let verdict = Some(one.verdict()).filter(|words| !words.is_empty() && one.value.as_ref() != Some(words));
    let what = if one.adjusting { "to be set to" } else { "band" };
    let band = one.band.as_ref().map(|band| format!("{what} {band}"));
    let worked_out =
        (one.how == How::WorkedOut).then(|| "worked out from what was measured with it".to_owned());
    let counts = (!one.counts).then(|| "counts no more: put right or gone back behind later".to_owned());
    let right = one.put_right.map(|event| format!("as put right after the end, event {event}"));
    let parts: Vec<String> =
        [one.value.clone(), verdict, band, worked_out, counts, right].into_iter().flatten().collect();
    let lead = if one.side.is_none() && one.value.is_none() && one.band.is_none() { "" } else { ": " };
    say(screen, "    ", &format!("{}{stands}{lead}{}", one.what, parts.join(", ")))
}

fn sums(found: &Found, sure: usize, open: usize) -> Vec<String> {
    let many =
        |count: usize, one: &str, more: &str| format!("{count} {}", if count == 1 { one } else { more });
    let jobs = |how: &[How]| {
        let count = found.jobs.iter().filter(|job| job.uses.iter().any(|one| how.contains(&one.how))).count();
        many(count, "job", "jobs")
    };
    let vehicles = |count: usize| many(count, "vehicle", "vehicles");
    let number = &found.wanted.number;
    let mut all = vec![format!("{} looked through.", many(found.looked, "job", "jobs"))];
    match found.count(&SURE) {
        0 => all.push(format!("Nothing is noted of {number} in that time.")),
        _ => all.push(format!(
            "{} measured with it, {} worked out from these, {} set with it: in {}, at {}.",
            many(found.count(&[How::Measured]), "value", "values"),
            found.count(&[How::WorkedOut]),
            many(found.count(&[How::Set]), "thing", "things"),
            jobs(&SURE),
            vehicles(sure)
        )),
    }
    if found.count(&[How::Unknown]) > 0 {
        all.push(format!(
            "{} where it is not known which tool was used: in {}, at {}.",
            many(found.count(&[How::Unknown]), "entry", "entries"),
            jobs(&[How::Unknown]),
            vehicles(open)
        ));
    }
    all.push("Whether a vehicle is called back is for whoever answers for it: nothing here says that a value was wrong.".to_owned());
    all
}

fn say(screen: &mut Screen, first: &str, words: &str) -> anyhow::Result<()> {
    let indent = if first.trim().is_empty() { first.len() + 2 } else { 6 };
    for line in wrapped(first, indent, &visible(words)) {
        screen.line(&line)?;
    }
    Ok(())
}
