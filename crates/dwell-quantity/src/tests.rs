//! Tests of the crate: one file for each of its ideas.
