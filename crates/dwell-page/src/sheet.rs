//! A card as a sheet to fill in by hand: numbered lines, large boxes for what is read, when and by whom, and a code back to the card.

mod code;
pub(crate) mod formula;
mod head;
pub(crate) mod numbers;
mod table;

use crate::document::STYLE;
use crate::items::Writer;
use crate::outline::Outline;
use crate::paper::{Paper, page};
use crate::parts::{procedure, results};
use crate::vehicle::Vehicle;
use dwell_card::Card;
use maud::html;
use numbers::Numbers;
pub(crate) use table::sides;

/// What a sheet has beside the style of a page.
const SHEET: &str = include_str!("sheet.css");

/// How many digits of the card's hash stand on a sheet, and are typed back in.
pub const CODE: usize = 12;

/// The numbers of a card's lines on every sheet of it, by their nodes.
pub fn line_numbers(card: &Card) -> std::collections::BTreeMap<usize, String> {
    Numbers::all(card)
}

/// The blank sheet of a card for a vehicle. `hash` is the SHA-256 of the card, `day` the day of printing, where it is to stand there.
pub fn sheet(card: &Card, vehicle: &Vehicle, hash: &str, day: Option<&str>, paper: Paper) -> String {
    let outline = Outline::of(card, vehicle);
    let numbers = Numbers::of(card, &outline);
    let short = hash.get(..CODE).unwrap_or(hash);
    let revision = card.revision.as_ref().map(|r| format!(" revision {} of {}", r.number, r.date));
    let printed = day.map(|day| format!(", printed {day}")).unwrap_or_default();
    let back =
        numbers.restore(0).map(|first| format!("; STOP: put back from {first} on")).unwrap_or_default();
    let foot = format!("{}{}, card {short}{printed}{back}", card.procedure, revision.unwrap_or_default());
    let mut writer = Writer::new(card, vehicle, &outline);
    writer.sheet = Some(numbers);
    let body = html! {
        div.dwell-page.sheet {
            main {
                (head::head(card, vehicle, hash, short))
                article.card {
                    @if let Some(parts) = outline.frames.first() {
                        (procedure(&mut writer, parts))
                        (table::readings(&writer))
                        (table::deviations())
                        (results(card, vehicle, parts))
                        (table::close())
                    }
                }
            }
        }
    };
    page(&card.title, &format!("{STYLE}\n{SHEET}"), &foot, paper, &body)
}
