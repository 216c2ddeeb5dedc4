//! A run at the terminal: one thing is asked at a time, and a line is read for it.

use super::Job;
use super::back::{back, correct, hand_over};
use super::by_itself;
use crate::commands::kept::lasted;
use crate::drawing::visible;
use crate::screen::{Ink, Screen, wrapped};
use anyhow::Context;
use dwell_record::event::{Doing, Taking};
use dwell_run::{Answer, Confirm, Keeping, Located, Prompt, Refusal, by_hand};
use std::io::{self, BufRead, IsTerminal, Read};

/// The longest line that is read as an answer, in bytes.
const LONGEST: u64 = 10_000;

/// How the asking ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Asked {
    /// The procedure is over.
    All,
    /// Nobody answers any more.
    Interrupted,
    /// A file's answer was refused, or is missing.
    Refused,
}

/// What was typed.
enum Typed {
    Answer(Answer),
    Stop,
    Cannot,
    Help,
    Back,
    Correct,
    HandOver,
    /// Nothing that answers this; the words say what would.
    Unclear(String),
}

/// Asks until the procedure is over or nobody answers.
pub(super) fn ask(job: &mut Job, screen: &mut Screen) -> anyhow::Result<Asked> {
    screen.line("")?;
    screen.line(
        &screen
            .style
            .ink(Ink::Faint, "? helps at any point, cannot asks why, stop puts everything back and ends."),
    )?;
    let mut shown: Option<usize> = None;
    let mut doubted: Option<Answer> = None;
    let mut short: Option<usize> = None;
    loop {
        let prompt = job.session.ask();
        if let Prompt::Done { .. } = prompt {
            return Ok(Asked::All);
        }
        let asked = job.session.events().len();
        if shown != Some(asked) {
            shown = Some(asked);
            let again = matches!(&prompt, Prompt::Reading(reading) if reading.round > 1);
            if let Some(node) = prompt.node()
                && !job.telling.heading(screen, node)?
                && !again
            {
                screen.line("")?;
            }
            show(screen, &prompt)?;
            kept(screen, &job.session.keeping())?;
            job.live.asked(&job.session);
        }
        let number = prompt.node().and_then(|node| job.line(node)).map(|number| format!("  {number}"));
        let by_itself =
            job.live.source().map(|source| format!(" (Enter: from {source})")).unwrap_or_default();
        let asks = format!("{}{}{by_itself}", number.unwrap_or_default(), question(&prompt));
        let Some(line) = typed(screen, &asks)? else {
            screen.line("")?;
            return Ok(Asked::Interrupted);
        };
        let line = match job.timed(&line) {
            Ok(answer) => answer,
            Err(words) => {
                not_taken(screen, &words)?;
                continue;
            }
        };
        let at = job.now()?;
        if let Some(seconds) = job.session.paused(&at) {
            let by = job.by.clone();
            let events = job.does(|session, at| session.take_up(by, Taking::GoneOn, at))??;
            job.happened(screen, &events)?;
            // On paper it was gone on with: what was answered counts, unless something else is asked first now.
            if job.is_on_paper() && job.session.ask().node() == prompt.node() {
                shown = Some(job.session.events().len());
            } else {
                let words = format!(
                    "nothing was answered for {}: look at this first, then answer again",
                    lasted(seconds)
                );
                not_taken(screen, &words)?;
                continue;
            }
        }
        if job.is_on_paper()
            && short.replace(asked) != Some(asked)
            && let Some(words) = too_short(&job.session, &prompt, &at)
        {
            not_taken(screen, &words)?;
            continue;
        }
        let held = !job.session.keeping().is_empty();
        let taken = doubted.take();
        if line.trim().is_empty() && job.live.source().is_some() {
            by_itself::take(job, screen)?;
            continue;
        }
        match understood(&prompt, line.trim(), held) {
            Typed::Answer(answer) => {
                // The same once more, after it was asked back: it is meant.
                let again = taken.as_ref() == Some(&answer);
                let given = if again { Answer::Kept(Box::new(answer.clone())) } else { answer.clone() };
                match job.does(|session, at| session.answer(given, at))? {
                    Ok(events) => {
                        job.journal.write(&events)?;
                        echo(screen, line.trim(), &answer)?;
                        job.telling.tell(screen, &events)?;
                    }
                    Err(refusal) => {
                        if matches!(refusal, Refusal::Doubtful { .. }) {
                            doubted = Some(answer);
                        }
                        not_taken(screen, &refusal.to_string())?;
                    }
                }
            }
            Typed::Cannot => cannot(job, screen)?,
            Typed::Stop => stop(job, screen)?,
            Typed::Back => back(job, screen)?,
            Typed::Correct => correct(job, screen)?,
            Typed::HandOver => hand_over(job, screen)?,
            Typed::Help => help(job, screen, &prompt)?,
            Typed::Unclear(words) => not_taken(screen, &words)?,
        }
    }
}

