//! What the door lets through and what it does not, piece by piece; the whole of it over the wire is in `wire`.

mod devices;
mod keeping;
mod origins;
mod secrets;
mod shown;
mod waits;
mod wire;
