//! What a screen shows of a session, as plain words and numbers: the same on a terminal and on a page.

mod came;
mod head;
mod scale;
mod typing;
mod units;
mod wait;

pub use came::{Mark, Told, Verdict, is_worth_a_look, told};
pub use scale::{Spot, in_unit, spot};
pub use typing::{before, name_of, understood};
pub use units::units;
pub use wait::{Waiting, in_words};
