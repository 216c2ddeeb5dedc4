//! Unit tests of the runner, on small cards built by hand.

mod build;
mod cannot;
mod cautions;
mod damage;
mod decisions;
mod doubts;
mod drive;
mod gathering;
mod going_back;
mod located;
mod outcomes;
mod resume;
mod sampling;
mod shown;
mod signing;
mod spans;
mod stop;
mod taking_up;
mod values;
mod withdrawn;
