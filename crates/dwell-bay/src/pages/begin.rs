//! The page on which a job begins: the vehicle's number, its variants, and who works.

use super::parts::button;
use crate::bay::Offered;
use crate::device::Device;
use crate::form::{Fields, field};
use maud::{Markup, html};

/// The page. `fields` is what was sent before and not taken, `why` the reason; `seen` a number whose check digit does not fit.
pub(crate) fn begin(
    offered: &Offered,
    device: &Device,
    fields: &Fields,
    why: Option<&str>,
    seen: Option<&str>,
    once: &str,
) -> Markup {
    let card = &offered.card;
    let person = Some(field(fields, "person")).filter(|name| !name.is_empty());
    let person = person.or(device.person.as_deref()).unwrap_or_default();
    html! {
        main.plain {
            h1 { (card.title) }
            @if let Some(revision) = &card.revision { p { "revision " (revision.number) " of " (revision.date) } }
            @if let Some(known) = &card.withdrawn { p.message { "⊘ withdrawn from " (known.on) " on: " (known.why) } }
            form method="post" action=(format!("/begin/{}", offered.sha256)) {
                input type="hidden" name="once" value=(once);
                @if let Some(why) = why { p.message role="alert" { "! " (why) } }
                @if let Some(seen) = seen { input type="hidden" name="seen" value=(seen); }
                label for="vin" { "The vehicle's number, scanned or typed; may stay empty" }
                input.words #vin name="vin" value=(field(fields, "vin")) autocomplete="off" autocapitalize="characters"
                    spellcheck="false" maxlength="40" data-scan="next";
                @for axis in &card.axes {
                    @if axis.values.len() > 1 {
                        fieldset {
                            legend { (axis.name.replace('-', " ")) }
                            @let name = format!("variant.{}", axis.name);
                            @for value in &axis.values {
                                label.choice {
                                    input type="radio" name=(name) value=(value) required checked[field(fields, &name) == value];
                                    span { (value) }
                                }
                            }
                        }
                    }
                }
                label for="person" { "Who works" }
                input.words #person name="person" value=(person) autocomplete="off" maxlength="80" required;
                div.buttons { (button("begin", "Begin", "strong")) a.button href="/" { "Back" } }
            }
        }
    }
}
