//! The program `dwell`.
fn main() {}
