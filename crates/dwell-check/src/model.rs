//! What the declarations mean: every name resolved, every limit an exact number in the base unit of its kind.
//!
//! Lists are over the whole program; [`Scope`] says which names one file sees.

mod house;
mod limit;
mod tool;

pub use house::{House, SignalWords};
pub use limit::{ResolvedBand, RowGroup, Rows, Series, Spec, SpecBand, SpecStage};
pub use tool::{Abilities, Ability, Readiness, Zeroing};

use crate::finding::Place;
use dwell_card::vehicle::Level;
use dwell_quantity::{Band, Exact, Kind};
use std::collections::HashMap;

/// Everything that is declared.
#[derive(Clone, Debug, Default)]
#[allow(missing_docs)]
pub struct Model {
    pub handlings: Vec<Handling>,
    /// Items and, with `tool`, tools.
    pub items: Vec<Item>,
    pub quantities: Vec<Quantity>,
    /// Specs and, with `rows`, tables.
    pub specs: Vec<Spec>,
    pub series: Vec<Series>,
    pub hazards: Vec<Hazard>,
    pub variants: Vec<Choice>,
    pub positions: Vec<Choice>,
    pub procedures: Vec<ProcedureHead>,
    /// What the house has agreed for all procedures.
    pub house: House,
    /// What each file sees, by the file's place in the program.
    pub scopes: Vec<Scope>,
}

/// The names that one file sees: its own, those of the files it uses directly, and the prelude's.
#[derive(Clone, Debug, Default)]
pub struct Scope {
    /// Each name and what it names.
    pub names: HashMap<String, Thing>,
}

/// What a name can name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Thing {
    Handling(usize),
    Item(usize),
    Tool(usize),
    Quantity(usize),
    /// A kind of the closed table.
    Kind(Kind),
    Spec(usize),
    Table(usize),
    Series(usize),
    Hazard(usize),
    Variant(usize),
    Positions(usize),
    Procedure(usize),
}

impl Thing {
    /// What it is, for people: "an item", "a spec".
    pub fn what(self) -> &'static str {
        match self {
            Thing::Handling(_) => "a handling",
            Thing::Item(_) => "an item",
            Thing::Tool(_) => "a tool",
            Thing::Quantity(_) => "a quantity",
            Thing::Kind(_) => "a kind of quantity",
            Thing::Spec(_) => "a spec",
            Thing::Table(_) => "a table",
            Thing::Series(_) => "a series",
            Thing::Hazard(_) => "a hazard",
            Thing::Variant(_) => "a variant",
            Thing::Positions(_) => "a set of positions",
            Thing::Procedure(_) => "a procedure",
        }
    }
}

/// A small state machine.
#[derive(Clone, Debug)]
pub struct Handling {
    /// Its name.
    pub name: String,
    /// Where it is declared.
    pub place: Place,
    /// Its states, the normal one first.
    pub states: Vec<String>,
    /// Its verbs in order: verb, the states it leads from, the state it leads to.
    pub verbs: Vec<(String, Vec<usize>, usize)>,
    /// What only a proof brings about: from, to.
    pub proofs: Vec<(Vec<usize>, usize)>,
    /// States that are no debt.
    pub may_stay: Vec<usize>,
}

impl Handling {
    /// Whether a state is reached by proof only.
    pub fn proved(&self, state: usize) -> bool {
        self.proofs.iter().any(|(_, to)| *to == state) && !self.verbs.iter().any(|(_, _, to)| *to == state)
    }

    /// Whether it has this verb.
    pub fn has_verb(&self, verb: &str) -> bool {
        self.verbs.iter().any(|(name, _, _)| name == verb)
    }
}

