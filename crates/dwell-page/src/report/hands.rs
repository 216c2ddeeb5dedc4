//! Who had the job in hand, what was put right and why, what stayed open, who signed.

use super::{moment, part};
use crate::words::upper_first;
use dwell_record::event::{Cannot, Corrected, ReadingName, Signed, Tested, WentBack};
use dwell_record::{Event, Report, What};
use maud::{Markup, html};

/// What a reader must not miss: what is open, was stopped, could not be done, was lost, does not fit.
pub(super) fn attention(sums: &Report) -> Markup {
    let words = |all: &[String]| all.iter().map(|words| html! { (words) }).collect::<Vec<_>>();
    let causes: Vec<Markup> = sums
        .causes
        .iter()
        .map(|cause| html! { (cause.item) @if let Some(text) = &cause.text { ": " (text) } })
        .collect();
    let back: Vec<Markup> = sums
        .clock_back
        .iter()
        .map(|seq| html! { "The clock was set back before event " (seq) "; the order of the events is their number." })
        .collect();
    html! {
        @if !sums.open.is_empty() {
            section.part.open {
                h2 { "Still open: see to this before the vehicle is used" }
                ul { @for open in &sums.open { li { (open) } } }
            }
        }
        (part("Probable causes", &causes))
        (part("What was said at the end", &words(&sums.told)))
        (part("To be gone on with", &words(&sums.refer.iter().map(|name| crate::words::plain(name)).collect::<Vec<_>>())))
        (part("Stopped", &words(sums.stopped.as_slice())))
        (part("Could not be done", &words(&sums.cannot.iter().map(Cannot::words).collect::<Vec<_>>())))
        (part("Not held", &words(&sums.lost.iter().map(|lost| lost.says.clone()).collect::<Vec<_>>())))
        (part("In doubt", &words(&sums.doubts)))
        (part("Clock", &back))
    }
}

/// What was put right and gone back behind: what stood there before, what stands there now, and why.
pub(super) fn put_right(events: &[Event]) -> Markup {
    let rows: Vec<Markup> = events
        .iter()
        .enumerate()
        .filter_map(|(place, event)| match &event.what {
            What::Corrected(wrong) => Some(corrected(event, wrong, events.get(place..).unwrap_or_default())),
            What::WentBack(back) => {
                let to = events.iter().find(|known| known.seq == back.to).map(Event::words);
                Some(went_back(event, back, to.as_deref()))
            }
            _ => None,
        })
        .collect();
    html! {
        @if !rows.is_empty() {
            section.part {
                h2 { "Put right, and gone back" }
                table.list {
                    thead { tr { th { "When" } th { "Who" } th { "What was replaced" } th { "Why" } } }
                    tbody { @for row in &rows { (row) } }
                }
                p.faint { "Nothing is taken out of the record: what was replaced still stands in it." }
            }
        }
    }
}

fn corrected(event: &Event, wrong: &Corrected, after: &[Event]) -> Markup {
    let next = after.iter().find_map(|event| match &event.what {
        What::Measured(measured) if measured.reading == wrong.reading => Some(measured.shown.clone()),
        _ => None,
    });
    html! {
        tr {
            td.time { (moment(&event.at)) }
            td { (wrong.by.who()) }
            td {
                (wrong.reading.words()) " was noted as " s { (wrong.was) }
                @match next {
                    Some(next) => { ", put right to " strong { (next) } }
                    None => ", and was not read again",
                }
                (opened(&wrong.reopened))
            }
            td { (wrong.why) }
        }
    }
}

fn went_back(event: &Event, back: &WentBack, to: Option<&str>) -> Markup {
    html! {
        tr {
            td.time { (moment(&event.at)) }
            td { (back.by.who()) }
            td { "went back to event " (back.to) @if let Some(to) = to { ", " q { (to) } } (opened(&back.reopened)) }
            td { (back.why) }
        }
    }
}

fn opened(all: &[String]) -> Markup {
    html! { @if !all.is_empty() { div.faint { "asked again: " (all.join("; ")) } } }
}

/// What was put right when the job was over.
pub(super) fn after_the_end(sums: &Report) -> Markup {
    let verdict = |tests: &[Tested], reading: &ReadingName| {
        let own = tests.iter().filter(|test| test.reading.as_ref() == Some(reading));
        own.map(Tested::words).collect::<Vec<_>>().join(", ")
    };
    html! {
        @if !sums.put_right.is_empty() {
            section.part.open {
                h2 { "Put right after the end" }
                p { "All else stands here as it was decided then." }
                table.list {
                    thead { tr { th { "Reading" } th { "Noted" } th { "Right" } th { "Who, and why" } th { "What comes of it" } } }
                    tbody {
                        @for right in &sums.put_right {
                            tr {
                                td { strong { (upper_first(&right.reading.words())) } div.faint { "event " (right.event) } }
                                td { s { (right.was) } div { (verdict(&right.decided, &right.reading)) } }
                                td { strong { (right.now.shown) } div { (verdict(&right.decides, &right.reading)) } }
                                td { (right.by) ": " (right.why) }
                                td { (right.comes_to()) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Who had it in hand, one after the other.
pub(super) fn hands(events: &[Event]) -> Markup {
    let lines: Vec<Markup> = events
        .iter()
        .filter_map(|event| match &event.what {
            What::TakenUp(taken) => Some(html! {
                (moment(&event.at)) ": " (taken.words())
                @if !taken.open.is_empty() { div.faint { "open then: " (taken.open.join("; ")) } }
                @if !taken.expired.is_empty() { div.faint { "had run out: " (taken.expired.join("; ")) } }
            }),
            _ => None,
        })
        .collect();
    part("Interrupted, handed over, taken over", &lines)
}

/// Who signed for what.
pub(super) fn signed(sums: &Report) -> Markup {
    let lines: Vec<Markup> = sums.signed.iter().map(|signed: &Signed| html! { (signed.words()) }).collect();
    part("Signed", &lines)
}
