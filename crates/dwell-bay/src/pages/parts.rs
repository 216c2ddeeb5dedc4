//! Pieces that several pages have: buttons, cautions, what is open.

use dwell_run::{CautionWords, Keeping, Located, Session};
use maud::{Markup, html};

/// A button that sends the form it stands in, with what it wants.
pub(crate) fn button(act: &str, words: &str, class: &str) -> Markup {
    html! { button type="submit" name="do" value=(act) class=(format!("button {class}")) { (words) } }
}

/// A caution: its signal word in a bar of its own, with a shape, and its words below.
pub(crate) fn caution(caution: &CautionWords) -> Markup {
    let class = format!("caution {}", caution.level.to_lowercase());
    html! {
        section class=(class) aria-label=(caution.level) {
            p.signal { span aria-hidden="true" { (if caution.level == "NOTICE" { "ⓘ " } else { "⚠ " }) } (caution.level) }
            p { (caution.text) }
        }
    }
}

/// Where things are that are touched for the first time.
pub(crate) fn located(things: &[Located]) -> Markup {
    html! { @for thing in things { p.more { (thing.label) ": " (thing.at) } } }
}

/// What is to be held while this is done, each with a button for when it is lost.
pub(crate) fn keeping(all: &[Keeping], mine: bool) -> Markup {
    html! {
        @for held in all {
            p.more.held { "meanwhile: " (held.says) @if let Some(text) = &held.text { " " (text) } }
        }
        @if mine && !all.is_empty() { (button("lost", "It is lost", "")) }
    }
}

/// All that is open, in the order in which it is put back; always in sight.
pub(crate) fn open_now(session: &Session) -> Markup {
    let open = session.at_hand();
    let short = |words: &String| words.trim_start_matches("The ").replacen(" is ", " ", 1);
    html! {
        section.open aria-label="Open now" {
            strong { "OPEN NOW: " }
            @if open.is_empty() { "nothing" } @else { (open.iter().map(short).collect::<Vec<_>>().join(", ")) }
        }
    }
}

/// The same as a list, for a page that is about it.
pub(crate) fn open_list(session: &Session) -> Markup {
    let open = session.at_hand();
    html! {
        @if open.is_empty() { p { "Nothing is open just now." } } @else {
            p { "Open now, in the order in which it is put back:" }
            ol.open-list { @for words in &open { li { (words) } } }
        }
    }
}
