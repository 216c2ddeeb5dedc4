//! Going back, putting a reading right, and handing a job over, while it is asked at the terminal.

use super::Job;
use super::asking::{not_taken, typed};
use crate::commands::kept::plain;
use crate::drawing::visible;
use crate::screen::{Screen, wrapped};
use dwell_record::event::{By, Taking};
use dwell_run::Place;

/// How many answers are offered, the latest first.
const OFFERED: usize = 9;

/// Opens an earlier answer again.
pub(super) fn back(job: &mut Job, screen: &mut Screen) -> anyhow::Result<()> {
    screen.line("  What was told and read is asked again; what was done at the vehicle stays.")?;
    let places: Vec<Place> = job.session.behind();
    let Some((to, why)) = which(screen, &places, "back to which answer", "nothing was answered yet")? else {
        return Ok(());
    };
    let by = job.by.clone();
    match job.does(|session, at| session.go_back(to, by, &why, at))? {
        Ok(events) => job.happened(screen, &events),
        Err(refusal) => not_taken(screen, &refusal.to_string()),
    }
}

/// Asks for a reading again that was noted wrong.
pub(super) fn correct(job: &mut Job, screen: &mut Screen) -> anyhow::Result<()> {
    screen.line("  The reading is asked for again, and what was answered after it too.")?;
    let places: Vec<Place> = job.session.behind().into_iter().filter(|place| place.reading).collect();
    let Some((to, why)) = which(screen, &places, "which reading was noted wrong", "nothing was read yet")?
    else {
        return Ok(());
    };
    let by = job.by.clone();
    match job.does(|session, at| session.correct(to, by, &why, at))? {
        Ok(events) => job.happened(screen, &events),
        Err(refusal) => not_taken(screen, &refusal.to_string()),
    }
}

/// Another person goes on; the record has both names.
pub(super) fn hand_over(job: &mut Job, screen: &mut Screen) -> anyhow::Result<()> {
    let name = plain(&typed(screen, "  name of who goes on; Enter leaves it")?.unwrap_or_default());
    if name.is_empty() {
        return Ok(());
    }
    let (at, by) = (job.now()?, By { person: Some(name), device: job.by.device.clone() });
    job.journal.hand_over(&by, &at)?;
    job.by = by.clone();
    match job.does(|session, at| session.take_up(by, Taking::HandedOver, at))? {
        Ok(events) => job.happened(screen, &events),
        Err(refusal) => not_taken(screen, &refusal.to_string()),
    }
}

/// Which of these, and why; none where it is left.
fn which(
    screen: &mut Screen,
    places: &[Place],
    question: &str,
    none: &str,
) -> anyhow::Result<Option<(u64, String)>> {
    let offered: Vec<&Place> = places.iter().rev().take(OFFERED).collect();
    if offered.is_empty() {
        not_taken(screen, none)?;
        return Ok(None);
    }
    for (number, place) in (1..).zip(&offered) {
        for line in wrapped(&format!("    {number}  "), 7, &visible(&place.words)) {
            screen.line(&line)?;
        }
    }
    let line =
        typed(screen, &format!("  {question}, 1 to {}; Enter leaves it", offered.len()))?.unwrap_or_default();
    if line.trim().is_empty() {
        return Ok(None);
    }
    let number = line.trim().parse::<usize>().ok().and_then(|number| number.checked_sub(1));
    let Some(place) = number.and_then(|number| offered.get(number)) else {
        not_taken(screen, &format!("`{}` is none of these: nothing was changed", line.trim()))?;
        return Ok(None);
    };
    let why = typed(screen, "  why, in a few words")?.unwrap_or_default();
    Ok(Some((place.seq, why)))
}
