//! Damaged and malicious texts through the whole of the library: never a panic, never a hang, always a place in the text.

mod cuts;
mod invariants;
mod letters;
mod monsters;
mod watch;
