//! What was found wrong while names, quantities and flow were worked out: plain facts, put into words by the rules.

use crate::finding::{Place, Witness};
use crate::model::Thing;
use dwell_card::vehicle::{Level, Readiness};
use dwell_quantity::{Band, PairSlip};

/// One fact. Each belongs to one rule, which puts it into words.
#[derive(Clone, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Trouble {
    // ---- names and files
    /// A name that nothing visible has. `what` says what was looked for ("an item"), `near` the closest names, and
    /// `elsewhere` a thing that has the name but is of another sort.
    NotFound { place: Place, name: String, what: &'static str, near: Vec<String>, elsewhere: Option<Thing> },
    /// A used file that could not be read.
    FileNotFound { place: Place, path: String, why: String },
    /// Two things with one name.
    DeclaredTwice { place: Place, name: String, first: Place },
    /// Files that use each other; the places of the `use` lines in order.
    ImportCycle { place: Place, files: Vec<String> },
    /// A procedure, or a step, that performs itself; the names from it back to it.
    PerformCycle { place: Place, names: Vec<String> },
    /// Something that the language has but that is not lowered yet, or is used where it cannot be: refused, never ignored.
    NotExecutable { place: Place, what: String, help: String },
    // ---- quantities
    /// Two kinds meet. `first` and `second` are said in words with their kinds; `why` where the pair is well known.
    KindMismatch { place: Place, other: Option<Place>, first: String, second: String, why: Option<String> },
    /// A limit without a unit.
    UnitMissing { place: Place, number: String, units: Vec<String> },
    /// A unit that is in no table (also from the parser's slips), with suggestions.
    UnitUnknown { place: Place, unit: String, near: Vec<String> },
    /// A unit that could be two.
    UnitAmbiguous { place: Place, unit: String, why: String, choices: Vec<String> },
    /// A number that is no number (message of the number reader).
    BadNumber { place: Place, why: String },
    /// A one-sided band on a quantity that can be negative.
    OneSided { place: Place, quantity: String, suggestion: String },
    /// Low above high.
    BandReversed { place: Place, low: String, high: String },
    /// A band to set to that is not inside the one to check against; both places, both as written, and by how much.
    AdjustOutsideCheck {
        place: Place,
        check: Place,
        adjust_written: String,
        check_written: String,
        by: String,
        /// What of the band to set to passes every check that can hold with it, where the target is well within it; and whether
        /// that is a whole band to check against.
        cut: Option<(String, Band, bool)>,
    },
    /// A limit or target that the quantity can never be at; `can` says what it can be, `declared` where that is declared.
    ImpossibleValue { place: Place, value: String, quantity: String, can: String, declared: Option<Place> },
    /// A band in which nothing passes: as written, why, and the reading whose tool takes all the room, if one does.
    BandEmpty { place: Place, band: String, why: String, guarded: Option<Place> },
    /// A band to set to that reaches to an end of the one to check against; `whole` where the two are the same.
    AdjustEqualsCheck { place: Place, check: Place, end: String, whole: bool },
    /// The two units of a limit say different things: the second and the whole, both as written, the slip that explains it,
    /// and what the first is in the second unit.
    PairDisagrees {
        place: Place,
        whole: Place,
        first: String,
        second: String,
        slip: Option<PairSlip>,
        is: String,
    },
    /// The second unit of a limit lets something pass that the first rejects: by how much, and the second rounded inwards.
    PairRoundsOutward { place: Place, first: String, second: String, wider: String, inwards: String },
    /// The second unit of a limit is inside the first, but loses much of its width, in per cent; and with more digits.
    PairTooNarrow { place: Place, first: String, second: String, lost: String, better: String },
    /// A lone number for a limit.
    BareNominal { place: Place, shown: String, counted: bool },
    /// A lone number for a limit of something that has limits on one side only.
    SideMissing { place: Place, shown: String, quantity: String, at_least: bool, declared: Option<Place> },
    /// Two different bands for the same: both places, both as written.
    LimitStatedTwice { place: Place, first: Place, spec: String, band: String, other: String },
    /// Two different bands whose conditions can both hold; `both` says when, or is empty.
    VariantOverlap { place: Place, first: Place, spec: String, band: String, other: String, both: String },
    /// A row of a table that does not fit the others; the row it goes against, where there is one.
    TableShape { place: Place, first: Option<Place>, table: String, what: String },
    /// A table that has no row, or two, for some values; the other side of the seam, or where the value is read.
    TableGap { place: Place, other: Option<Place>, table: String, what: String },
    /// A value that the variant has not got.
    VariantUnknown {
        place: Place,
        value: String,
        variant: String,
        values: Vec<String>,
        near: Vec<String>,
        declared: Place,
    },
    /// Something is used that is withdrawn from a day on: what it is ("the spec"), its name, the day and why, where that is
    /// said, and the day of the revision of the procedure that uses it.
    Withdrawn {
        place: Place,
        what: &'static str,
        name: String,
        on: String,
        why: String,
        declared: Place,
        revised: Option<String>,
    },
    /// No value for a variant: the spec, where it is used, the variant in words.
    VariantUncovered { place: Place, spec: String, used: Option<Place>, variants: Vec<(String, String)> },
    /// Something declared not adjustable is adjusted.
    NotAdjustable { place: Place, spec: String, declared: Place },
    // ---- what nothing comes of
    /// A reading, or with `computed` a formula, that nothing is done with.
    ReadingUnused { place: Place, name: String, computed: bool },
    /// A declared name that nothing mentions.
    NameUnused { place: Place, name: String, what: &'static str },
    /// A waiver that lets nothing pass, and the rule that it is for.
    WaiverUnused { place: Place, rule: String },
    // ---- tools
    /// The tool does not measure that kind.
    ToolCannotMeasure { place: Place, tool: String, tool_place: Place, quantity: String, can: Vec<String> },
    /// The band is not inside the tool's range.
    ToolOutOfRange {
        place: Place,
        tool: String,
        tool_place: Place,
        range: String,
        band: String,
        band_place: Place,
    },
    /// The tool is too coarse for the band: what its accuracy is, or with `by_steps` its smallest step, and what is wanted.
    ToolTooCoarse {
        place: Place,
        tool: String,
        tool_place: Place,
        band: String,
        band_place: Place,
        is: String,
        wanted: String,
        by_steps: bool,
    },
    /// Two things that are joined fit nothing in common: each with what it fits and where it is declared; and what is taken
    /// along that does not help. With `measured`, a tool is held to a thing that it is not made for.
    FittingMismatch {
        place: Place,
        one: (String, Vec<String>, Place),
        other: (String, Vec<String>, Place),
        along: Vec<String>,
        measured: bool,
    },
    // ---- cautions without the flow
    /// A lower signal word than the hazard's.
    CautionTooWeak {
        place: Place,
        hazard: String,
        hazard_place: Place,
        has: &'static str,
        should: &'static str,
    },
    // ---- flow
    /// No reading and no variant leads here.
    Unreachable { place: Place, what: String },
    /// On no way does a vehicle pass: where the procedure is named, and its name.
    NeverPasses { place: Place, name: String },
    /// A loop without a bound, or without a reading on its way round.
    Endless { place: Place, why: String },
    /// A reading is out and nothing says what to do.
    OutUnhandled { place: Place, what: String, witness: Option<Witness> },
    /// A needed state was never brought about. `needed` in words, `by` who needs it and where that is declared; `proved` where
    /// only a measurement tells.
    NeedNotMet {
        place: Place,
        needed: String,
        by: String,
        declared: Option<Place>,
        proved: bool,
        witness: Option<Witness>,
    },
    /// A needed state held on this way, and was lost again at `lost`.
    NeedLost {
        place: Place,
        needed: String,
        by: String,
        declared: Option<Place>,
        lost: Place,
        witness: Option<Witness>,
    },
    /// Work that needs energy to be gone and proved gone, where it may not be; `verb` says what is done.
    StoredEnergy {
        place: Place,
        needed: String,
        verb: String,
        declared: Option<Place>,
        lost: Option<Place>,
        witness: Option<Witness>,
    },
    /// A state that only a measurement proves is taken to hold without one; `related` is what should have proved it.
    ProofMissing {
        place: Place,
        state: String,
        how: Unproved,
        related: Option<Place>,
        witness: Option<Witness>,
    },
    /// A verb in a state it does not start from.
    WrongState {
        place: Place,
        verb: String,
        item: String,
        state: String,
        from: String,
        since: Option<Place>,
        witness: Option<Witness>,
    },
    /// A single-use part goes back.
    SingleUseRefitted {
        place: Place,
        verb: String,
        item: String,
        off: Option<Place>,
        witness: Option<Witness>,
    },
    /// A `keep` is broken.
    KeptBroken {
        place: Place,
        kept: Place,
        what: String,
        /// Whether it is kept during a block only, not up to `restore`.
        during: bool,
        witness: Option<Witness>,
    },
    /// Something stays disturbed on some way out: the item, its state, what it should be, where the way ends.
    NotRestored {
        place: Place,
        item: String,
        state: String,
        should: String,
        end: Place,
        outcome: String,
        verb: Option<String>,
        witness: Option<Witness>,
    },
    /// A bolt, a nut or a clamp is not tight on some way out: what people call it, its name, its state, where the way ends.
    FastenerLeftLoose {
        place: Place,
        item: String,
        name: String,
        state: String,
        end: Place,
        outcome: String,
        witness: Option<Witness>,
    },
    /// Something is tightened to a torque, and no tool is named that sets one.
    NoTorqueTool { place: Place, item: String, torque: String, declared: Option<Place> },
    /// A line of `restore` that on no way has anything to put back.
    RestoredUntouched { place: Place, item: String },
    /// A procedure says that it leaves a state, and can pass without.
    LeavesUntrue {
        place: Place,
        state: String,
        now: String,
        changed: Option<Place>,
        witness: Option<Witness>,
    },
    /// The last measurement does not follow the last action that can move the quantity.
    NoRecheck { place: Place, reading: String, measured: Place, witness: Option<Witness> },
    /// A torque wrench with an adapter, and how long one of the two is is not said; or with a torque multiplier.
    AdapterWithoutLength {
        place: Place,
        adapter: String,
        wrench: String,
        missing: String,
        lacks: Lacks,
        declared: Place,
    },
    /// Something is done that `asked` must sign for, in a step (none: in `restore`) that `signed` sign; where those are enough,
    /// the step is left before.
    NotSigned {
        place: Place,
        asked: u8,
        signed: u8,
        step: Option<String>,
        declared: Place,
        witness: Option<Witness>,
    },
    /// Something is done, and on some way nothing is judged after it by what it must be checked by.
    NotCheckedAfter {
        place: Place,
        verb: String,
        item: String,
        spec: String,
        declared: Place,
        witness: Option<Witness>,
    },
    /// Something is decided by readings that were moved since they were taken; `action` says what moved the first.
    StaleReading {
        place: Place,
        readings: Vec<String>,
        measured: Place,
        moved: Place,
        action: String,
        witness: Option<Witness>,
    },
    /// Work moves a reading before it is first taken, and it is adjusted later.
    AsFoundLost { place: Place, reading: String, measured: Place, adjusted: Place, witness: Option<Witness> },
    /// An adjustment that cannot be brought in has no other end.
    NoWayOut { place: Place, what: String },
    /// A measurement with a tool that is not connected there.
    ToolNotConnected { place: Place, tool: String, state: String, witness: Option<Witness> },
    /// A tool is read (or connected) that may not be ready: the tool, by its place in the model, what it lacks, and what
    /// made it so.
    ToolUnready { place: Place, tool: usize, what: Readiness, since: Option<Place>, witness: Option<Witness> },
    /// Something is measured that has to settle first: the item, and what unsettled it.
    Unsettled {
        place: Place,
        item: String,
        /// Its name and the state that it must be in, where it is there once.
        state: Option<(String, String)>,
        since: Option<Place>,
        witness: Option<Witness>,
    },
    /// An exposure that no caution covers, and the caution that comes too late, if one does.
    Exposed {
        place: Place,
        hazard: String,
        text: String,
        level: Level,
        from: String,
        source: Option<Place>,
        late: Option<Place>,
        witness: Option<Witness>,
    },
    /// `end passed` while something is out.
    PassedWhileOut { place: Place, judged: Place, witness: Option<Witness> },
}

/// How a state that only a measurement proves was taken to hold without one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unproved {
    /// A procedure needs it and names no other that proves it.
    Asked,
    /// A verb or a free instruction is to bring it about.
    Brought,
    /// It is kept.
    Kept,
    /// A procedure says that it leaves it.
    Left,
    /// The procedure that is to prove it ends passed without.
    Performed,
}

