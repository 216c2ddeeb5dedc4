//! Tests of the lexer.