/// A thing of the vehicle, or a tool.
#[derive(Clone, Debug)]
pub struct Item {
    /// Its name.
    pub name: String,
    /// Where it is declared (its name).
    pub place: Place,
    /// What people call it; its name with blanks where no label is given.
    pub label: String,
    /// Its handlings, by their place in the model.
    pub handlings: Vec<usize>,
    /// The positions that it is there at.
    pub at_each: Option<usize>,
    /// What its verbs and states bring, its handlings' lines included.
    pub brings: Vec<Brings>,
    /// What its verbs need.
    pub needs: Vec<Needs>,
    /// What its verbs move.
    pub moves: Vec<Moves>,
    /// The verbs that have play.
    pub plays: Vec<Play>,
    /// What must be judged after its verbs.
    pub checked: Vec<CheckedBy>,
    /// Which of its verbs somebody signs for.
    pub signed: Vec<SignedFor>,
    /// States with a shelf life: state, seconds, and the verb from which it counts.
    pub lasts: Vec<(StateRef, Exact, Option<String>)>,
    /// States that are no debt of this item, beside those of its handlings: which handling, which state.
    pub may_stay: Vec<(usize, usize)>,
    /// Where it is, in words.
    pub located: Option<String>,
    /// The spec that its tightening follows.
    pub torque: Option<usize>,
    /// The connectors or threads that it fits, each as written.
    pub fits: Vec<String>,
    /// What must be so of it before it is read; for tools.
    pub ready: Readiness,
    /// For a tool: what it can do.
    pub tool: Option<Abilities>,
}

/// A state of an item: the item, which of its handlings, which state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct StateRef {
    /// The item, by its place in the model.
    pub item: usize,
    /// `at left`: the place among the item's positions; `None` means each of them, or the one.
    pub at: Option<usize>,
    /// Which of its handlings, by its place in [`Item::handlings`].
    pub handling: usize,
    /// The state, by its place in the handling.
    pub state: usize,
}

/// A verb or a state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A verb of the item's handlings.
    Verb(String),
    /// A state: which handling of the item, which state.
    State(usize, usize),
}

/// What comes about beside a verb, or as long as a state may hold.
#[derive(Clone, Debug)]
pub struct Brings {
    /// Whose effect it is.
    pub subject: Subject,
    /// A hazard, or a state of another item.
    pub effect: Effect,
    /// Only when all these hold.
    pub when: Vec<When>,
    /// Where it is written.
    pub place: Place,
}

/// The two forms of an effect.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// A hazard, by its place in the model.
    Hazard(usize),
    /// A state.
    State(StateRef),
}

/// What a verb needs.
#[derive(Clone, Debug)]
pub struct Needs {
    /// The verb.
    pub verb: String,
    /// What must hold.
    pub state: StateRef,
    /// Only when all these hold.
    pub when: Vec<When>,
    /// Where it is written.
    pub place: Place,
}

/// Which quantities a verb moves.
#[derive(Clone, Debug)]
pub struct Moves {
    /// The verb.
    pub verb: String,
    /// The quantity.
    pub quantity: QuantityRef,
    /// By how much one step of the adjuster moves it, in base units, where its gain and its steps are said.
    pub step: Option<Exact>,
    /// Where it is written.
    pub place: Place,
}

/// A verb that has play: turned back, it moves nothing at first.
#[derive(Clone, Debug)]
pub struct Play {
    /// The verb.
    pub verb: String,
    /// What the technician is told wherever it is done: from which side to come.
    pub told: Option<String>,
    /// Where it is written.
    pub place: Place,
}

/// By what a verb is checked.
#[derive(Clone, Debug)]
pub struct CheckedBy {
    /// The verb.
    pub verb: String,
    /// The spec or table that something must be judged by after it.
    pub spec: usize,
    /// Where it is written.
    pub place: Place,
}

/// A verb that somebody signs for.
#[derive(Clone, Debug)]
pub struct SignedFor {
    /// The verb.
    pub verb: String,
    /// How many sign: 1 or 2.
    pub persons: u8,
    /// Where it is written.
    pub place: Place,
}

/// A condition of a declaration.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum When {
    /// A variant has one of these values: the variant and its values by their places.
    Variant(usize, Vec<usize>),
    /// The place in hand is one of these.
    Position(usize, Vec<usize>),
    /// An item is in one of these states.
    State(Vec<StateRef>),
}

