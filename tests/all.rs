//! Every suite of the whole, in one test binary.

#[cfg(test)]
mod outside;
