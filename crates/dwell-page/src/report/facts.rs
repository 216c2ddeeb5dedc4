//! The plain facts of a job: what, at which vehicle, by which card, how it was decided, how it is verified.

use super::{Job, moment};
use crate::parts::result;
use crate::words::{plain, upper_first};
use dwell_record::event::{Begun, ToolTaken};
use dwell_record::{Outcome, Report};
use maud::{Markup, html};

/// How many digits of a hash tell two cards apart for a person.
const SHORT: usize = 12;

/// What stands at the foot of every sheet.
pub(super) fn foot(job: &Job<'_>, sums: &Report) -> String {
    let number = job.number.map(|number| format!("job {number}, "));
    let begun = sums.begun.as_ref();
    let vehicle =
        begun.and_then(|begun| begun.vehicle.as_ref()).map(|vehicle| format!("{}, ", vehicle.number));
    let card = begun.map(|begun| format!("{}{}", begun.procedure, card_of(begun)));
    [number, vehicle, card].into_iter().flatten().collect()
}

fn card_of(begun: &Begun) -> String {
    let revision = begun.revision.as_ref().map(|r| format!(" revision {} of {}", r.number, r.date));
    format!("{}, card {}", revision.unwrap_or_default(), short(&begun.card))
}

fn short(hash: &str) -> &str {
    hash.get(..SHORT).unwrap_or(hash)
}

/// The title, the result, and what was worked at.
pub(super) fn head(job: &Job<'_>, sums: &Report) -> Markup {
    let Some(begun) = &sums.begun else {
        return html! { h1 { "A record without its beginning" } };
    };
    let unknown = || "not noted".to_owned();
    let time = |at: &Option<String>| at.as_deref().map_or_else(|| "unknown".to_owned(), moment);
    html! {
        header {
            div.top {
                div {
                    p.kind { "Report of a job" @if let Some(number) = job.number { ", number " (number) } }
                    h1 { (begun.title) }
                }
                p.outcome { (outcome(sums)) }
            }
            table.facts {
                tbody {
                    tr { th { "Vehicle" } td { (begun.vehicle.as_ref().map_or_else(unknown, ToString::to_string)) } }
                    @if !begun.variants.is_empty() {
                        tr {
                            th { "Variant" }
                            td {
                                @for (place, (axis, value)) in begun.variants.iter().enumerate() {
                                    @if place > 0 { ", " } (plain(axis)) " " strong { (plain(value)) }
                                }
                            }
                        }
                    }
                    tr { th { "Begun" } td { (time(&sums.from)) } }
                    tr { th { @if sums.result.is_some() { "Ended" } @else { "Last entry" } } td { (time(&sums.until)) } }
                    tr { th { "Begun by" } td { (if begun.by.is_unknown() { unknown() } else { begun.by.to_string() }) } }
                    @for typed in &sums.typed {
                        tr {
                            th { "From paper" }
                            td {
                                "noted by hand on a sheet, and typed in by " (typed.by) " on " (moment(&typed.from))
                                @if typed.until != typed.from { " to " (moment(&typed.until)) }
                                "; the times here are those of the sheet"
                            }
                        }
                    }
                    tr {
                        th { "Procedure" }
                        td {
                            (plain(&begun.procedure))
                            @if let Some(revision) = &begun.revision { ", revision " (revision.number) " of " (revision.date) }
                        }
                    }
                    tr { th { "Card" } td.hash { (begun.card) } }
                    tr { th { "Decided" } td { (if begun.guarded { "with the tool's accuracy as guard band" } else { "in band or not, by the limits alone" }) } }
                }
            }
        }
    }
}

fn outcome(sums: &Report) -> Markup {
    match sums.result {
        Some(Outcome::Referred) => {
            html! { (result("referred")) @if let Some(to) = &sums.refer { " to " (plain(to)) } }
        }
        Some(other) => result(other.words()),
        None => html! { (result("unfinished")) },
    }
}

/// What has to be known where the record is not that of a job that is over.
pub(super) fn not_over(sums: &Report) -> Markup {
    html! {
        @if sums.result.is_none() {
            p.notice { strong { "This job is not over." } " What stands here is how far it had come; what was changed at the vehicle may still be open." }
        }
    }
}

/// The tools of the workshop that were used.
pub(super) fn tools(sums: &Report) -> Markup {
    html! {
        @if !sums.tools.is_empty() {
            section.part {
                h2 { "Tools" }
                table.list.tools {
                    thead { tr { th { "Tool" } th { "Number" } th { "Calibrated" } th { "Good until" } th { "Allowed" } } }
                    tbody { @for tool in &sums.tools { (one_tool(tool)) } }
                }
                p.faint { "Where a tool was taken instead of another one, both stand here; each reading names its own." }
            }
        }
    }
}

fn one_tool(tool: &ToolTaken) -> Markup {
    let or_not = |day: &Option<String>| day.clone().unwrap_or_else(|| "not known".to_owned());
    html! {
        tr {
            td { (upper_first(&tool.label)) }
            td { strong { (tool.number) } }
            td { (or_not(&tool.calibrated)) }
            td { (or_not(&tool.due)) }
            td {
                @if let Some(allowed) = &tool.allowed {
                    (upper_first(&allowed.although)) "; allowed by " strong { (allowed.by) } ": " (allowed.why)
                }
            }
        }
    }
}

/// By which rule it was decided.
pub(super) fn decided(sums: &Report) -> Markup {
    let guarded = sums.begun.as_ref().is_some_and(|begun| begun.guarded);
    html! {
        section.part {
            h2 { "How it was decided" }
            @if guarded {
                p { "A value is in band where it lies inside the limits by at least the accuracy of the tool (guarded acceptance: ILAC-G8:09/2019, 4.2.2; JCGM 106:2012, 8.3)." }
            } @else {
                p { "A value is in band where it lies inside the limits, an end that is written belongs to it (simple acceptance: ILAC-G8:09/2019, 4.2.1; JCGM 106:2012, 8.2)." }
            }
            p { "Where the accuracy of a tool is known, the outcome with it as guard band stands beside it, and the probability that the true value is in band (JCGM 106:2012, 7, normal model, coverage factor 2). Decisions are made with exact numbers; limits in another unit are rounded inwards." }
        }
    }
}

/// How anybody can see that nothing was changed.
pub(super) fn verify(job: &Job<'_>) -> Markup {
    let count = job.events.len();
    html! {
        section.part.whole {
            h2 { "How to verify it" }
            @match job.last {
                Some(last) => {
                    p { "The record of this job has " (count) " events, each chained to the one before by its SHA-256. The hash of the last one:" }
                    p.hash { (last) }
                    p {
                        "Noted on paper or kept by somebody else, it holds the whole record. "
                        @if let Some(number) = job.number {
                            code { "dwell records verify " (number) } " looks at every line; " code { "dwell records show " (number) } " and "
                            code { "dwell records export " (number) " --format jsonl" } " give the same last hash. "
                        }
                        "Without Dwell: the hash of a line of the exported file is the SHA-256 of its bytes without " code { ",\"hash\":\"…\"" } " and without the line end."
                    }
                }
                None => p { "This record is of format 1, which has no chain: nobody can tell whether a line of it was changed." }
            }
        }
    }
}

/// Room for whoever files it.
pub(super) fn file() -> Markup {
    html! {
        section.part.whole.file {
            table.signing { tbody { tr { td { "Name" } td { "Date" } td { "Signature" } } } }
        }
    }
}
