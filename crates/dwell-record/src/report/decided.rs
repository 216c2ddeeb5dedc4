//! What a job decided that is no reading against its band: whether samples were steady, what two readings come to together, an
//! answer, a state.

use crate::event::Tested;

/// One such decision, as found and as left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decided {
    /// The first time, and whether that was against a band to set to.
    pub as_found: (Tested, bool),
    /// The last time.
    pub as_left: (Tested, bool),
}

impl Decided {
    /// Notes a decision: as found the first one of its name counts, as left the last one.
    pub(super) fn note(all: &mut Vec<Decided>, tested: &Tested, adjusting: bool) {
        let now = (tested.clone(), adjusting);
        match all.iter_mut().find(|known| known.as_found.0.name == tested.name) {
            Some(known) => known.as_left = now,
            None => all.push(Decided { as_found: now.clone(), as_left: now }),
        }
    }

    /// What was decided, `charge steady`.
    pub fn name(&self) -> &str {
        &self.as_found.0.name
    }

    /// How it came out: `spread 0.03 V, yes`, and as left where that is not the same.
    pub fn came(&self) -> String {
        if self.as_found == self.as_left {
            return came(&self.as_found);
        }
        format!("as found {}; as left {}", came(&self.as_found), came(&self.as_left))
    }

    /// Both together, `charge steady: spread 0.03 V, yes`.
    pub fn words(&self) -> String {
        format!("{}: {}", self.name(), self.came())
    }
}

fn came((tested, adjusting): &(Tested, bool)) -> String {
    let band = tested.band.as_ref().map(|band| match adjusting {
        true => format!("to be set to {band}"),
        false => format!("band {band}"),
    });
    let verdict = tested.verdict();
    // "no reading" stands for itself.
    let value = tested.value.clone().filter(|value| *value != verdict);
    value.into_iter().chain([verdict]).chain(band).collect::<Vec<_>>().join(", ")
}
