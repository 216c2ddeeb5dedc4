//! The declarations of a file in the tree.

use super::{
    Amount, Band, Block, Effect, Expr, Fold, Keep, Level, Name, Number, Number32, Span, StateOf, Statement,
    Text,
};

/// One declaration.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Declaration {
    /// What it declares.
    pub kind: DeclarationKind,
    /// `hazard … { waive … }`: what is waived in a series, a hazard, a variant or positions, which have no other lines.
    pub waivers: Vec<Line>,
    /// Where it stands.
    pub span: Span,
}

/// The forms of a declaration.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DeclarationKind {
    /// `use "vehicle.dwell"`.
    Use(Text),
    /// A small state machine.
    Handling(Handling),
    /// A thing of the vehicle.
    Item(Item),
    /// One kind of quantity more.
    Quantity(Quantity),
    /// Bands for a quantity.
    Spec(Spec),
    /// Bands by another reading.
    Table(Table),
    /// `series shims: shim-thickness 2.20 .. 3.20 mm steps of 0.02 mm`.
    Series(Series),
    /// A tool.
    Tool(Tool),
    /// A hazard with its usual caution.
    Hazard(Hazard),
    /// `variant engine-family: k9, k9h`.
    Variant(Choice),
    /// `positions cylinder: 1, 2, 3, 4`.
    Positions(Choice),
    /// A procedure.
    Procedure(Box<Procedure>),
    /// What could not be read; a slip stands beside the tree.
    Broken,
}

/// `handling hose { states connected, open  disconnect: connected -> open }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handling {
    /// Its name.
    pub name: Name,
    /// Its states, the normal one first.
    pub states: Vec<Name>,
    /// What leads from one to another.
    pub transitions: Vec<Transition>,
    /// What its verbs and states do to others.
    pub lines: Vec<Line>,
}

/// `remove: tight, loose -> out`, `by proof: isolated -> dead`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Transition {
    /// The verb; `None` for `by proof`.
    pub verb: Option<Name>,
    /// The states it leads from.
    pub from: Vec<Name>,
    /// The state it leads to.
    pub to: Name,
    /// Where it stands.
    pub span: Span,
}

/// `item engine: startable, heatable "engine" { … }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// Its name.
    pub name: Name,
    /// How it is handled, at least one.
    pub handlings: Vec<Name>,
    /// `at each cylinder`: it is there once for each place.
    pub at_each: Option<Name>,
    /// What people call it.
    pub label: Option<Text>,
    /// What its verbs and states do.
    pub lines: Vec<Line>,
}

/// `quantity toe: angle at each front-wheel "…" { … }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// Its name.
    pub name: Name,
    /// The kind of quantity that it is.
    pub kind: Name,
    /// It has a value for each place.
    pub at_each: Option<Name>,
    /// How it is defined, in words.
    pub label: Option<Text>,
    /// Its lines.
    pub lines: Vec<Line>,
}

/// One line inside a handling, an item, a quantity or a tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it says.
    pub kind: LineKind,
    /// `when pump-fuse is fitted`: only then (states and variants).
    pub when: Vec<When>,
    /// Where it stands.
    pub span: Span,
}

/// `charging is single` after `when`; the values are alternatives.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct When {
    /// A variant, a set of positions or an item.
    pub name: Name,
    /// Its values or states.
    pub values: Vec<Name>,
    /// Where it stands.
    pub span: Span,
}

