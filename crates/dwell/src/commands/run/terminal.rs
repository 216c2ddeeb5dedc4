//! A run on the whole screen of a terminal: one thing is asked at a time, and what is open is always in sight.

mod bar;
mod came;
mod clock;
mod desk;
mod digits;
mod draw;
mod field;
mod guard;
mod rows;
mod source;
mod view;

#[cfg(test)]
mod tests;

use super::asking::Asked;
use super::{Job, now};
use crate::commands::kept::plain;
use clock::Clock;
use desk::{Desk, Wish};
use dwell_record::event::{By, Taking};
use dwell_run::{Answer, Prompt};
use guard::Guard;
pub(crate) use guard::give_back;
use ratatui::crossterm::event::{self, Event, KeyEventKind};
use source::Source;
use std::io::{Write, stdout};
use std::time::Duration;
use time::OffsetDateTime;
use view::Look;

/// How often the screen is looked at anew, for the clock of a wait and for signals.
const LOOK: Duration = Duration::from_millis(200);

/// Asks until the procedure is over or nobody answers. `colour` and `ascii` say how it is drawn.
pub(super) fn ask(job: &mut Job, colour: bool, ascii: bool) -> anyhow::Result<Asked> {
    let ascii = ascii || is_bare_locale();
    let mut guard = Guard::take()?;
    let mut desk = Desk::new(job.session.card().clone(), job.session.events());
    let mut rung: Option<Clock> = None;
    let mut source = Source::default();
    loop {
        #[cfg(debug_assertions)]
        falls_over(&desk);
        if let Prompt::Done { .. } = job.session.ask() {
            return Ok(Asked::All);
        }
        if guard.is_ended() {
            return Ok(Asked::Interrupted);
        }
        guard.if_woken()?;
        if let Some(answer) = source.look(job, &mut desk) {
            source.give(job, &mut desk, answer, &now()?)?;
            continue;
        }
        let clock = OffsetDateTime::now_utc();
        let waiting = Clock::of(&job.session);
        if let Some(over) = waiting.filter(|waiting| waiting.left(clock) == 0 && rung != Some(*waiting)) {
            // The alarm: once for each wait.
            rung = Some(over);
            let _ = stdout().write_all(b"\x07");
            let _ = stdout().flush();
        }
        let drawn = guard.terminal.draw(|frame| {
            let area = frame.area();
            let look = Look::new(usize::from(area.width), usize::from(area.height), ascii);
            let page = view::page(&desk, &job.session, clock, look);
            let seen = draw::draw(&page, desk.scrolled, colour, ascii, frame.buffer_mut());
            desk.was_drawn(seen);
        });
        if drawn.is_err() {
            // The terminal is gone; what was answered is in the record.
            return Ok(Asked::Interrupted);
        }
        let Ok(key) = next_key() else { return Ok(Asked::Interrupted) };
        let Some(key) = key else { continue };
        let waits = waiting.is_some_and(|waiting| waiting.left(OffsetDateTime::now_utc()) > 0);
        let wish = desk.key(key, &job.session, waits);
        let at = now()?;
        let answers = matches!(wish, Wish::Answer(_));
        if answers && job.session.paused(&at).is_some() {
            // After so long an interruption it is seen first what is open and what has run out.
            let events = job.session.take_up(job.by.clone(), Taking::GoneOn, &at)?;
            job.journal.write(&events)?;
            desk.was_interrupted(events);
            continue;
        }
        let came = match &wish {
            Wish::Look => continue,
            Wish::Live => {
                if let Some(answer) = source.take(job, &mut desk) {
                    source.give(job, &mut desk, answer, &at)?;
                }
                continue;
            }
            Wish::Suspend => {
                guard.suspend()?;
                continue;
            }
            Wish::Answer(answer) => job.session.answer(answer.clone(), &at),
            Wish::Stop(why) => job.session.stop(why, &at),
            Wish::Correct(to, why) => job.session.correct(*to, job.by.clone(), why, &at),
            Wish::HandOver(name) => {
                let by = By { person: Some(plain(name)), device: job.by.device.clone() };
                job.journal.hand_over(&by, &at)?;
                job.by = by.clone();
                job.session.take_up(by, Taking::HandedOver, &at)
            }
            Wish::Back(to, why) => job.session.go_back(*to, job.by.clone(), why, &at),
        };
        if let Ok(events) = &came {
            job.journal.write(events)?;
            // Of a measurement of several readings the others are still to be given, where one was only asked back.
            if !matches!(wish, Wish::Answer(Answer::Shown { .. })) {
                source.forget(job, &mut desk);
            }
        }
        desk.came(&wish, came, &job.session);
    }
}

/// Whether the locale is the one without letters beyond ASCII.
fn is_bare_locale() -> bool {
    let named = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().filter_map(|name| std::env::var(name).ok());
    named
        .into_iter()
        .find(|locale| !locale.is_empty())
        .is_some_and(|locale| matches!(locale.as_str(), "C" | "POSIX"))
}

/// A fault inside the program, for the test that the terminal is given back after one; in no released program.
#[cfg(debug_assertions)]
#[expect(clippy::panic, reason = "that is what it is for")]
fn falls_over(desk: &Desk) {
    if std::env::var_os("DWELL_FALLS_OVER").is_some_and(|typed| typed.to_string_lossy() == desk.typed) {
        panic!("asked for by DWELL_FALLS_OVER");
    }
}

/// The next key that is pressed; none where nothing happened for a while, or only the size has changed.
fn next_key() -> std::io::Result<Option<event::KeyEvent>> {
    if !event::poll(LOOK)? {
        return Ok(None);
    }
    Ok(match event::read()? {
        Event::Key(key) if key.kind != KeyEventKind::Release => Some(key),
        _ => None,
    })
}
