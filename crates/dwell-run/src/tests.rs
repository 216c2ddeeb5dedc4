//! Unit tests of the runner.
