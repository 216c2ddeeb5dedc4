//! A card as a page of its own: one file that needs nothing from elsewhere.

use crate::vehicle::Vehicle;
use crate::{Pieces, pieces};
use dwell_card::Card;
use maud::{DOCTYPE, PreEscaped, html};

/// The style sheet of the pieces, on a screen, in a dark and a light editor, and on paper.
pub const STYLE: &str = include_str!("page.css");

/// The page of a card for a vehicle.
pub fn document(card: &Card, vehicle: &Vehicle) -> String {
    let Pieces { card: first, ways } = pieces(card, vehicle);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                // Nothing is loaded and nothing is run.
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'";
                title { (card.title) }
                style { (PreEscaped(STYLE)) }
            }
            body.dwell-page {
                main { (PreEscaped(first)) (PreEscaped(ways)) }
            }
        }
    };
    page.into_string()
}
