//! Each event in one line of words, for lists of what happened.

use super::{Chosen, Done, Ended, Event, Judged, Sample, Sampled, SeriesTaken, What};
use crate::word::Outcome;

impl Event {
    /// What happened, in one line: `tension: 54.6 Hz (mean of 2)`.
    pub fn words(&self) -> String {
        match &self.what {
            What::Begun(begun) => {
                let who = if begun.by.is_unknown() { String::new() } else { format!(", by {}", begun.by) };
                format!("begun: {}{who}", begun.procedure)
            }
            What::NoticeShown(words) => format!("notice shown: {}", words.text),
            What::Opened(procedure) => format!("procedure: {}", procedure.procedure),
            What::StepBegun(step) => format!("step: {}", step.title),
            What::CautionShown(caution) => format!("{}: {}", caution.level, caution.text),
            What::Keeping(words) | What::Released(words) => words.text.clone(),
            What::Lost(lost) => lost.words(),
            What::NeedAnswered(need) => {
                let answer = if need.holds { "yes" } else { "no" };
                let known = if need.asked { "" } else { " (known, not asked)" };
                format!("{}: {answer}{known}", need.says.trim_end_matches('.'))
            }
            What::Done(done) => self::done(done),
            What::Sampled(sampled) => one_of_several(sampled),
            What::SeriesTaken(series) => all_of_a_series(series),
            What::Measured(measured) => {
                let how = measured.how().map(|how| format!(" ({how})")).unwrap_or_default();
                format!("{}: {}{how}", measured.reading.words(), measured.shown)
            }
            What::Judged(judged) => self::judged(judged),
            What::Chosen(chosen) => self::chosen(chosen),
            What::Answered(answered) => format!("{} {}", answered.text, answered.answer),
            What::Signed(signed) => format!("signed: {}", signed.words()),
            What::Cause(cause) => match &cause.text {
                Some(text) => format!("probable cause: {}: {text}", cause.item),
                None => format!("probable cause: {}", cause.item),
            },
            What::Doubt(words) => format!("in doubt: {}", words.text),
            What::Ended(ended) => self::ended(ended),
            What::Cannot(cannot) => format!("cannot: {}", cannot.words()),
            What::Stopped(why) => format!("STOP: {}", why.text),
            What::TakenUp(taken) => {
                let expired: String = taken.expired.iter().map(|what| format!("; run out: {what}")).collect();
                format!("{}{expired}", taken.words())
            }
            What::WentBack(back) => format!("{} went back to event {}: {}", back.by.who(), back.to, back.why),
            What::Corrected(wrong) => format!(
                "{} put right the {}, noted as {}: {}",
                wrong.by.who(),
                wrong.reading.words(),
                wrong.was,
                wrong.why
            ),
            What::PutRight(right) => right.words(),
            What::ToolTaken(taken) => taken.words(),
            What::FromPaper(paper) => format!("from paper, typed in by {} at {}", paper.by, paper.at),
            What::PhotoTaken(photo) => photo.words(),
            What::Closed(closed) => format!("{}: {}", closed.procedure, closed.result),
            What::Finished(finished) => format!("finished: {}", finished.result),
        }
    }
}

impl Sample {
    /// `62.3 Hz`, `no reading`.
    pub fn words(&self) -> String {
        match self {
            Sample::Typed { text, unit, .. } => format!("{text} {unit}").trim_end().to_owned(),
            Sample::NoReading => "no reading".to_owned(),
        }
    }
}

fn done(done: &Done) -> String {
    let more = [&done.text, &done.band, &done.setting];
    more.into_iter().flatten().fold(done.says.clone(), |all, more| format!("{all} {more}"))
}

fn one_of_several(sampled: &Sampled) -> String {
    format!("{}, {} of {}: {}", sampled.reading.words(), sampled.round, sampled.of, sampled.sample.words())
}

fn all_of_a_series(series: &SeriesTaken) -> String {
    let all: Vec<String> = series.samples.iter().map(Sample::words).collect();
    format!("{}: {}", series.reading.words(), all.join(", "))
}

fn judged(judged: &Judged) -> String {
    let one = |test: &super::Tested| {
        let name = test.reading.as_ref().map_or_else(|| test.name.clone(), |reading| reading.words());
        let band = test.guarded.as_ref().or(test.band.as_ref());
        let what = if judged.adjusting { "set to" } else { "band" };
        let band = band.map(|band| format!(" ({what} {band})")).unwrap_or_default();
        format!("{name} {}{band}", test.words())
    };
    judged.tests.iter().map(one).collect::<Vec<_>>().join("; ")
}

fn chosen(chosen: &Chosen) -> String {
    format!("{}: {} (nearest to {})", chosen.reading.words(), chosen.shown, chosen.wanted)
}

fn ended(ended: &Ended) -> String {
    let word = match ended.outcome {
        Outcome::Referred => format!("go on with {}", ended.refer.as_deref().unwrap_or("another procedure")),
        other => other.words().to_owned(),
    };
    ended.text.as_ref().map_or_else(|| word.clone(), |text| format!("{word}: {text}"))
}
