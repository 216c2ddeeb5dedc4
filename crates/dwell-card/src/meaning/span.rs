//! What it means for the states of things that a span is lost.

use super::States;
use crate::graph::Hold;

/// The possible states after what was held is lost, and the slots that this tells of. A slot for which the card names no
/// state that may follow stays as it is.
pub fn lost(hold: &Hold, slots: &[States]) -> (Vec<States>, Vec<usize>) {
    let mut after = slots.to_vec();
    let mut told = Vec::new();
    for held in &hold.states {
        let follows = States::these(&held.lost);
        if let (Some(slot), false) = (after.get_mut(held.slot), follows.is_empty()) {
            *slot = follows;
            told.push(held.slot);
        }
    }
    (after, told)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::graph::Held;

    #[test]
    fn what_is_lost_is_in_one_of_the_states_that_follow() {
        let held = |slot, lost: &[usize]| Held { slot, state: 1, lost: lost.to_vec() };
        let states = vec![held(0, &[0, 2]), held(2, &[])];
        let hold = Hold { name: "pedal".into(), at: None, says: String::new(), text: None, states };
        let before = [States::only(1), States::only(3), States::only(1)];
        let (after, told) = lost(&hold, &before);
        assert_eq!(after, [States::these(&[0, 2]), States::only(3), States::only(1)]);
        assert_eq!(told, [0]);
    }
}
