//! Unit tests of the record.
