//! The pages beside the question: STOP, cannot, back, putting right, a photo, taking over, and more.

use super::parts::{button, open_list};
use crate::device::Device;
use crate::job::{Holder, Look, counts};
use dwell_run::Place;
use maud::{Markup, html};

/// Which page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    Stop,
    Cannot,
    Back,
    Correct,
    Photo,
    Take,
    More,
}

impl Side {
    /// The page of an address.
    pub(crate) fn named(name: &str) -> Option<Side> {
        Some(match name {
            "stop" => Side::Stop,
            "cannot" => Side::Cannot,
            "back" => Side::Back,
            "correct" => Side::Correct,
            "photo" => Side::Photo,
            "take" => Side::Take,
            "more" => Side::More,
            _ => return None,
        })
    }
}

/// The page.
pub(crate) fn side(look: &Look, side: Side, device: &Device, has_register: bool) -> Markup {
    let back = format!("/job/{}", look.number);
    html! {
        main.plain {
            @match side {
                Side::Stop => (stop(look, &back)),
                Side::Cannot => (cannot(look, &back)),
                Side::Back => (places(look, &back, false)),
                Side::Correct => (places(look, &back, true)),
                Side::Photo => (photo(look, &back)),
                Side::Take => (take(look, &back, device)),
                Side::More => (more(look, &back, has_register)),
            }
        }
    }
}

fn form(look: &Look, inside: Markup) -> Markup {
    html! {
        form method="post" action=(format!("/job/{}/do", look.number)) {
            input type="hidden" name="moment" value=(look.moment);
            (inside)
        }
    }
}

fn stop(look: &Look, back: &str) -> Markup {
    html! {
        h1.stopped { "STOP: end this job?" }
        (open_list(&look.session))
        p { "What is owed is put back, the result is unfinished." }
        @if look.holder == Holder::You {
            (form(look, html! {
                label for="text" { "Why, in a few words; may stay empty" }
                input.words #text name="text" autocomplete="off" maxlength="300";
                div.buttons { (button("stop", "STOP", "stop")) a.button.strong href=(back) { "Go on working" } }
            }))
        } @else {
            p.message { "! Another device writes this job: call out to whoever works at it, or take it over first." }
            div.buttons { a.button href=(format!("/job/{}/take", look.number)) { "Take over" } a.button.strong href=(back) { "Go back" } }
        }
    }
}

fn cannot(look: &Look, back: &str) -> Markup {
    html! {
        h1 { "This cannot be done" }
        p.says { (look.prompt.says()) }
        p { "The job ends unfinished, and what is owed is put back. The reason stands in the record." }
        (form(look, html! {
            label for="text" { "Cannot, because" }
            input.words #text name="text" autocomplete="off" maxlength="300" required;
            div.buttons { (button("cannot", "It cannot be done", "strong")) a.button href=(back) { "Go back" } }
        }))
    }
}

/// The answers that can be gone back to, or the readings that can be put right.
fn places(look: &Look, back: &str, readings: bool) -> Markup {
    let places: Vec<Place> =
        look.session.offered().into_iter().filter(|place| !readings || place.reading).collect();
    let (title, says, act, words) = if readings {
        (
            "Which reading was noted wrong?",
            "It is asked for again, and what was answered after it too.",
            "correct",
            "Ask for it again",
        )
    } else {
        (
            "Back to which answer?",
            "What was told and read from there on is asked again; what was done at the vehicle stays done.",
            "back",
            "Open it again",
        )
    };
    html! {
        h1 { (title) }
        @if places.is_empty() {
            p { "There is nothing to go back to." }
            div.buttons { a.button.strong href=(back) { "Go on" } }
        } @else {
            p { (says) }
            (form(look, html! {
                fieldset {
                    legend { "The latest stands first" }
                    @for place in &places {
                        label.choice { input type="radio" name="to" value=(place.seq) required; span { (place.words) } }
                    }
                }
                label for="why" { "Why, in a few words" }
                input.words #why name="why" autocomplete="off" maxlength="300" required;
                div.buttons { (button(act, words, "strong")) a.button href=(back) { "Leave it" } }
            }))
        }
    }
}

