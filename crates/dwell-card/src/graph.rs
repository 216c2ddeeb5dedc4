//! The flow of a card: what is done, one node after another, and the ways on from each.

mod asked;
mod condition;
mod hold;
mod measure;
mod worked_out;

use crate::number::Num;
use crate::vehicle::{Level, Move, Ready, Required, Slot};
use dwell_quantity::{Band, Bound};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

pub use condition::{Condition, Side, Test};
pub use hold::{Held, Hold};
pub use measure::{Choose, Measure, Sampling};
pub use worked_out::WorkedOut;

/// One thing that is done, asked, read or decided.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Node {
    /// What it is.
    pub act: Act,
    /// The frame that it belongs to.
    pub frame: usize,
    /// The step that it stands in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<usize>,
    /// Where each way on leads; only [`Act::Finish`] has none.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub next: BTreeMap<Way, usize>,
}

/// A way on from a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// The only way.
    Then,
    /// The condition holds; the need is met.
    Yes,
    /// It does not.
    No,
    /// There is no reading to decide by.
    NoReading,
    /// All that was judged is in.
    In,
    /// Something that was judged is out, or could not be judged.
    Out,
    /// The loop goes round once more.
    Again,
    /// The loop has gone round as often as it may.
    Spent,
    /// What was performed ended passed.
    Passed,
    /// It ended failed.
    Failed,
    /// It ended unfinished.
    Unfinished,
    /// It ended by referring to another procedure.
    Referred,
    /// What was to be held while this is done is lost.
    Lost,
}

/// What a node is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Act {
    /// A procedure begins: frame 0, or one that is performed.
    Open,
    /// A step begins.
    Step {
        /// The step.
        step: usize,
    },
    /// A caution is shown; it covers its hazard from here on.
    Caution {
        /// The hazard.
        hazard: usize,
        /// Its signal word here.
        level: Level,
        /// Its words.
        text: String,
    },
    /// The block ends in which these cautions stood: they go on only where their hazard lasts.
    Uncover {
        /// The nodes of the cautions.
        cautions: Vec<usize>,
    },
    /// Information, nothing to do.
    Note {
        /// Its words.
        text: String,
    },
    /// Does this hold already? `yes` or `no`.
    Need {
        /// What must hold.
        required: Required,
        /// The question, "The engine is stopped".
        says: String,
        /// Only a proof tells: never asked. It holds if it was proved in this job.
        #[serde(default)]
        proved: bool,
    },
    /// From here until `restore` the slot stays as it is.
    Keep {
        /// The slot.
        slot: usize,
        /// The state it is kept in.
        state: usize,
    },
    /// A span begins: until its `release` something is held, and whatever is asked meanwhile has a way `lost`.
    Hold(Hold),
    /// A span ends.
    Release {
        /// The node of its `hold`.
        hold: usize,
        /// Whether what was held is so no longer.
        #[serde(default)]
        lost: bool,
    },
    /// Something is done by hand; `no-reading` where the band to set to cannot be worked out.
    Work(Work),
    /// Readings are taken.
    Measure(Measure),
    /// Is it in band? `in` or `out`; an open `out` makes the result failed.
    Judge(Judge),
    /// The size from a series that is nearest to a value; `no-reading` where none fits.
    Choose(Choose),
    /// A question with a choice of answers.
    Ask {
        /// The question.
        question: usize,
    },
    /// `yes`, `no`, or `no-reading` where it cannot be decided.
    Branch {
        /// What is asked.
        condition: Condition,
    },
    /// Somebody signs for the step, or for what was put back; with two persons the second is another one: a hold point.
    Sign {
        /// How many sign, 1 or 2.
        persons: u32,
    },
    /// Time passes.
    Wait {
        /// Seconds.
        seconds: Num,
        /// The event from which the time counts, in words.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        since: Option<String>,
        /// The slots that have been ripening since that event.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        ripens: Vec<usize>,
        /// The instruction.
        says: String,
    },
    /// A loop begins: its counter starts anew.
    Begin {
        /// The counter.
        counter: usize,
    },
    /// `again` while the counter allows, then `spent`.
    Count {
        /// The counter.
        counter: usize,
    },
    /// A probable cause is noted.
    Cause {
        /// The item, as people call it.
        item: String,
        /// Why.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        text: Option<String>,
        /// Where to find it, for an item that says so.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        located: Option<String>,
    },
    /// The procedure's outcome is settled; what remains is `restore`.
    End(End),
    /// A reading is out and the text says nothing: never in a card that is proved.
    Unhandled,
    /// The list of debts begins: what is put back on every way out.
    Restore,
    /// A frame ends; a performed one goes on by its result.
    Close,
    /// The card is done.
    Finish,
}

