//! A reading that comes by itself, on the screen: what its source shows, and the samples of a measurement while they come.

use super::super::Job;
use super::bar::bar;
use super::desk::{Desk, Wish};
use super::digits::big;
use super::rows::{Row, inked, plain, told};
use super::view::Look;
use crate::screen::Ink;
use dwell_card::meaning::Value;
use dwell_live::{Series, Shown};
use dwell_quantity::{Band, Exact, Place, from_base};
use dwell_record::{Event, Side};
use dwell_run::{Answer, ReadingPrompt, Refusal, typed_value};
use std::collections::VecDeque;

/// What comes by itself while a reading is asked for.
#[derive(Debug, Default)]
pub(super) struct Source {
    series: Option<Series>,
    /// Answers of a measurement that are still to be given, one for each reading.
    waiting: VecDeque<Answer>,
}

impl Source {
    /// Looks at what has come; an answer where one is to be given now.
    pub(super) fn look(&mut self, job: &mut Job, desk: &mut Desk) -> Option<Answer> {
        job.live.asked(&job.session);
        desk.live = job.live.shown();
        if let Some(series) = &mut self.series {
            series.look(&job.session);
            desk.measuring = Some(series.words());
            if series.is_over() {
                self.end(job, desk);
            }
        }
        // While a value is asked back, the others wait.
        if desk.asks_back() { None } else { self.waiting.pop_front() }
    }

    /// Enter: the value that is shown, or the beginning of a measurement, or its end.
    pub(super) fn take(&mut self, job: &mut Job, desk: &mut Desk) -> Option<Answer> {
        let by = job.live.source()?.to_owned();
        match &self.series {
            Some(series) if series.may_end() => self.end(job, desk),
            Some(_) => desk.message = Some("it ends by itself; Esc stops the job".to_owned()),
            None => match job.live.series(&job.session) {
                Some(series) => {
                    desk.message = None;
                    self.series = Some(series);
                }
                None => match job.live.value() {
                    Ok(answer) => return Some(Answer::Shown { by, answer: Box::new(answer) }),
                    Err(words) => desk.message = Some(words),
                },
            },
        }
        None
    }

    /// Something else was answered: what was begun is let go.
    pub(super) fn forget(&mut self, job: &mut Job, desk: &mut Desk) {
        if self.series.take().is_some() {
            job.live.series_over(&job.session);
        }
        self.waiting.clear();
        desk.measuring = None;
    }

    fn end(&mut self, job: &mut Job, desk: &mut Desk) {
        desk.measuring = None;
        let Some(series) = self.series.take() else { return };
        let by = series.name().to_owned();
        match series.answers() {
            Ok(answers) => {
                let shown = |answer| Answer::Shown { by: by.clone(), answer: Box::new(answer) };
                self.waiting = answers.into_iter().map(shown).collect();
            }
            Err(words) => desk.message = Some(words),
        }
        drop(series);
        job.live.series_over(&job.session);
    }

    /// Gives an answer that came by itself; what came of it is shown.
    pub(super) fn give(
        &mut self,
        job: &mut Job,
        desk: &mut Desk,
        answer: Answer,
        at: &str,
    ) -> anyhow::Result<()> {
        let came: Result<Vec<Event>, Refusal> = job.session.answer(answer.clone(), at);
        match &came {
            Ok(events) => job.journal.write(events)?,
            Err(Refusal::Doubtful { .. }) => {}
            Err(_) => self.forget(job, desk),
        }
        desk.came(&Wish::Answer(answer), came, &job.session);
        Ok(())
    }
}

/// What a source shows, where nothing is typed: the value as large as there is room for, and how old it is.
pub(super) fn rows(desk: &Desk, reading: &ReadingPrompt, look: Look) -> Vec<Row> {
    let Some(shown) = desk.live.as_ref().filter(|_| desk.typed.is_empty()) else { return Vec::new() };
    if let Some(words) = &desk.measuring {
        let mut rows = told(Some(Ink::Blue), "", &format!("measuring with {}:", shown.name), look.width);
        rows.extend(told(Some(Ink::Bold), "  ", words, look.width));
        return rows;
    }
    let begins = if reading.sampled.is_some() { "; Enter begins to measure" } else { "; Enter takes it" };
    let mut rows = told(Some(Ink::Blue), "", &format!("{} shows{begins}:", shown.name), look.width);
    match &shown.value {
        Some((text, unit)) => {
            let side =
                point(shown, reading).map(|(_, side)| format!("  {}", side.words(None))).unwrap_or_default();
            let age = if shown.age >= 2 { format!(", {} s ago", shown.age) } else { String::new() };
            match big(text, look.width.saturating_sub(24), look.ascii).filter(|_| look.roomy) {
                Some(digits) => {
                    let last = digits.len().saturating_sub(1);
                    rows.extend(digits.into_iter().enumerate().map(|(place, row)| {
                        let behind =
                            if place == last { format!(" {unit}{side}{age}") } else { String::new() };
                        vec![inked(Ink::Bold, &format!("  {row}{behind}"))]
                    }));
                }
                None => rows.push(vec![inked(Ink::Bold, &format!("  {text} {unit}{side}{age}"))]),
            }
        }
        None => rows.push(vec![plain("  nothing yet")]),
    }
    rows.extend(shown.fault.iter().flat_map(|fault| told(Some(Ink::Yellow), "! ", fault, look.width)));
    rows
}

/// The bar of a reading, with what its source shows on it.
pub(super) fn drawn(desk: &Desk, reading: &ReadingPrompt, band: &Band, width: usize, ascii: bool) -> String {
    let point = desk.live.as_ref().and_then(|shown| point(shown, reading));
    bar(band, point.as_ref().map(|(value, side)| (value, *side)), width, ascii)
}

/// What a source shows in the unit asked for, and on which side of the first band it lies.
fn point(shown: &Shown, reading: &ReadingPrompt) -> Option<(Exact, Side)> {
    let (text, unit) = shown.value.as_ref().filter(|_| shown.fault.is_none())?;
    let Value::Read(band) = typed_value(text, unit, reading.kind)? else { return None };
    let value = band.low.as_ref().filter(|low| band.high.as_ref() == Some(*low))?.value.clone();
    let side = match reading.held.first()?.band.place(&band) {
        Place::In => Side::In,
        Place::Low(_) => Side::Low,
        Place::High(_) => Side::High,
        Place::Undecided => return None,
    };
    Some((from_base(&value, reading.unit, reading.kind), side))
}
