//! A torque wrench with an adapter: what the wrench must be set to for the torque at the fastener.

use super::Lowerer;
use crate::finding::Place;
use crate::model::{Abilities, Item};
use crate::trouble::{Lacks, Trouble};
use dwell_card::graph::Leverage;
use dwell_card::number::Num;
use dwell_quantity::{Exact, cosine};
use dwell_syntax::tree::Name;

/// Words for things that take the fastener away from the square drive (terms of the trade, no source). A straight extension and a
/// socket keep it in line with the drive and change nothing, and an insert is as long as the wrench was adjusted for: none of
/// them is here.
const ADAPTERS: [&str; 12] = [
    "adapter",
    "adaptor",
    "crowfoot",
    "crow foot",
    "crows foot",
    "crow ring",
    "claw foot",
    "claw spanner",
    "claw wrench",
    "dog bone",
    "dogbone",
    "offset",
];

/// Words for a gear between the wrench and the fastener.
const GEARS: [&str; 1] = ["multiplier"];

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
                if called(thing, adapter, &GEARS) {
                    return self.without_length(self.place(name.span), thing, Lacks::Ratio, wrench);
                }
                if called(thing, adapter, &ADAPTERS) {
                    return self.without_length(self.place(name.span), thing, Lacks::Adapter, wrench);
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
            return self.without_length(self.place(name.span), thing, Lacks::Wrench, wrench);
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
        lacks: Lacks,
        wrench: &Item,
    ) -> Option<Leverage> {
        let missing = if lacks == Lacks::Wrench { wrench } else { adapter };
        self.troubles.push(Trouble::AdapterWithoutLength {
            place,
            adapter: adapter.label.clone(),
            wrench: wrench.label.clone(),
            missing: missing.label.clone(),
            lacks,
            declared: missing.place,
        });
        None
    }
}

/// Whether a tool that says nothing of itself has one of these words in its name or label, however that is hyphenated.
fn called(thing: &Item, can: &Abilities, words: &[&str]) -> bool {
    let plain =
        |text: &str| text.to_lowercase().replace(['-', '\u{2010}', '\u{2011}'], " ").replace(['\'', '’'], "");
    let (label, name) = (plain(&thing.label), plain(&thing.name));
    can.sets.is_empty()
        && can.measures.is_empty()
        && words.iter().any(|word| label.contains(word) || name.contains(word))
}
