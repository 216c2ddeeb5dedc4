//! The grammars that editors colour and fold with: they have the words of the program, and read what it reads.

// A test may panic on a bad slice: that is how it fails.
#![allow(clippy::string_slice)]

mod corpus;
mod reader;
mod reading;
mod showing;
mod textmate;
mod texts;
mod typing;
mod words;
