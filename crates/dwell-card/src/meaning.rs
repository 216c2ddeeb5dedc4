//! What the parts of a card mean: the one definition that the checker's analysis and the runner share.
//!
//! Everything here works on what is *possible*: sets of states, intervals of values. At the vehicle each set has one member
//! and each test one side; on paper there are more.

mod basis;
mod choose;
mod clock;
mod ends;
mod joined;
mod possible;
mod ready;
mod room;
mod samples;
mod set_to;
mod span;
mod test;
mod value;
mod work;

pub use basis::{Basis, basis};
pub use choose::{Chosen, chosen};
pub use clock::{Clocks, Passed};
pub use joined::{branch_ways, holds, judge_in};
pub use possible::{as_read, cut, possible};
pub use ready::{begun, read, unready};
pub use room::Room;
pub use samples::{
    Counted, Ended, Flaw, MOST_SAMPLES, SampledReading, Samples, Series, counted, fluctuating, is_sampled,
    least, sampled, spread, steady, taken,
};
pub use set_to::{may_be_set, never_set, set_to};
pub use span::lost;
pub use test::{Scene, choices, deciding, sides};
pub use value::{Read, ReadSamples, Value, formula_value};
pub use work::{Worked, skipped, work};

use crate::vehicle::Guard;

/// The states that a slot may be in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct States(u64);

impl States {
    /// Exactly this one (0 to 63).
    pub fn only(state: usize) -> States {
        States(1u64.checked_shl(u32::try_from(state).unwrap_or(64)).unwrap_or(0))
    }

    /// These.
    pub fn these(states: &[usize]) -> States {
        states.iter().fold(States(0), |all, state| all.or(States::only(*state)))
    }

    /// Whether `state` is possible.
    pub fn has(self, state: usize) -> bool {
        self.0 & States::only(state).0 != 0
    }

    /// Possible in either.
    pub fn or(self, other: States) -> States {
        States(self.0 | other.0)
    }

    /// Possible in both.
    pub fn and(self, other: States) -> States {
        States(self.0 & other.0)
    }

    /// Whether all that is possible here is possible there.
    pub fn within(self, other: States) -> bool {
        self.0 & !other.0 == 0
    }

    /// Whether nothing is possible.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The states, in order.
    pub fn iter(self) -> impl Iterator<Item = usize> {
        (0..64).filter(move |state| self.has(*state))
    }

    /// The state, where there is only one.
    pub fn single(self) -> Option<usize> {
        let mut all = self.iter();
        let first = all.next();
        if all.next().is_some() { None } else { first }
    }
}

/// Whether something holds, as far as can be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Truth {
    Yes,
    No,
    Maybe,
}

/// Whether one guard holds. `chosen` has for each axis the place of its value, `slots` the possible states.
pub fn guard_holds(guard: &Guard, chosen: &[usize], slots: &[States]) -> Truth {
    match guard {
        Guard::Variant { axis, values } => match chosen.get(*axis) {
            Some(value) if values.contains(value) => Truth::Yes,
            Some(_) => Truth::No,
            None => Truth::Maybe,
        },
        Guard::State { slot, states } => {
            let now = slots.get(*slot).copied().unwrap_or_default();
            let asked = States::these(states);
            if now.within(asked) {
                Truth::Yes
            } else if now.and(asked).is_empty() {
                Truth::No
            } else {
                Truth::Maybe
            }
        }
    }
}

/// Whether all guards hold.
pub fn guards_hold(guards: &[Guard], chosen: &[usize], slots: &[States]) -> Truth {
    let mut all = Truth::Yes;
    for guard in guards {
        match guard_holds(guard, chosen, slots) {
            Truth::No => return Truth::No,
            Truth::Maybe => all = Truth::Maybe,
            Truth::Yes => {}
        }
    }
    all
}