/// A kind of the closed table, or a declared quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum QuantityRef {
    /// A kind as such.
    Kind(Kind),
    /// A declared quantity, by its place in the model.
    Declared(usize),
}

/// One kind of quantity more.
#[derive(Clone, Debug)]
pub struct Quantity {
    /// Its name.
    pub name: String,
    /// Where it is declared.
    pub place: Place,
    /// What it is, in words.
    pub label: Option<String>,
    /// The quantity or kind that it is one of.
    pub parent: QuantityRef,
    /// Its kind in the closed table.
    pub kind: Kind,
    /// It has a value at each of these positions.
    pub at_each: Option<usize>,
    /// The band that it never leaves, in base units.
    pub span: Band,
    /// The words for its two signs.
    pub signs: (Option<String>, Option<String>),
    /// What must hold for a reading to mean anything.
    pub needs: Vec<(StateRef, Vec<When>, Place)>,
    /// The quantities that it moves.
    pub moves: Vec<QuantityRef>,
    /// `limits at least` (`true`) or `limits at most`.
    pub side: Option<bool>,
}

/// The day from which on something must not be used any more.
#[derive(Clone, Debug)]
pub struct Withdrawn {
    /// The day, year-month-day.
    pub on: String,
    /// Why, and what takes its place.
    pub why: String,
    /// Where that is said.
    pub place: Place,
}

/// A hazard.
#[derive(Clone, Debug)]
pub struct Hazard {
    /// Its name.
    pub name: String,
    /// Where it is declared.
    pub place: Place,
    /// Its level.
    pub level: Level,
    /// Its usual caution; its name where none is given.
    pub text: String,
}

/// A variant or a set of positions.
#[derive(Clone, Debug)]
pub struct Choice {
    /// Its name.
    pub name: String,
    /// Where it is declared.
    pub place: Place,
    /// Its values.
    pub values: Vec<String>,
}

/// Where a procedure is; its body stays in the tree.
#[derive(Clone, Debug)]
pub struct ProcedureHead {
    /// Its name.
    pub name: String,
    /// Where its name is declared.
    pub place: Place,
    /// Its declaration, by its place in the file's tree.
    pub declaration: usize,
    /// The day of its revision, year-month-day.
    pub revised: Option<String>,
    /// From which day on it must not be used any more.
    pub withdrawn: Option<Withdrawn>,
}

impl Model {
    /// The kind in the closed table.
    pub fn kind(&self, quantity: QuantityRef) -> Option<Kind> {
        match quantity {
            QuantityRef::Kind(kind) => Some(kind),
            QuantityRef::Declared(place) => self.quantities.get(place).map(|quantity| quantity.kind),
        }
    }

    /// Its name, for people.
    pub fn quantity_name(&self, quantity: QuantityRef) -> &str {
        match quantity {
            QuantityRef::Kind(kind) => kind.name(),
            QuantityRef::Declared(place) => {
                self.quantities.get(place).map_or("", |quantity| quantity.name.as_str())
            }
        }
    }

    /// Whether `quantity` is `of`, or one of its kind: a reading of `fuel-pressure` is one of `gauge-pressure`, and a
    /// direct voltage is an electric potential.
    pub fn is_a(&self, quantity: QuantityRef, of: QuantityRef) -> bool {
        let mut now = quantity;
        loop {
            if now == of {
                return true;
            }
            match now {
                QuantityRef::Kind(kind) => return matches!(of, QuantityRef::Kind(of) if kind.is_a(of)),
                QuantityRef::Declared(place) => match self.quantities.get(place) {
                    Some(declared) if declared.parent != now => now = declared.parent,
                    _ => return false,
                },
            }
        }
    }

    /// Whether the two may meet: one is of the other's kind.
    pub fn may_meet(&self, one: QuantityRef, other: QuantityRef) -> bool {
        self.is_a(one, other) || self.is_a(other, one)
    }
}
