//! The statements of a procedure in the tree.

use super::{Amount, Band, ComputedBand, Condition, Expr, Fold, Name, Span, Text};

/// Statements between braces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Block {
    /// In order.
    pub statements: Vec<Statement>,
    /// From the opening to the closing brace, both included.
    pub span: Span,
}

/// One statement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Statement {
    /// What it says.
    pub kind: StatementKind,
    /// Where it stands, `otherwise` arms included.
    pub span: Span,
}

/// The signal word of a caution or a hazard, after ANSI Z535.6 and ISO 3864; ordered from the mildest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Level {
    Notice,
    Caution,
    Warning,
    Danger,
}

/// The forms of a statement.
#[derive(Clone, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum StatementKind {
    /// `warning exhaust-gas "…"`.
    Caution { level: Level, hazard: Name, text: Option<Text> },
    /// `note "…"`.
    Note(Text),
    /// `remove belt-guard`, `tighten bolt to bolt-torque with wrench "…"`.
    Handle(Handle),
    /// `do "…" brings … zeroes …`.
    Do { text: Text, brings: Vec<Effect>, zeroes: Option<Name> },
    /// `measure tension: belt-frequency with belt-meter 3 times take mean`, `measure toe again`.
    Measure(Measure),
    /// `read rim: wheel-diameter from "…" expected 12 .. 24 in`.
    Read { name: Name, kind: Option<Name>, from: Text, expected: Option<Band> },
    /// `expect … proves … otherwise …`.
    Expect { condition: Condition, proves: Option<StateOf>, otherwise: Vec<Arm> },
    /// `adjust tension to belt-tension up to 5 times by { … } otherwise { … }`.
    Adjust { what: Vec<(Name, Name)>, times: Option<Number32>, block: Block, otherwise: Vec<Arm> },
    /// `if … { } else if … { } else { }`.
    If { arms: Vec<(Condition, Block)>, last: Option<Block> },
    /// `ask lamp "…?" one of lit, dark`; without `one of` the answers are yes and no.
    Ask { name: Name, text: Text, answers: Vec<Name> },
    /// `let total: total-toe = sum of toe`.
    Let { name: Name, kind: Option<Name>, value: Expr },
    /// `let preload-limit = drag + 6 lbf·in .. drag + 10 lbf·in never above 18 lbf·in`.
    LetBand { name: Name, kind: Option<Name>, band: ComputedBand },
    /// `wait 2 min since start engine "…"`.
    Wait { duration: Amount, since: Option<Event>, text: Option<Text> },
    /// `perform relieve-rail`.
    Perform { what: Name, otherwise: Vec<Arm> },
    /// `refer to charging-faults "…"`.
    Refer { to: Name, text: Option<Text> },
    /// `cause regulator "Does not open."`.
    Cause { item: Name, text: Option<Text> },
    /// `end passed | failed | unfinished "…"`; the word as typed.
    End { outcome: Name, text: Option<Text> },
    /// `back to cool up to 4 times otherwise { … }`.
    Back { step: Name, times: Option<Number32>, otherwise: Vec<Arm> },
    /// `on to wet`.
    On { step: Name },
    /// `keep battery-lead connected`, or a span with a block.
    Keep(Keep),
    /// `for each cylinder where … { … }`.
    ForEach { positions: Name, condition: Option<Condition>, block: Block },
    /// `choose new-shim from shims nearest wanted otherwise { … }`.
    Choose { name: Name, from: Name, nearest: Expr, otherwise: Vec<Arm> },
    /// `waive caution-missing because "…"`.
    Waive { rule: Name, because: Text },
    /// What could not be read; a slip stands beside the tree.
    Broken,
}

/// A verb with its item.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handle {
    /// The verb.
    pub verb: Name,
    /// What it is done to.
    pub item: Name,
    /// `to belt-span`, `to tensioner-torque`, `to 20 ± 2 N·m`.
    pub to: Option<To>,
    /// `at each stud`: the positions.
    pub at_each: Option<Name>,
    /// `at left`: one place.
    pub at: Option<Name>,
    /// `with torque-wrench, angle-disc`.
    pub with: Vec<Name>,
    /// What more the technician is told.
    pub text: Option<Text>,
}

/// What stands after `to`: decided by the kind of name, or a band.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum To {
    /// An item or a spec.
    Name(Name),
    /// A band on the spot.
    Band(Band),
}

/// What an action brings about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// A hazard, for that moment or as long as the state lasts.
    Hazard(Name),
    /// A state of an item.
    State(StateOf),
}

/// `engine is stopped`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StateOf {
    /// The item.
    pub item: Name,
    /// `at left`, for an item that is there more than once.
    pub at: Option<Name>,
    /// The state.
    pub state: Name,
    /// Where it stands.
    pub span: Span,
}

/// A reading that a `measure` takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewReading {
    /// Its name.
    pub name: Name,
    /// Its kind of quantity; without one it has the quantity that it is named like.
    pub kind: Option<Name>,
}

/// A `measure` statement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measure {
    /// What is read, at least one.
    pub readings: Vec<NewReading>,
    /// `again`: same tool, same way.
    pub again: bool,
    /// `with belt-meter`.
    pub with: Option<Name>,
    /// How it is taken, in the order typed.
    pub clauses: Vec<Clause>,
    /// What more the technician is told.
    pub text: Option<Text>,
}

/// How a measurement is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Clause {
    /// `at battery-posts`: an item, or a place.
    At(Name),
    /// `at each front-wheel`.
    AtEach(Name),
    /// `after 10 s`.
    After(Amount),
    /// `every 0.75 s`.
    Every(Amount),
    /// `averaging 5 s`.
    Averaging(Amount),
    /// `over 20 s`, `over 1 turn`; `true` for `over at most …`.
    Over(Amount, bool),
    /// `3 times`.
    Times(Number32),
    /// `take mean`.
    Take(Fold, Span),
    /// `until coolant at least 85 °C`.
    Until(Condition),
}

/// A small whole number such as the 5 of `up to 5 times`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Number32 {
    /// Its value, 1 to 10,000.
    pub value: u32,
    /// Where it stands.
    pub span: Span,
}

/// `start engine` in `wait 2 min since start engine`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// The verb.
    pub verb: Name,
    /// The item.
    pub item: Name,
}

/// What `otherwise` does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arm {
    /// Which way it was out; `None` for all that is left.
    pub side: Option<Side>,
    /// `otherwise high hc`: only this reading.
    pub of: Option<Name>,
    /// What is done.
    pub block: Block,
    /// Where it stands, from `otherwise`.
    pub span: Span,
}

/// Which way a reading is out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Side {
    Low,
    High,
    NoReading,
}

/// `keep battery-lead connected`, `keep engine-speed within 2500 ± 300 rpm with analyser "…" { … }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keep {
    /// What is kept.
    pub what: Kept,
    /// `with analyser`.
    pub with: Option<Name>,
    /// What more the technician is told.
    pub text: Option<Text>,
    /// A span; without one it holds until `restore`.
    pub block: Option<Block>,
    /// Where leaving the span goes.
    pub otherwise: Vec<Arm>,
}

/// What a `keep` keeps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kept {
    /// An item in a state.
    State(StateOf),
    /// A quantity in a band.
    Quantity(Name, Band),
}