/// Work by hand.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Work {
    /// The verb; none for a free instruction.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub verb: Option<String>,
    /// The instruction in full, "Remove the belt guard."
    pub says: String,
    /// What more the technician is told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// The slots of the thing itself: in `restore` they tell whether anything is owed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own: Vec<usize>,
    /// What the verb itself changes: for each slot in it the first move whose `from` fits; none that fits is a wrong state.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub moves: Vec<Move>,
    /// What comes about beside it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub brings: Vec<Move>,
    /// Hazards of this moment.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hazards: Vec<usize>,
    /// What must hold for it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<Required>,
    /// The readings that it may have moved.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub disturbs: Vec<usize>,
    /// The slots whose lasting states it begins to run down.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub clocks: Vec<usize>,
    /// The slots that begin to ripen; one that ripens already goes on, unless this work brings it back.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ripens: Vec<usize>,
    /// What the tools must be for it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ready: Vec<Ready>,
    /// A band to set to: torque.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<usize>,
    /// A band to set to that is worked out from readings, instead of `limit`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worked_out: Option<WorkedOut>,
    /// What the wrench must be set to, where an adapter makes that another torque than the one at the fastener.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leverage: Option<Leverage>,
    /// The tools it is done with.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tools: Vec<usize>,
    /// For a tightening in stages: which of them this is. Only the last one brings about what `moves` says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<Stage>,
    /// In `restore`: silently skipped where everything is already so.
    #[serde(default)]
    pub if_owed: bool,
}

impl Work {
    /// The hazards that it exposes to, those of the states it leads to among them.
    pub fn exposes(&self, slots: &[Slot]) -> Vec<usize> {
        let mut all = self.hazards.clone();
        for step in self.moves.iter().chain(&self.brings) {
            let Some(slot) = slots.get(step.slot) else { continue };
            all.extend(slot.hazards.iter().filter(|(state, _)| *state == step.to).map(|(_, hazard)| *hazard));
        }
        all
    }
}

/// What a wrench with an adapter must be set to, in proportion to the torque at the fastener: length of the wrench by the
/// length of both together (NAVEDTRA 14315; FAA AC 43.13-1B chapter 7).
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Leverage {
    /// The wrench.
    pub tool: usize,
    /// The proportion is at least this much,
    pub least: Num,
    /// and at most this much; the same for an adapter that is straight on.
    pub most: Num,
}

impl Leverage {
    /// The band that the wrench is set to, for a band at the fastener, both in base units: never a looser one.
    pub fn setting(&self, band: &Band) -> Band {
        let (least, most) = (&self.least.0, &self.most.0);
        let end = |bound: &Bound, low: bool| {
            let (one, other) = (&bound.value * least, &bound.value * most);
            let value = if low { one.max(other) } else { one.min(other) };
            Bound { value, closed: bound.closed }
        };
        Band {
            low: band.low.as_ref().map(|bound| end(bound, true)),
            high: band.high.as_ref().map(|bound| end(bound, false)),
        }
    }
}

impl Leverage {
    /// All that the wrench may have to be set to for torques that lie in a band, both in base units.
    pub fn reach(&self, band: &Band) -> Band {
        let both = |bound: &Bound| [&bound.value * &self.least.0, &bound.value * &self.most.0];
        Band {
            low: band.low.as_ref().and_then(|end| both(end).into_iter().min()).map(Bound::closed),
            high: band.high.as_ref().and_then(|end| both(end).into_iter().max()).map(Bound::closed),
        }
    }
}

/// One of the stages in which something is tightened: all bolts are done by it before the next one begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Stage {
    /// Its number, from 1.
    pub number: u32,
    /// How many there are.
    pub of: u32,
}

impl Stage {
    /// Whether another one follows.
    pub fn goes_on(self) -> bool {
        self.number < self.of
    }
}

/// A decision that counts for the result.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Judge {
    /// What must hold.
    pub condition: Condition,
    /// Whether the bands to set to are meant.
    #[serde(default)]
    pub adjusting: bool,
    /// The judging nodes that are settled when all is in here, this one among them.
    pub settles: Vec<usize>,
    /// What is proved when all is in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub proves: Vec<Move>,
}

/// How a procedure ends.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct End {
    /// The outcome.
    pub outcome: Outcome,
    /// What the technician is told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// The procedure referred to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refer: Option<String>,
    /// Inside `restore`: what is left there stays as an open list.
    #[serde(default)]
    pub in_restore: bool,
}

/// What a text can end with; "adjusted and passed" is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Outcome {
    Passed,
    Failed,
    Unfinished,
    Referred,
}
