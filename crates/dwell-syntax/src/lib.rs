//! Dwell text to a tree and back: lexing, parsing with recovery, formatting.
//!
//! [`parse`](parse::parse) always gives a tree; what could not be read stands beside it as [`Slip`](slip::Slip)s. This crate does
//! not know what a name or a unit means: it knows how they are spelt.

pub mod lex;
pub mod lines;
pub mod parse;
pub mod slip;
pub mod tree;
pub mod words;
