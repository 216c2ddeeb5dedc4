//! Tests of the parser.
