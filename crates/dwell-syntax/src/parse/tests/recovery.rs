//! Going on after slips.