fn photo(look: &Look, back: &str) -> Markup {
    html! {
        h1 { "A photo for this place of the job" }
        p.says { (look.prompt.says()) }
        form method="post" action=(format!("/job/{}/photo", look.number)) enctype="multipart/form-data" {
            label for="file" { "The photo: JPEG, PNG or WebP, at most 16 MiB" }
            input.words #file type="file" name="file" accept="image/jpeg,image/png,image/webp" capture="environment" required;
            label for="text" { "What it shows; may stay empty" }
            input.words #text name="text" autocomplete="off" maxlength="300";
            div.buttons { button.button.strong type="submit" { "Keep the photo" } a.button href=(back) { "Go back" } }
        }
    }
}

fn take(look: &Look, back: &str, device: &Device) -> Markup {
    let (title, words, over) = match &look.holder {
        Holder::Other(who) => (
            format!("Take this job over from {who}?"),
            format!("{who} cannot write it any more then, and is told so. The record has both names."),
            "yes",
        ),
        _ => (
            "Take this job in hand".to_owned(),
            "First you see what is open and what has run out since.".to_owned(),
            "",
        ),
    };
    html! {
        h1 { (title) }
        (open_list(&look.session))
        p { (words) }
        form method="post" action=(format!("/job/{}/take", look.number)) {
            input type="hidden" name="over" value=(over);
            label for="name" { "Who works now" }
            input.words #name name="name" value=(device.person.as_deref().unwrap_or_default()) autocomplete="off" maxlength="80" required;
            div.buttons {
                button.button.strong type="submit" { (if over.is_empty() { "Take it in hand" } else { "Take it over" }) }
                a.button href=(back) { "Only watch" }
            }
        }
    }
}

/// For each tool that counts a field for another one that is used from now on.
fn other_tools(look: &Look) -> Markup {
    let all = look.session.card().tools.iter().filter(|tool| counts(tool));
    html! {
        @for tool in all {
            (form(look, html! {
                input type="hidden" name="name" value=(tool.name);
                @let id = format!("tool-{}", tool.name);
                label for=(id) { "Another " (tool.label) " from now on: scan or type its number" }
                input.words id=(id) name="text" autocomplete="off" spellcheck="false" maxlength="80";
                div.buttons { (button("tool", "This one", "")) }
            }))
        }
    }
}

fn more(look: &Look, back: &str, has_register: bool) -> Markup {
    let mine = look.holder == Holder::You;
    let link = |name: &str| format!("/job/{}/{name}", look.number);
    let report = look.session.report();
    html! {
        h1 { "More about this job" }
        @if let Some(vehicle) = look.session.vehicle_in_words() { p { (vehicle) } }
        p { "Wanted now: " (look.prompt.wants()) "." }
        (open_list(&look.session))
        div.buttons {
            a.button.strong href=(back) { "Go on" }
            @if mine && look.session.result().is_none() {
                a.button href=(link("photo")) { "Photo" }
                a.button href=(link("correct")) { "Put a reading right" }
            }
            a.button href=(link("report")) { "Report so far" }
            a.button href="/" { "All jobs" }
        }
        @if mine && look.session.result().is_none() {
            h2 { "Hand over to another person" }
            (form(look, html! {
                label for="name" { "Name of who goes on here" }
                input.words #name name="name" autocomplete="off" maxlength="80";
                div.buttons { (button("hand-over", "Hand over", "")) }
            }))
        }
        @if !report.photos.is_empty() {
            h2 { "Photos" }
            @for photo in &report.photos {
                figure {
                    img src=(format!("/job/{}/photo/{}", look.number, photo.sha256)) alt=(photo.text.as_deref().unwrap_or(&photo.says));
                    figcaption { (photo.says) @if let Some(text) = &photo.text { ": " (text) } }
                }
            }
        }
        @if !look.session.card().tools.is_empty() {
            h2 { "Tools" }
            ul.notes {
                @for tool in &look.session.card().tools { li { (tool.label) } }
                @for taken in look.session.tools_taken() { li { (taken.words()) } }
            }
            @if mine && has_register && look.session.result().is_none() { (other_tools(look)) }
        }
    }
}
