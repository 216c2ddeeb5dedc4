//! Names: what files see, what clashes, what was probably meant.
