//! Readings that nobody types: an instrument of the register is asked, or a file to which another program writes is followed,
//! for what a job asks just now.
//!
//! [`Live`] belongs to one job, and is told again and again what its session asks. Each source gives its values on a thread of
//! its own, so that nobody waits for it. Nothing here decides whether a reading is good: what comes is given to the session as
//! any answer is.

mod feed;
mod instrument;
mod live;
mod log;
mod series;

pub use feed::Shown;
pub use live::Live;
pub use series::Series;