/// A wait that was shorter than it is asked for, by the times of a sheet; asked back once.
fn too_short(session: &dwell_run::Session, prompt: &Prompt, at: &str) -> Option<String> {
    let Prompt::Confirm(Confirm { doing: Doing::Wait, seconds: Some(seconds), .. }) = prompt else {
        return None;
    };
    let from = session.counts_from().or_else(|| session.events().last().map(|event| event.at.as_str()))?;
    let passed = dwell_record::seconds_between(from, at)?;
    (dwell_quantity::Exact::whole(i64::try_from(passed).ok()?) < seconds.0).then(|| {
        format!(
            "by the sheet only {} passed: read its times again; where it stands there so, type it once more",
            if passed == 0 { "no time".to_owned() } else { lasted(passed) }
        )
    })
}

/// Shows what is asked, all but the line in which the answer is typed.
fn show(screen: &mut Screen, prompt: &Prompt) -> anyhow::Result<()> {
    let mut lines = Vec::new();
    match prompt {
        Prompt::Confirm(confirm) => {
            lines.extend(wrapped("  ", 2, &confirm.says));
            lines.extend(confirm.text.iter().flat_map(|text| wrapped("    ", 4, text)));
            lines.extend(where_it_is(&confirm.located));
            let tools = if confirm.tools.is_empty() {
                String::new()
            } else {
                format!(" with the {}", confirm.tools.join(" and the "))
            };
            let untold = confirm.band.iter().filter(|band| !confirm.says.contains(band.as_str()));
            lines.extend(untold.map(|band| format!("    to {band}{tools}")));
            let with_adapter =
                confirm.setting.iter().map(|set| format!("    with the adapter, set to {set}"));
            lines.extend(with_adapter);
            lines.extend(confirm.condition.iter().flat_map(|condition| wrapped("    ", 4, condition)));
        }
        Prompt::Need { says, located, .. } => {
            lines.extend(wrapped("  ", 2, says));
            lines.extend(where_it_is(located));
        }
        Prompt::Reading(reading) if reading.round <= 1 => {
            lines.extend(wrapped("  ", 2, &reading.says));
            lines.extend(reading.text.iter().flat_map(|text| wrapped("    ", 4, text)));
            lines.extend(reading.bands.iter().map(|band| format!("    {}", named(band))));
            lines.extend(reading.signs.iter().flat_map(|signs| wrapped("    ", 4, signs)));
            lines.extend(reading.conditions.iter().flat_map(|condition| wrapped("    ", 4, condition)));
            if let Some(sampled) = &reading.sampled {
                lines.extend(wrapped("    ", 4, &sampled.how(reading.unit.symbol())));
            }
        }
        Prompt::Sign(sign) if sign.person <= 1 => {
            let who = if sign.of > 1 { "two persons sign" } else { "to be signed" };
            lines.extend(wrapped("  ", 2, &format!("{}: {who}.", sign.title)));
        }
        Prompt::Reading(_) | Prompt::Sign(_) | Prompt::Done { .. } => {}
        Prompt::Question(question) => {
            lines.extend(wrapped("  ", 2, &question.text));
            lines.extend((1..).zip(&question.values).map(|(number, value)| format!("    {number}  {value}")));
        }
    }
    for line in lines {
        screen.line(&visible(&line))?;
    }
    Ok(())
}

/// Where things are that are touched for the first time, a line each.
fn where_it_is(located: &[Located]) -> Vec<String> {
    located.iter().flat_map(|thing| wrapped("    ", 6, &format!("{}: {}", thing.label, thing.at))).collect()
}

