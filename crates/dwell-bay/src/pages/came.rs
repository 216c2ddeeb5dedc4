//! What came of an answer: each decision with its value, its word, its shape and its place on the bar.

use super::scale::scale;
use crate::job::Look;
use dwell_record::{Event, Side};
use dwell_run::shown::{Mark, Told, Verdict, told};
use maud::{Markup, html};

/// What has to be known before the next thing is asked.
pub(crate) fn came(look: &Look, events: &[Event]) -> Markup {
    html! { @for one in told(events, look.read.as_ref()) { (one_told(&one)) } }
}

fn one_told(one: &Told) -> Markup {
    html! {
        @match one {
            Told::Begun(title, lines) => { h2 { (title) } @for line in lines { p.more { (line) } } },
            Told::Notice(words) => p.more { (words) },
            Told::TakenUp(words, lines) => { h2 { (words) } ul.notes { @for line in lines { li { (line) } } } },
            Told::Verdict(known) => (verdict(known)),
            Told::Words(Mark::Is, words) => p.says { "= " (words) },
            Told::Words(Mark::Leads, words) => p.says { "→ " (words) },
            Told::Words(Mark::Heed, words) => p.message { "! " (words) },
        }
    }
}

fn verdict(known: &Verdict) -> Markup {
    let class = match known.side {
        Side::In => "verdict in",
        Side::NoReading => "verdict none",
        Side::Low | Side::High | Side::Other => "verdict out",
    };
    let said = match &known.of {
        Some((name, Some(value))) => format!("{name} {value}: {}", known.words),
        Some((name, None)) => format!("{name}: {}", known.words),
        None => known.words.clone(),
    };
    html! {
        section class=(class) data-said=(said) {
            @if let Some((name, value)) = &known.of {
                p.name { (name) }
                @if let Some(value) = value { p.value { (value) } }
            }
            p.word { span aria-hidden="true" { (known.side.shape()) " " } (known.words) }
            @if let Some(band) = &known.band { p.band { (band) } }
            @if let Some((band, value)) = &known.drawn {
                @let says = known.band.as_deref().unwrap_or("the band");
                @if let Some(drawn) = scale(band, Some((value, known.side)), says) { (drawn) }
            }
        }
    }
}
