//! Tests of the whole; see `all.rs`.