/// Shows what is to be held while this is done.
fn kept(screen: &mut Screen, keeping: &[Keeping]) -> anyhow::Result<()> {
    for held in keeping {
        let words = format!("meanwhile: {} Type lost if it does not.", held.says);
        for line in wrapped("    ", 4, &visible(&words)) {
            screen.line(&screen.style.ink(Ink::Faint, &line))?;
        }
    }
    Ok(())
}

/// A band with the word that says what it is.
fn named(band: &str) -> String {
    if band.starts_with("set to") { band.to_owned() } else { format!("band {band}") }
}

/// What stands before the answer.
fn question(prompt: &Prompt) -> String {
    match prompt {
        Prompt::Confirm(confirm) => match confirm.doing {
            Doing::Work => "  Enter when it is done".to_owned(),
            Doing::Wait => "  Enter when the time is over".to_owned(),
            Doing::Note => "  Enter when you have read it".to_owned(),
        },
        Prompt::Need { .. } => "  yes or no".to_owned(),
        Prompt::Reading(reading) => {
            let name = match &reading.place {
                Some(place) => format!("{}, {}", reading.name, place).replace('-', " "),
                None => reading.name.replace('-', " "),
            };
            let round = if reading.of > 1 {
                format!(" ({} of {})", reading.round, reading.of)
            } else {
                String::new()
            };
            let unit = reading.unit.symbol();
            let unit = if unit.is_empty() { String::new() } else { format!(" in {unit}") };
            format!("  {name}{round}{unit}")
        }
        Prompt::Question(_) => "  answer".to_owned(),
        Prompt::Sign(sign) if sign.person > 1 => "  name of the second person".to_owned(),
        Prompt::Sign(_) => "  name".to_owned(),
        Prompt::Done { .. } => String::new(),
    }
}

/// Reads a line; none at the end of input.
pub(crate) fn typed(screen: &mut Screen, question: &str) -> anyhow::Result<Option<String>> {
    screen.write(&format!("{} ", screen.style.ink(Ink::Blue, &format!("{}:", visible(question)))))?;
    screen.flush()?;
    if screen.is_gone() {
        return Ok(None);
    }
    let mut bytes = Vec::new();
    let count = io::stdin()
        .lock()
        .take(LONGEST)
        .read_until(b'\n', &mut bytes)
        .context("cannot read what is typed")?;
    if count == 0 {
        return Ok(None);
    }
    let line = String::from_utf8_lossy(&bytes).trim_end_matches(['\r', '\n']).to_owned();
    if !io::stdin().is_terminal() {
        screen.line(&visible(&line))?;
    }
    Ok(Some(line))
}

/// What a line means as an answer to this. An answer of the question itself comes before any word of ours.
fn understood(prompt: &Prompt, line: &str, held: bool) -> Typed {
    if let Prompt::Question(question) = prompt {
        let by_number =
            line.parse::<usize>().ok().and_then(|number| question.values.get(number.checked_sub(1)?));
        if let Some(value) = question.values.iter().find(|value| *value == line).or(by_number) {
            return Typed::Answer(Answer::Choice(value.clone()));
        }
    }
    let word = line.to_lowercase();
    match (word.as_str(), prompt) {
        ("stop", _) => Typed::Stop,
        ("cannot", _) => Typed::Cannot,
        ("lost", _) if held => Typed::Answer(Answer::Lost),
        ("?" | "help", _) => Typed::Help,
        ("back", _) => Typed::Back,
        ("correct", _) => Typed::Correct,
        ("hand over", _) => Typed::HandOver,
        ("" | "done" | "ok" | "yes" | "y", Prompt::Confirm(_)) => Typed::Answer(Answer::Done),
        ("yes" | "y", Prompt::Need { .. }) => Typed::Answer(Answer::Yes),
        ("no" | "n", Prompt::Need { .. }) => Typed::Answer(Answer::No),
        ("none" | "no reading" | "not readable", Prompt::Reading(_)) => Typed::Answer(Answer::NoReading),
        ("", _) => Typed::Unclear(format!("nothing was typed: give {}", prompt.wants())),
        (_, Prompt::Confirm(_)) => Typed::Unclear("press Enter when it is done, or type stop".to_owned()),
        (_, Prompt::Reading(reading)) => {
            let unit = reading.unit.symbol();
            match by_hand(line, reading.decimals) {
                Ok(text) => {
                    Typed::Answer(Answer::Value { text, unit: (!unit.is_empty()).then(|| unit.to_owned()) })
                }
                Err(refusal) => Typed::Unclear(refusal.to_string()),
            }
        }
        (_, Prompt::Sign(_)) => Typed::Answer(Answer::Signature(line.to_owned())),
        (_, Prompt::Question(_)) => Typed::Answer(Answer::Choice(line.to_owned())),
        _ => Typed::Unclear(format!("`{line}` does not answer this: give {}", prompt.wants())),
    }
}

