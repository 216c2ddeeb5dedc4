//! The photos of a job: each with what was asked when it was taken, and the hash that stands in the record.

use super::{Job, moment};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use dwell_record::event::PhotoTaken;
use dwell_record::{Event, Hash, What};
use maud::{Markup, html};

/// What a browser draws, and nothing that can hold a program.
const DRAWN: [&str; 4] = ["image/jpeg", "image/png", "image/webp", "image/gif"];

/// All photos of a job.
pub(super) fn section(job: &Job<'_>) -> Markup {
    let taken: Vec<(&Event, &PhotoTaken)> = job
        .events
        .iter()
        .filter_map(|event| match &event.what {
            What::PhotoTaken(photo) => Some((event, photo)),
            _ => None,
        })
        .collect();
    html! {
        @if !taken.is_empty() {
            section.part {
                h2 { "Photos" }
                div.photos { @for (event, photo) in taken { (one(job, event, photo)) } }
            }
        }
    }
}

fn one(job: &Job<'_>, event: &Event, photo: &PhotoTaken) -> Markup {
    let bytes = job.photos.iter().find(|(hash, _)| *hash == photo.sha256).map(|(_, bytes)| bytes);
    // A picture that is not the one of the record is not shown as if it were.
    let good = bytes.filter(|bytes| Hash::of(bytes).digits() == photo.sha256);
    html! {
        figure {
            @match (good, bytes, DRAWN.contains(&photo.media.as_str())) {
                (Some(bytes), _, true) => {
                    img src=(format!("data:{};base64,{}", photo.media, STANDARD.encode(bytes))) alt=(photo.says) {}
                }
                (Some(_), _, false) => p.notice { "A picture of the kind " (photo.media) ", which is not shown here." },
                (None, Some(_), _) => p.notice { strong { "The picture that is kept is not the one that was taken." } },
                (None, None, _) => p.notice { "The picture is not at hand." },
            }
            figcaption {
                (photo.says) @if let Some(text) = &photo.text { " " strong { (text) } }
                div.faint { (moment(&event.at)) ", event " (event.seq) }
                div.hash { (photo.sha256) }
            }
        }
    }
}
