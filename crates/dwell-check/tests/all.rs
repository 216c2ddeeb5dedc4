//! Every test that sees the checker as its users do, in one binary.

mod pages;
mod witness;
