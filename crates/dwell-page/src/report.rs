//! The report of a job for a customer or a warranty file: one HTML page that is read on a screen and printed on A4 or letter.
//!
//! Everything in it stands in the record: no value is rounded anew, and a verdict has the words of the record.

mod course;
mod facts;
mod hands;
mod photos;
mod readings;

#[cfg(test)]
mod tests;

use crate::paper::{Paper, page};
use dwell_record::{Event, Hash, Report};
use maud::{Markup, html};

/// The style sheet of a report.
const STYLE: &str = include_str!("report.css");

/// A job, as a report is made of it.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// Its number, where it is kept in a store.
    pub number: Option<i64>,
    /// Its events, in their order.
    pub events: &'a [Event],
    /// The hash of its last line; none for a record of format 1.
    pub last: Option<&'a Hash>,
    /// The pictures of its photos, as far as they are at hand: their SHA-256 and their bytes.
    pub photos: &'a [(String, Vec<u8>)],
}

/// The report of a job as a page of its own.
pub fn report(job: &Job<'_>, paper: Paper) -> String {
    let sums = Report::of(job.events);
    let title = sums.begun.as_ref().map_or("A record without its beginning", |begun| begun.title.as_str());
    let body = html! {
        main.report {
            (facts::head(job, &sums))
            (facts::not_over(&sums))
            (hands::after_the_end(&sums))
            (readings::section(job, &sums))
            (readings::decided(&sums))
            (hands::attention(&sums))
            (course::before(job.events))
            (course::work(job.events))
            (hands::put_right(job.events))
            (hands::hands(job.events))
            (facts::tools(&sums))
            (photos::section(job))
            (hands::signed(&sums))
            (course::cautions(&sums))
            (facts::decided(&sums))
            (facts::verify(job))
            (facts::file())
        }
    };
    page(title, STYLE, &facts::foot(job, &sums), paper, &body)
}

/// A part with its heading, where there is something to say.
fn part(title: &str, lines: &[Markup]) -> Markup {
    html! {
        @if !lines.is_empty() {
            section.part {
                h2 { (title) }
                ul { @for line in lines { li { (line) } } }
            }
        }
    }
}

/// A moment for people: `2031-04-12 09:05`, with its distance from UTC where that is not nothing.
fn moment(at: &str) -> String {
    let start = at.get(..16).map(|start| start.replace('T', " "));
    let zone = at.find(['Z', '+']).or_else(|| at.get(11..)?.find('-').map(|place| place + 11));
    match (start, zone.and_then(|place| at.get(place..))) {
        (Some(start), Some("Z")) => format!("{start} UTC"),
        (Some(start), Some(zone)) => format!("{start} {zone}"),
        _ => at.to_owned(),
    }
}

/// The time of the day alone.
fn time(at: &str) -> &str {
    at.get(11..16).unwrap_or(at)
}
