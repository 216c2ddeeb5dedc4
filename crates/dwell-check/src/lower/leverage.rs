//! A torque wrench with an adapter: what the wrench must be set to for the torque at the fastener.

use super::Lowerer;
use crate::finding::Place;
use crate::model::{Abilities, Item};
use crate::trouble::Trouble;
use dwell_card::graph::Leverage;
use dwell_card::number::Num;
use dwell_quantity::{Exact, cosine};
use dwell_syntax::tree::Name;

/// Words for things that take the fastener away from the square drive.
const ADAPTERS: [&str; 5] = ["adapter", "adaptor", "crowfoot", "crow foot", "offset"];

impl<'a> Lowerer<'a> {
    /// The leverage of the adapters among the tools of a tightening; none where there is none, or where they change nothing.
    pub(super) fn leverage(&mut self, with: &[Name], place: Place) -> Option<Leverage> {
        let known: Vec<(&Name, &'a Item, &'a Abilities)> = with
            .iter()
            .filter_map(|name| {
                let thing = self.tool_of(name)?;
                Some((name, thing, thing.tool.as_ref()?))
            })
            .collect();
        let wrench =
            known.iter().find(|(_, _, can)| can.sets.iter().any(|able| able.kind.name() == "torque"));
        let (wrench_name, wrench, can) = wrench.copied()?;
        let (mut least, mut most) = (Exact::zero(), Exact::zero());
        for (name, thing, adapter) in &known {
            let Some((by, at)) = &adapter.extends else {
                if is_adapter(thing, adapter) {
                    return self.without_length(self.place(name.span), thing, thing, wrench);
                }
                continue;
            };
            let (low, high) = cosine(at);
            let (one, other) = (by * &low, by * &high);
            least = least + one.clone().min(other.clone());
            most = most + one.max(other);
        }
        if least.is_zero() && most.is_zero() {
            return None;
        }
        let Some(reach) = &can.reaches else {
            let adapter = known.iter().find(|(_, _, adapter)| adapter.extends.is_some());
            let (name, thing, _) = adapter.copied()?;
            return self.without_length(self.place(name.span), thing, wrench, wrench);
        };
        let both = |arm: &Exact| Some(reach + arm).filter(|both| !both.is_negative() && !both.is_zero());
        let (Some(short), Some(long)) = (both(&least), both(&most)) else {
            self.cannot(
                place,
                "the adapter points back further than the wrench reaches",
                "look at its `extends` and at what the wrench `reaches`",
            );
            return None;
        };
        let tool = self.tool_named(wrench_name)?;
        let (least, most) = (reach.checked_div(&long)?, reach.checked_div(&short)?);
        Some(Leverage { tool, least: Num(least), most: Num(most) })
    }

    fn without_length(
        &mut self,
        place: Place,
        adapter: &Item,
        missing: &Item,
        wrench: &Item,
    ) -> Option<Leverage> {
        self.troubles.push(Trouble::AdapterWithoutLength {
            place,
            adapter: adapter.label.clone(),
            wrench: wrench.label.clone(),
            missing: missing.label.clone(),
            is_wrench: missing.name == wrench.name,
            declared: missing.place,
        });
        None
    }
}

/// Whether a tool that says nothing of itself is called an adapter, or another thing that changes the arm.
fn is_adapter(thing: &Item, can: &Abilities) -> bool {
    let label = thing.label.to_lowercase();
    can.sets.is_empty()
        && can.measures.is_empty()
        && ADAPTERS.iter().any(|word| label.contains(word) || thing.name.contains(word))
}
