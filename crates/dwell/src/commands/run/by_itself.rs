//! A reading that an instrument or a file gives, taken line by line: it is shown, and asked back where it looks like a slip.

use super::asking::{not_taken, typed};
use super::{Job, now};
use crate::drawing::visible;
use crate::screen::Screen;
use dwell_run::{Answer, Refusal};
use std::thread;
use std::time::{Duration, Instant};

/// How often it is looked whether a measurement is over.
const LOOK: Duration = Duration::from_millis(20);
/// How often it is told how a measurement stands.
const TELL: Duration = Duration::from_secs(5);

/// Takes what is asked for from where it comes by itself: one value, or all samples of a measurement.
pub(super) fn take(job: &mut Job, screen: &mut Screen) -> anyhow::Result<()> {
    let by = job.live.source().unwrap_or_default().to_owned();
    let answers = match job.live.series(&job.session) {
        Some(mut series) => {
            let mut told = Instant::now();
            while !(series.is_over() || series.may_end()) {
                thread::sleep(LOOK);
                series.look(&job.session);
                if told.elapsed() >= TELL {
                    told = Instant::now();
                    screen.line(&visible(&format!("    {}", series.words())))?;
                    screen.flush()?;
                }
            }
            let words = series.words();
            screen.line(&visible(&format!("    {words}")))?;
            let answers = series.answers();
            drop(series);
            job.live.series_over(&job.session);
            answers
        }
        None => job.live.value().map(|answer| vec![answer]),
    };
    let answers = match answers {
        Ok(answers) => answers,
        Err(words) => return not_taken(screen, &words),
    };
    for answer in answers {
        if !given(job, screen, &by, answer)? {
            break;
        }
    }
    Ok(())
}

/// Gives one answer; whether it was taken.
fn given(job: &mut Job, screen: &mut Screen, by: &str, answer: Answer) -> anyhow::Result<bool> {
    if let Answer::Value { text, unit } = &answer {
        let words = format!("    {by} shows {text} {}", unit.as_deref().unwrap_or_default());
        screen.line(&visible(words.trim_end()))?;
    }
    let shown = |answer: Answer| Answer::Shown { by: by.to_owned(), answer: Box::new(answer) };
    let mut came = job.session.answer(shown(answer.clone()), &now()?);
    if let Err(refusal @ Refusal::Doubtful { .. }) = &came {
        not_taken(screen, &refusal.to_string())?;
        let line = typed(screen, "  yes keeps it as it is; Enter: not taken")?.unwrap_or_default();
        if matches!(line.trim().to_lowercase().as_str(), "yes" | "y") {
            came = job.session.answer(shown(Answer::Kept(Box::new(answer))), &now()?);
        } else {
            return Ok(false);
        }
    }
    match came {
        Ok(events) => {
            job.happened(screen, &events)?;
            Ok(true)
        }
        Err(refusal) => {
            not_taken(screen, &refusal.to_string())?;
            Ok(false)
        }
    }
}
