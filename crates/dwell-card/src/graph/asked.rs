//! What is asked at a node.

use super::{Act, Measure};
use crate::limit::Fold;

impl Act {
    /// Whether somebody is asked for something here, to do, to read or to say.
    pub fn asks(&self) -> bool {
        matches!(
            self,
            Act::Note { .. }
                | Act::Need { .. }
                | Act::Work(_)
                | Act::Measure(_)
                | Act::Choose(_)
                | Act::Ask { .. }
                | Act::Sign { .. }
                | Act::Wait { .. }
        )
    }
}

impl Measure {
    /// One value of no reading yet, without tool and words.
    pub fn once(take: Fold) -> Measure {
        Measure {
            readings: Vec::new(),
            says: String::new(),
            text: None,
            tool: None,
            times: 1,
            take,
            over: None,
            sampling: None,
            needs: Vec::new(),
            ready: Vec::new(),
            leaves: Vec::new(),
            expected: None,
        }
    }
}