/// The forms of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum LineKind {
    /// `running brings moving-parts, exhaust-gas`: a verb or a state, and what it brings.
    Brings(Name, Vec<Effect>),
    /// `start needs gearbox is neutral`, in a quantity without a subject.
    Needs(Option<Name>, Vec<StateOf>),
    /// `tighten moves toe`, in a quantity without a subject; gain and step of an adjuster where given.
    Moves { subject: Option<Name>, what: Vec<Name>, gain: Option<(Amount, Amount)>, steps: Option<Amount> },
    /// `warm lasts 20 min after stop`.
    Lasts { state: Name, duration: Amount, after: Option<Name> },
    /// `turn has play "Come to it from the loose side."`: a verb, and what the technician is told of it.
    Play { verb: Name, told: Option<Text> },
    /// `may stay relieved`.
    MayStay(Vec<Name>),
    /// `torque tensioner-torque`.
    Torque(Name),
    /// `located "fuse box, place 14"`.
    Located(Text),
    /// `never below 0 mm`, `never outside 0 .. 100 %vol`, `never above …`: the band in which it always is.
    Never(NeverSide, Band),
    /// `positive "toe-in"`.
    Positive(Text),
    /// `negative "toe-out"`.
    Negative(Text),
    /// `limits at least` (`true`) or `limits at most`.
    Limits { at_least: bool },
    /// `means spread over 1 turn`.
    Means(Fold, Option<Amount>),
    /// `connect checked by rail-pressure`: the verb, and the specs that something must be judged by after it.
    CheckedBy { verb: Name, by: Vec<Name> },
    /// `refit signed twice`: the verb, and how many sign for it.
    SignedFor { verb: Name, persons: u8 },
    /// `is sum of toe`.
    IsFold(Expr),
    /// `measures belt-frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz`.
    Measures(Ability),
    /// `sets torque 30 .. 150 lbf·ft …`.
    Sets(Ability),
    /// `fits "M12x1.5"`.
    Fits(Text),
    /// `calibrated every 12 months`: the number of months.
    Calibrated(Number32),
    /// `warms up 15 min`.
    WarmsUp(Amount),
    /// `settles 10 s`.
    Settles(Amount),
    /// `zeroed after each connect`, `zeroed before each procedure`: the last word.
    Zeroed { after: bool, what: Name },
    /// `reaches 350 mm`: from the square drive to the hand.
    Reaches(Amount),
    /// `extends 25 mm at 45 °`: from the square drive to the fastener, and at which angle to the wrench.
    Extends { by: Amount, at: Option<Amount> },
    /// `impedance at least 10 MΩ`.
    Impedance(Band),
    /// `waive quantity-unused because "…"`.
    Waive { rule: Name, because: Text },
}

/// Which side of its number a quantity can never be on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum NeverSide {
    Below,
    Above,
    Outside,
}

/// What a tool can measure or set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ability {
    /// The kind of quantity.
    pub kind: Name,
    /// The range, or (for `sets dc-voltage 500 V`) the one value.
    pub range: Option<Band>,
    /// The smallest step that can be read.
    pub resolution: Option<Amount>,
    /// `± 0.2 % of reading ± 2 digits`: the parts, added.
    pub accuracy: Vec<AccuracyPart>,
    /// `needs multimeter is volts`: what must hold while it measures or is set.
    pub needs: Vec<StateOf>,
}

/// A part of an accuracy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AccuracyPart {
    /// `± 0.5 Hz`.
    Fixed(Amount),
    /// `± 0.2 % of reading`.
    OfReading(Amount),
    /// `± 2 digits`.
    Digits(Number),
}

/// `spec belt-tension: belt-frequency { … }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spec {
    /// Its name.
    pub name: Name,
    /// Its kind of quantity.
    pub kind: Name,
    /// Its lines.
    pub lines: Vec<SpecLine>,
}

/// One line of a spec or a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpecLine {
    /// What it says.
    pub kind: SpecLineKind,
    /// Where it stands.
    pub span: Span,
}

/// The forms of a line in a spec.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SpecLineKind {
    /// `check 62 ± 6 Hz when charging is single`.
    Check(Band, Vec<When>),
    /// `adjust 62 ± 3 Hz`.
    Adjust(Band, Vec<When>),
    /// `not adjustable`.
    NotAdjustable,
    /// `source "…"`.
    Source(Text),
    /// `condition "oiled"`.
    Condition(Text),
    /// `stages 30 ± 2 N·m then turn 90 ± 5 °`: each with whether it is a turn.
    Stages(Vec<(bool, Band)>),
    /// `signed`, `signed twice`: how many sign for what is done by it.
    Signed(u8),
    /// `withdrawn on 2031-05-01 "…"`.
    Withdrawn(Date, Text),
    /// `waive source-missing because "…"`: the rule, and why it does not hold here.
    #[allow(missing_docs)]
    Waive { rule: Name, because: Text },
}

/// `table regulated-voltage: electric-potential by temperature { … }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// Its name.
    pub name: Name,
    /// The kind of its bands.
    pub kind: Name,
    /// The kind of its points.
    pub by: Name,
    /// Its rows, each group with its condition.
    pub groups: Vec<RowGroup>,
    /// `between rows linear` (`true`) or `refuse`.
    pub between_linear: Option<bool>,
    /// Whether `outside rows refuse` stands there.
    pub outside_refuse: bool,
    /// The lines that it shares with a spec.
    pub lines: Vec<SpecLine>,
}

/// Rows with one condition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowGroup {
    /// `rows when market is standard`; empty for rows that stand in the table itself.
    pub when: Vec<When>,
    /// The rows.
    pub rows: Vec<Row>,
}

