//! Every slip, with its place, its words and its repair.
