//! Where readings come from: files of comma-separated values.