/// `at -20 °C: 14.2 .. 15.2 V`, `at most 16 in: at most 2 in`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// A point (as a bare band) or a class.
    pub key: Band,
    /// Its band.
    pub band: Band,
    /// Where it stands.
    pub span: Span,
}

/// `series shims: shim-thickness 2.20 .. 3.20 mm steps of 0.02 mm`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Series {
    /// Its name.
    pub name: Name,
    /// Its kind of quantity.
    pub kind: Name,
    /// From, to.
    pub range: Band,
    /// The step.
    pub step: Amount,
}

/// `tool belt-meter: clip-on "belt tension meter" { … }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tool {
    /// Its name.
    pub name: Name,
    /// How it is held.
    pub handlings: Vec<Name>,
    /// What people call it.
    pub label: Option<Text>,
    /// What it can do.
    pub lines: Vec<Line>,
}

/// `hazard exhaust-gas: warning "…"`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hazard {
    /// Its name.
    pub name: Name,
    /// Its level.
    pub level: Level,
    /// Its usual caution.
    pub text: Option<Text>,
}

/// A name with the values it can have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Its name.
    pub name: Name,
    /// Its values.
    pub values: Vec<Name>,
}

/// `2031-02-11`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Date {
    /// As typed, year-month-day; a real day of the calendar.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Procedure {
    /// Its name.
    pub name: Name,
    /// Its title.
    pub title: Option<Text>,
    /// Its parts, in the order typed.
    pub parts: Vec<Part>,
    /// From the opening to the closing brace.
    pub body: Span,
}

/// A part of a procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Part {
    /// `revision 4 on 2031-02-11 "…"`.
    Revision { number: Number32, date: Date, why: Option<Text>, span: Span },
    /// `withdrawn on 2031-05-01 "…"`.
    Withdrawn(Date, Text),
    /// `decide guarded` (`true`) or `decide simple`.
    Decide { guarded: bool, span: Span },
    /// `applies to engine-family k9, k9h`.
    Applies(Choice),
    /// `needs { … }`.
    Needs(Vec<Need>, Span),
    /// `leaves { … }`.
    Leaves(Vec<StateOf>, Span),
    /// `keep battery-lead connected` at the level of the procedure.
    Keep(Keep, Span),
    /// A caution, a note or a waiver at the level of the procedure.
    Statement(Statement),
    /// A step.
    Step(Step),
    /// `restore { … }`; `signed twice` gives 2.
    Restore { block: Block, signed: u8, span: Span },
    /// A test of the procedure.
    Case(Case),
}

/// `battery is charged by battery-check`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// What must hold.
    pub state: StateOf,
    /// The procedure that brings it about.
    pub by: Option<Name>,
}

/// `step tension "Check the belt tension" { … }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its name.
    pub name: Name,
    /// Its title.
    pub title: Option<Text>,
    /// 0, 1 (`signed`) or 2 (`signed twice`).
    pub signed: u8,
    /// What is done.
    pub block: Block,
    /// Where it stands.
    pub span: Span,
}

/// `case "slack belt" { tension 49 Hz, 62 Hz  charge 14.2 V  ends passed }`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Case {
    /// Its title.
    pub title: Text,
    /// Variants, answers and readings, in the order typed.
    pub entries: Vec<CaseEntry>,
    /// How it must end: `passed`, `failed`, `unfinished`, `referred`.
    pub ends: Option<Name>,
    /// Where it stands.
    pub span: Span,
}

/// `tension (49, 50, 49) Hz, (61, 62, 61) Hz`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CaseEntry {
    /// A variant, an answer or a reading.
    pub name: Name,
    /// In order of being asked.
    pub values: Vec<CaseValue>,
}

/// A value in a case.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CaseValue {
    /// `49 Hz`.
    Amount(Amount),
    /// `(49, 50, 49) Hz`: the readings of one series, with the unit they share.
    Series(Vec<Number>, Option<Name>, Span),
    /// `above 1000 MΩ`: a reading that is no number.
    Interval(CaseEnd, Amount),
    /// `dark`, `k9`, `no reading` (then `no-reading`), `stopped` for a need that holds.
    Word(Name),
    /// `not stopped`: a need that does not hold.
    Not(Name),
}

/// The end of an interval in a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum CaseEnd {
    Above,
    Below,
    AtLeast,
    AtMost,
}

impl CaseEnd {
    /// As it is written before the amount.
    pub fn words(self) -> &'static str {
        match self {
            CaseEnd::Above => "above",
            CaseEnd::Below => "below",
            CaseEnd::AtLeast => "at least",
            CaseEnd::AtMost => "at most",
        }
    }
}
