//! Tests of the whole; see `all.rs`. What the suites and the measuring share stands here.

pub mod chance;
