//! The first page: the jobs that are open, and the cards that can be begun.

use crate::bay::Offered;
use crate::clock::{day, moment, now};
use dwell_store::Job;
use maud::{Markup, html};

/// The page.
pub(crate) fn index(cards: &[Offered], unread: &[String], jobs: &[Job]) -> Markup {
    let open: Vec<&Job> = jobs.iter().rev().filter(|job| job.result.is_none()).collect();
    let over: Vec<&Job> = jobs.iter().rev().filter(|job| job.result.is_some()).take(10).collect();
    html! {
        main.plain {
            h1 { "Jobs in the bay" }
            h2 { "Open jobs" }
            @if open.is_empty() { p { "No job is open." } }
            ul.rows { @for job in open { (row(job)) } }
            h2 { "Begin a job" }
            ul.rows { @for offered in cards { (card(offered)) } }
            @if !unread.is_empty() {
                h2 { "Not offered" }
                ul.notes { @for words in unread { li { (words) } } }
            }
            @if !over.is_empty() {
                h2 { "Over, the last ones" }
                ul.rows { @for job in over { (row(job)) } }
            }
        }
    }
}

fn row(job: &Job) -> Markup {
    let state = match (&job.result, &job.held) {
        (Some(result), _) => result.clone(),
        (None, Some(held)) => format!("in hand: {}", held.by),
        (None, None) => "nobody has it in hand".to_owned(),
    };
    html! {
        li {
            a.row href=(format!("/job/{}", job.number)) {
                strong { (job.title) }
                span { "job " (job.number) @if let Some(vehicle) = &job.vehicle { ", vehicle " (vehicle) } }
                span { (state) ", last event " (moment(&job.last)) }
            }
        }
    }
}

fn card(offered: &Offered) -> Markup {
    let card = &offered.card;
    let revision = card.revision.as_ref().map(|r| format!("revision {} of {}", r.number, r.date));
    let at = now();
    let out = card.withdrawn.as_ref().filter(|known| known.by(day(&at)));
    html! {
        li {
            @match out {
                Some(known) => div.row.out {
                    strong { (card.title) }
                    span { "⊘ WITHDRAWN from " (known.on) " on: " (known.why) }
                },
                None => a.row href=(format!("/begin/{}", offered.sha256)) {
                    strong { (card.title) }
                    @if let Some(revision) = revision { span { (revision) } }
                    @if let Some(known) = &card.withdrawn { span { "will be withdrawn on " (known.on) ": " (known.why) } }
                },
            }
        }
    }
}