/// What keeps the setting of a torque wrench from being worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lacks {
    /// How far the adapter extends it.
    Adapter,
    /// How long the wrench is.
    Wrench,
    /// The ratio of a torque multiplier, for which there is no line.
    Ratio,
}

impl Trouble {
    /// The way that leads there, where there is one.
    pub fn witness_mut(&mut self) -> Option<&mut Witness> {
        match self {
            Trouble::OutUnhandled { witness, .. }
            | Trouble::NeedNotMet { witness, .. }
            | Trouble::NeedLost { witness, .. }
            | Trouble::StoredEnergy { witness, .. }
            | Trouble::ProofMissing { witness, .. }
            | Trouble::WrongState { witness, .. }
            | Trouble::SingleUseRefitted { witness, .. }
            | Trouble::KeptBroken { witness, .. }
            | Trouble::NotRestored { witness, .. }
            | Trouble::FastenerLeftLoose { witness, .. }
            | Trouble::LeavesUntrue { witness, .. }
            | Trouble::NoRecheck { witness, .. }
            | Trouble::NotCheckedAfter { witness, .. }
            | Trouble::NotSigned { witness, .. }
            | Trouble::StaleReading { witness, .. }
            | Trouble::AsFoundLost { witness, .. }
            | Trouble::ToolNotConnected { witness, .. }
            | Trouble::ToolUnready { witness, .. }
            | Trouble::Unsettled { witness, .. }
            | Trouble::Exposed { witness, .. }
            | Trouble::PassedWhileOut { witness, .. } => witness.as_mut(),
            _ => None,
        }
    }
}
