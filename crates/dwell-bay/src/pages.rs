//! The pages as HTML, written by the server: every button and field works without the script too.

mod asked;
mod begin;
mod came;
mod frame;
mod index;
mod job;
mod parts;
mod report;
mod scale;
mod sides;
mod tool;

pub(crate) use begin::begin;
pub(crate) use frame::{page, problem};
pub(crate) use index::index;
pub(crate) use job::{Around, fragment, job};
pub(crate) use report::report;
pub(crate) use scale::place;
pub(crate) use sides::{Side, side};
