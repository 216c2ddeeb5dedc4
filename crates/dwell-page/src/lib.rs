//! A card as a page: HTML for the technician, and the ways through it as a drawing; and the report of a job.
//!
//! A page is a function of a card and of the vehicle that it is for. It reads no file, knows no editor, and takes nothing
//! from elsewhere: one style sheet ([`STYLE`]) and no script. Every place of the card carries the number of its node in
//! `data-node`, so that whoever shows the page can lead from a step to what it was made from.

mod bands;
mod chart;
mod document;
mod ends;
mod head;
mod items;
mod outline;
mod paper;
mod parts;
mod report;
mod scale;
mod sheet;
mod statistics;
mod tests_of;
mod vehicle;
mod words;

#[cfg(test)]
mod tests;

pub use document::{STYLE, document};
pub use outline::Outline;
pub use paper::Paper;
pub use report::{Job, report};
pub use sheet::{CODE, line_numbers, sheet};
pub use statistics::statistics;
pub use vehicle::{Unknown, Vehicle};

use dwell_card::Card;

/// A card as two pieces of HTML, for whoever puts them into a page of their own together with [`STYLE`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pieces {
    /// The card, as the technician reads it.
    pub card: String,
    /// The ways through it: a drawing, and the same as a list.
    pub ways: String,
}

/// The two pieces of a card for a vehicle.
pub fn pieces(card: &Card, vehicle: &Vehicle) -> Pieces {
    let outline = Outline::of(card, vehicle);
    Pieces {
        card: parts::card(card, vehicle, &outline).into_string(),
        ways: chart::ways(card, vehicle, &outline).into_string(),
    }
}
