//! The first page: the jobs that are open, and the cards that can be begun.

use super::framed;
use crate::bay::Offered;
use dwell_store::Job;
use maud::{Markup, html};

/// The page.
pub(crate) fn page(cards: &[Offered], unread: &[String], jobs: &[Job]) -> Markup {
    framed(
        "The bay",
        html! {
            main.plain {
                h1 { "The bay" }
                ul.jobs { @for job in jobs.iter().filter(|job| job.result.is_none()) { li { (job.title) } } }
                ul.cards { @for offered in cards { li { (offered.card.title) } } }
                @for words in unread { p.note { (words) } }
            }
        },
    )
}