pub(super) fn not_taken(screen: &mut Screen, words: &str) -> anyhow::Result<()> {
    for line in wrapped("  ! ", 4, &visible(words)) {
        screen.line(&screen.style.ink(Ink::Yellow, &line))?;
    }
    Ok(())
}

/// Shows a value as it was understood, where that is not letter by letter what was typed.
fn echo(screen: &mut Screen, line: &str, answer: &Answer) -> anyhow::Result<()> {
    if let Answer::Value { text, unit } = answer
        && text != line
    {
        let unit = unit.as_deref().filter(|_| !text.ends_with(char::is_alphabetic)).unwrap_or_default();
        let words = format!("    taken as {text} {unit}");
        screen.line(&screen.style.ink(Ink::Faint, &visible(words.trim_end())))?;
    }
    Ok(())
}

/// What is asked cannot be done: the reason is asked for, and the job goes on to what is put back.
fn cannot(job: &mut Job, screen: &mut Screen) -> anyhow::Result<()> {
    let why = typed(screen, "  because")?.unwrap_or_default();
    match job.does(|session, at| session.answer(Answer::Cannot(why), at))? {
        Ok(events) => {
            job.journal.write(&events)?;
            job.telling.tell(screen, &events)
        }
        Err(refusal) => not_taken(screen, &refusal.to_string()),
    }
}

fn stop(job: &mut Job, screen: &mut Screen) -> anyhow::Result<()> {
    let why = typed(screen, "  why, in a few words")?.unwrap_or_default();
    let why = if why.trim().is_empty() { "stopped at the vehicle" } else { why.trim() };
    let events = job.does(|session, at| session.stop(why, at))??;
    job.happened(screen, &events)
}

fn help(job: &Job, screen: &mut Screen, prompt: &Prompt) -> anyhow::Result<()> {
    let mut sentences = vec![format!("Wanted now: {}.", prompt.wants())];
    let mut say = |words: &str| sentences.push(words.to_owned());
    if let Prompt::Reading(reading) = prompt {
        say(
            "A bare number is taken in the unit that is asked for; another unit of the same kind can be typed with it.",
        );
        say("`none` where nothing can be read, `above 1000` at the end of a range.");
        if reading.sampled.is_some() {
            say(
                "All values come in one line. A value with a blank in it, or one that could not be read, needs \
                 semicolons between: `2 1/4; 2 3/8; no reading`.",
            );
        }
        if !reading.bands.is_empty() {
            let bands: Vec<String> = reading.bands.iter().map(|band| named(band)).collect();
            say(&format!("It is held against: {}.", bands.join("; ")));
        }
    }
    say("`cannot` where it cannot be done: you are asked why, and what is owed is put back.");
    say("`stop` ends the job: what is owed is put back, and the result is unfinished.");
    say(
        "`back` opens an earlier answer again, `correct` a reading that was noted wrong, `hand over` gives the job to \
         another person.",
    );
    for held in job.session.keeping() {
        say(&format!("{} `lost` where that does not hold any more.", held.says));
    }
    let open = job.session.open();
    say(if open.is_empty() { "Nothing is open just now." } else { "Open just now:" });
    let sentences = sentences.iter().map(|words| wrapped("  ", 4, &visible(words)));
    let open = open.iter().map(|item| wrapped("    - ", 6, &visible(item)));
    for line in sentences.chain(open).flatten() {
        screen.line(&line)?;
    }
    Ok(())
}
