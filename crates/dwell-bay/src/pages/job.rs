//! The page of a job: one view for the moment, with what is open and STOP always in sight.

use super::asked::asked;
use super::came::came;
use super::frame::framed;
use super::parts::{button, open_now};
use super::tool::tool;
use crate::bay::Offered;
use crate::clock::{day, moment};
use crate::job::{Holder, Look, Showing};
use dwell_record::{Event, Outcome, What};
use dwell_tools::Register;
use maud::{Markup, html};

/// What of the bay is needed beside the job.
pub(crate) struct Around<'a> {
    /// The cards that are offered.
    pub(crate) cards: &'a [Offered],
    /// The tools.
    pub(crate) tools: Option<&'a Register>,
    /// Words for this device alone: why its wish was not done.
    pub(crate) said: Option<&'a str>,
}

/// The whole page.
pub(crate) fn job(look: &Look, around: &Around<'_>) -> Markup {
    framed(
        &look.session.card().title,
        html! {
            div #job { (fragment(look, around)) }
            p #said .unseen role="status" aria-live="polite" {}
            div #lost role="alert" {}
        },
    )
}

/// The moment: what a screen that is there already puts in the place of what it shows.
pub(crate) fn fragment(look: &Look, around: &Around<'_>) -> Markup {
    let mine = look.holder == Holder::You;
    let card = look.session.card();
    let over = look.session.result();
    let heading = look.session.heading().filter(|heading| *heading != look.session.where_in());
    html! {
        div.moment data-job=(look.number) data-moment=(look.moment) data-mine=(mine) {
            header {
                h1 { (card.title) }
                p.where { (look.session.where_in()) @if let Some(heading) = heading { " · " (heading) } }
                p.vehicle { "job " (look.number) @if let Some(vehicle) = look.session.vehicle_in_words() { ", " (vehicle) } }
            }
            (banners(look, around, mine, over.is_some()))
            main {
                @if let Some(words) = around.said { p.message role="alert" { "! " (words) } }
                @if let Some(doubted) = look.doubted.as_ref().filter(|_| mine) {
                    @if let Some(words) = &look.message { p.message role="alert" { "! " (words) } }
                    // A form of its own: Enter in the field below never keeps what is asked back.
                    form method="post" action=(format!("/job/{}/do", look.number)) {
                        input type="hidden" name="moment" value=(look.moment);
                        div.buttons { (button("keep", &format!("Keep {}", doubted.words), "")) }
                    }
                }
                form #answer method="post" action=(format!("/job/{}/do", look.number)) {
                    input type="hidden" name="moment" value=(look.moment);
                    @if let Some(words) = look.message.as_ref().filter(|_| mine && look.doubted.is_none()) { p.message role="alert" { "! " (words) } }
                    (shown(look, around, mine, over))
                }
            }
            footer {
                div.sight {
                    (open_now(&look.session))
                    button #down .button type="button" hidden { span aria-hidden="true" { "▼ " } "Below" }
                }
                div.buttons.always {
                    @if over.is_none() {
                        a.button.stop href=(format!("/job/{}/stop", look.number)) { span aria-hidden="true" { "⬣ " } "STOP" }
                        @if mine {
                            a.button href=(format!("/job/{}/cannot", look.number)) { "Cannot" }
                            a.button href=(format!("/job/{}/back", look.number)) { "Back" }
                        }
                    }
                    a.button href=(format!("/job/{}/more", look.number)) { "More" }
                }
            }
        }
    }
}

fn shown(look: &Look, around: &Around<'_>, mine: bool, over: Option<Outcome>) -> Markup {
    html! {
        @match (&look.showing, over) {
            (showing, Some(result)) => {
                @if let Showing::Came(events) = showing { (came(look, &decided(events))) }
                (ended(look, result))
            },
            (Showing::Came(events), _) => {
                (came(look, events))
                @if mine { div.buttons { (button("go-on", "Go on", "strong")) } }
            },
            (Showing::MakeSafe(list), _) => {
                h2.says.stopped { "STOP: make safe first" }
                @if list.is_empty() { p { "This job has left nothing open." } } @else {
                    ol.open-list { @for words in list { li { (words) } } }
                    p.more { "See to these, in this order. What is put back is asked for next, one thing at a time." }
                }
                @if mine { div.buttons { (button("go-on", "Go on", "strong")) } }
            },
            (Showing::Asked, _) => @match look.tool.as_ref().filter(|_| mine) {
                Some(asked) => (tool(look, asked, around.tools, mine)),
                None => (asked(look, mine)),
            },
        }
    }
}

/// The decisions among what came, with the readings that they are about.
fn decided(events: &[Event]) -> Vec<Event> {
    let kept = |event: &&Event| matches!(event.what, What::Judged(_) | What::Measured(_));
    events.iter().filter(kept).cloned().collect()
}

/// The end: the result as a word and a shape, what is still open, and where the record is.
fn ended(look: &Look, result: Outcome) -> Markup {
    let report = look.session.report();
    let (class, shape) = match result {
        Outcome::Passed | Outcome::AdjustedAndPassed => ("verdict in", "✓"),
        Outcome::Failed => ("verdict out", "✕"),
        Outcome::Unfinished => ("verdict none", "‖"),
        Outcome::Referred => ("verdict none", "→"),
    };
    html! {
        section class=(class) data-said=(report.result_words()) {
            p.name { "Result" }
            p.word { span aria-hidden="true" { (shape) " " } (report.result_words()) }
        }
        @for words in &report.told { p.says { (words) } }
        @if !report.open.is_empty() {
            h2 { "Still open: see to this before the vehicle is used" }
            ul.notes { @for words in &report.open { li { (words) } } }
        }
        div.buttons {
            a.button.strong href=(format!("/job/{}/report", look.number)) { "Report" }
            a.button href="/" { "All jobs" }
        }
    }
}

/// What has to be seen above everything: who writes, and whether the card is still the one that counts.
fn banners(look: &Look, around: &Around<'_>, mine: bool, over: bool) -> Markup {
    let card = look.session.card();
    let today = day(&look.at).to_owned();
    let begun = look.session.report().begun.map(|begun| begun.card).unwrap_or_default();
    let same = |offered: &&Offered| offered.card.procedure == card.procedure;
    let now = around.cards.iter().find(same).filter(|_| !over);
    let out = now.and_then(|offered| offered.card.withdrawn.as_ref()).or(card.withdrawn.as_ref());
    let out = out.filter(|known| known.by(&today) && !over);
    let newer = now.filter(|offered| offered.sha256 != begun);
    let revision = |card: &dwell_card::Card| match &card.revision {
        Some(revision) => format!("revision {} of {}", revision.number, revision.date),
        None => "another text".to_owned(),
    };
    html! {
        @if let Some(known) = out {
            p.banner { "⊘ WITHDRAWN from " (known.on) " on: " (known.why) " This job keeps the card that it began with: ask before you go on." }
        }
        @if let Some(newer) = newer {
            p.banner {
                "⚠ There is a newer card: " (revision(&newer.card)) ". This job keeps the one that it began with, "
                (revision(card)) "."
            }
        }
        @if !mine && !over {
            div.banner {
                @match &look.holder {
                    Holder::Other(who) => {
                        p { "◉ You watch. " (who) " writes this job." }
                        a.button href=(format!("/job/{}/take", look.number)) { "Take over from " (who) }
                    },
                    _ => {
                        p { "◉ Nobody here has this job in hand since " (moment(look.session.events().last().map_or("", |event| event.at.as_str()))) "." }
                        a.button href=(format!("/job/{}/take", look.number)) { "Take it in hand" }
                    },
                }
            }
        }
    }
}
