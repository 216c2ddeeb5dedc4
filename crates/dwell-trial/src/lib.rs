//! Procedures tried out: their cases carried out on their cards, what those cover, and the ways through a card.
//!
//! What is tried is the card that [`dwell_check::check`] made, by the runner that carries it out at the vehicle. Nothing here
//! touches a disk, a clock or a terminal, and nothing here decides anything: findings come from facts of the run.

mod as_case;
mod coverage;
mod follow;
mod said;
mod solve;
mod tested;
mod told;
mod trial;
mod ways;

pub use as_case::as_case;
pub use coverage::{Branch, Coverage, LimitTried, Sides, StepTried, VariantTried};
pub use follow::goes;
pub use tested::{CaseTested, ProcedureTested, Tested, test};
pub use ways::{Confirmed, Wanted, WayThrough, WaysThrough, ways, ways_of};
