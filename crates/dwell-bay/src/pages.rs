//! The pages as HTML.

mod frame;
pub(crate) mod index;

pub(crate) use frame::{framed, problem};
