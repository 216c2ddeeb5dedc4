//! The shape of trees.
