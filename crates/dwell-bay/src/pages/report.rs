//! The report of a job, as every other way of showing it has it, and the way to the one that is printed.

use crate::job::Look;
use maud::{Markup, html};

/// The page.
pub(crate) fn report(look: &Look) -> Markup {
    html! {
        main.plain {
            h1 { "Report of job " (look.number) }
            // It is set in 80 columns: it can be gone through by keys where it is wider than the screen.
            pre.report tabindex="0" role="region" aria-label="Report" { (look.session.report()) }
            div.buttons {
                a.button href=(format!("/job/{}/report.html", look.number)) { "To print or to keep, A4" }
                a.button href=(format!("/job/{}/report.html?paper=letter", look.number)) { "The same on letter" }
            }
            div.buttons { a.button.strong href=(format!("/job/{}", look.number)) { "Back to the job" } a.button href="/" { "All jobs" } }
        }
    }
}
