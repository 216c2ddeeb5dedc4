//! Dwell text to a tree and back: lexing, parsing with recovery, formatting.
//!
//! [`parse`](parse::parse) always gives a tree; what could not be read stands beside it as [`Slip`](slip::Slip)s. This crate does
//! not know what a name or a unit means: it knows how they are spelt.

// A tree is read once and dropped: boxing its wide variants would cost more than their width.
#![allow(clippy::large_enum_variant)]

pub mod format;
pub mod lex;
pub mod lines;
pub mod parse;
pub mod slip;
pub mod tree;
pub mod words;
