//! Declarations to their meaning, in small texts of the Merle.
