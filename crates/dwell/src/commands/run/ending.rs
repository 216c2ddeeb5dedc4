//! The end of a run: every reading as found and as left, what was said, what is open, and the result.

use super::telling::coloured;
use crate::drawing::visible;
use crate::screen::{Ink, Screen, Style, wrapped};
use dwell_record::Outcome;
use dwell_record::event::{Cannot, Signed};
use dwell_record::report::{Decided, Found, ReadingLine, Report};
use dwell_run::Session;

/// Shows the end.
pub(super) fn show(screen: &mut Screen, session: &Session) -> anyhow::Result<()> {
    let style = screen.style;
    let report = session.report();
    if !report.readings.is_empty() {
        screen.line(&format!("\n{}", style.ink(Ink::Bold, "Readings, as found and as left")))?;
        for line in &report.readings {
            reading(screen, line)?;
        }
    }
    let decided: Vec<String> = report.decided.iter().map(Decided::words).collect();
    list(screen, Ink::Bold, "Decided besides", &decided)?;
    let causes = report.causes.iter().map(|cause| match &cause.text {
        Some(text) => format!("{}: {text}", cause.item),
        None => cause.item.clone(),
    });
    list(screen, Ink::Bold, "Probable causes", &causes.collect::<Vec<_>>())?;
    let cannot: Vec<String> = report.cannot.iter().map(Cannot::words).collect();
    list(screen, Ink::Yellow, "Could not be done", &cannot)?;
    let lost: Vec<String> = report.lost.iter().map(|lost| lost.says.clone()).collect();
    list(screen, Ink::Yellow, "Not held", &lost)?;
    let signed: Vec<String> = report.signed.iter().map(Signed::words).collect();
    list(screen, Ink::Bold, "Signed", &signed)?;
    list(screen, Ink::Yellow, "In doubt", &report.doubts)?;
    list(screen, Ink::Bold, "What to do now", &report.told)?;
    let open = if report.result.is_some() { report.open.clone() } else { session.open() };
    list(screen, Ink::Red, "Still open: see to this before the vehicle is used", &open)?;
    screen.line(&format!("\n{}", result(style, &report)))?;
    Ok(())
}

fn reading(screen: &mut Screen, line: &ReadingLine) -> anyhow::Result<()> {
    screen.line(&format!("  {}", visible(&line.reading.words())))?;
    let once = line.measured <= 1 && line.as_found == line.as_left;
    if once {
        return found(screen, "found and left", &line.as_found);
    }
    found(screen, "as found", &line.as_found)?;
    found(screen, "as left", &line.as_left)
}

fn found(screen: &mut Screen, when: &str, found: &Found) -> anyhow::Result<()> {
    let style = screen.style;
    let words = found.words().unwrap_or_else(|| "not judged".to_owned());
    let value = if words == found.value { "" } else { found.value.as_str() };
    let side = match found.side {
        Some(side) => coloured(style, side, &format!("{words:<20}")),
        None => style.ink(Ink::Faint, &words),
    };
    let what = if found.adjusting { "set to" } else { "band" };
    let band = found.band.as_ref().map(|band| format!("{what} {}", visible(band))).unwrap_or_default();
    let text = format!("    {when:<15} {value:<12} {side} {}", style.ink(Ink::Faint, &band));
    screen.line(text.trim_end())?;
    if let Some(how) = &found.how {
        screen.line(&style.ink(Ink::Faint, &format!("      {}", visible(how))))?;
    }
    if let Some(uncertain) = &found.uncertain {
        let words = format!(
            "      with the tool's ± {}: {}, probability in band {}",
            uncertain.uncertainty,
            uncertain.verdict.words(),
            uncertain.conformance
        );
        screen.line(&style.ink(Ink::Faint, &words))?;
    }
    Ok(())
}

fn list(screen: &mut Screen, ink: Ink, title: &str, lines: &[String]) -> anyhow::Result<()> {
    if lines.is_empty() {
        return Ok(());
    }
    screen.line(&format!("\n{}", screen.style.ink(ink, title)))?;
    for line in lines {
        for part in wrapped("  - ", 4, &visible(line)) {
            screen.line(&part)?;
        }
    }
    Ok(())
}

/// The result in capitals, to be found at a glance.
fn result(style: Style, report: &Report) -> String {
    let ink = match report.result {
        Some(Outcome::Passed | Outcome::AdjustedAndPassed) => Ink::Green,
        Some(Outcome::Failed) => Ink::Red,
        Some(Outcome::Unfinished | Outcome::Referred) | None => Ink::Yellow,
    };
    let words = match report.result {
        Some(_) => visible(&report.result_words()),
        None => "UNFINISHED: interrupted before the procedure was over".to_owned(),
    };
    format!("Result: {}", style.ink(ink, &words))
}
