//! Every suite of the whole, in one test binary.
