//! A procedure lowered to its card: once, for the checker, the runner, the printed page and the comparison alike.

mod case;
mod checked;
mod choose;
mod computed;
mod condition;
mod decide;
mod fitting;
mod grouped;
mod handle;
mod keep;
mod leverage;
mod limit;
mod looked_up;
mod manner;
mod measure;
mod perform;
mod procedure;
mod ready;
mod sampled;
mod signed;
mod spoken;
mod stages;
mod statement;
mod thing;
mod withdrawn;
mod words;
mod worked_out;

use crate::finding::Place;
use crate::model::{Model, QuantityRef};
use crate::program::Program;
use crate::trouble::Trouble;
use dwell_card::Card;
use dwell_card::graph::{Act, Node, Way};
use dwell_card::number::Range;
use dwell_card::vehicle::Required;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::hash::Hash;

pub use case::cases;
pub use checked::Check;
pub(crate) use checked::{limit_of, tests};
pub(crate) use decide::{followed, readings_in};
pub(crate) use measure::fold;
pub use signed::Signature;
pub(crate) use words::be;
pub use worked_out::SetWith;

/// The words that stand before every procedure, printed or executed.
pub const NOTICE: &str = "Local law and the vehicle maker's manual come first. Work on high voltage, airbags, refrigerant \
and brakes is for those licensed or trained for it.";

/// The most nodes that one card may have; a text that needs more performs too much inside itself.
const MOST_NODES: usize = 20_000;

/// A card with what the analysis and the findings need beside it.
#[derive(Clone, Debug)]
pub struct Lowered {
    /// The card.
    pub card: Card,
    /// For each node the text that it comes from.
    pub places: Vec<Place>,
    /// Nodes that no statement stands for.
    pub made: Vec<bool>,
    /// For each need of each node: who needs it in words, and where that is declared.
    pub needed_by: HashMap<(usize, usize), (String, Place)>,
    /// Where a hazard of a node, or of a state of a slot, is declared.
    pub hazard_of_node: HashMap<(usize, usize), Place>,
    /// Where a hazard of a state is declared: slot, state, hazard.
    pub hazard_of_state: HashMap<(usize, usize, usize), Place>,
    /// What a performed frame must have brought about when it ends passed.
    pub ensures: HashMap<usize, (Required, Place, String)>,
    /// Where a frame says that it leaves a slot in a state: frame, slot.
    pub left_at: HashMap<(usize, usize), Place>,
    /// For each frame the text that performs it.
    pub frame_places: Vec<Place>,
    /// For each slot the model's item.
    pub slot_items: Vec<usize>,
    /// For each slot its verbs: verb, the states it leads from, the state it leads to.
    pub verbs: Vec<Vec<(String, Vec<usize>, usize)>>,
    /// For each slot that a thing takes when it is connected there: the slots of that thing.
    pub partners: HashMap<usize, Vec<usize>>,
    /// For each slot of a tool that says whether it is connected: the states in which it is.
    pub connected: HashMap<usize, Vec<usize>>,
    /// What must be judged after something was done.
    pub checks: Vec<Check>,
    /// For each node after which something must be judged: those of `checks`.
    pub checked_after: HashMap<usize, Vec<usize>>,
    /// For each node that somebody signs for: how many, and where that is asked for.
    pub signatures: HashMap<usize, Signature>,
    /// For each frame and step (none: its `restore`) how many sign at its end.
    pub signing: HashMap<(usize, Option<usize>), u8>,
    /// The readings that something adjusts, through formulas down to what is measured.
    pub adjusted: BTreeSet<usize>,
    /// For each limit that comes from a spec: the spec.
    pub limit_specs: HashMap<usize, usize>,
    /// For each node that is set to a band that is worked out: the tools.
    pub set_with: HashMap<usize, Vec<SetWith>>,
    /// The counting nodes of the loops that go back to a step.
    pub loops: Vec<usize>,
    /// For each reading its quantity.
    pub quantities: Vec<QuantityRef>,
    /// For each reading the band that its quantity never leaves.
    pub spans: Vec<dwell_quantity::Band>,
}

impl Lowered {
    /// Whether both mean the same, wherever their texts stand: all but the places is equal.
    pub(crate) fn means_what(&self, other: &Lowered) -> bool {
        // Each field by its name, so that a new one does not pass unseen.
        let Lowered {
            card,
            places,
            made,
            needed_by,
            hazard_of_node,
            hazard_of_state,
            ensures,
            left_at,
            frame_places,
            slot_items,
            verbs,
            partners,
            connected,
            checks,
            checked_after,
            signatures,
            signing,
            adjusted,
            limit_specs,
            set_with,
            loops,
            quantities,
            spans,
        } = self;
        *card == other.card
            && places.len() == other.places.len()
            && *made == other.made
            && alike(needed_by, &other.needed_by, |(who, _), (other, _)| who == other)
            && alike(hazard_of_node, &other.hazard_of_node, |_, _| true)
            && alike(hazard_of_state, &other.hazard_of_state, |_, _| true)
            && alike(ensures, &other.ensures, |(what, _, who), (other, _, other_who)| {
                what == other && who == other_who
            })
            && alike(left_at, &other.left_at, |_, _| true)
            && frame_places.len() == other.frame_places.len()
            && *slot_items == other.slot_items
            && *verbs == other.verbs
            && *partners == other.partners
            && *connected == other.connected
            && checks.len() == other.checks.len()
            && checks.iter().zip(&other.checks).all(|(one, other)| one.asks_what(other))
            && *checked_after == other.checked_after
            && alike(signatures, &other.signatures, |one, other| one.persons == other.persons)
            && *signing == other.signing
            && *adjusted == other.adjusted
            && *limit_specs == other.limit_specs
            && alike(set_with, &other.set_with, |all, others| {
                all.len() == others.len() && all.iter().zip(others).all(|(one, other)| one.sets_what(other))
            })
            && *loops == other.loops
            && *quantities == other.quantities
            && *spans == other.spans
    }
}

/// Whether two maps have the same keys, each with what is alike.
fn alike<K: Eq + Hash, V>(one: &HashMap<K, V>, other: &HashMap<K, V>, same: impl Fn(&V, &V) -> bool) -> bool {
    one.len() == other.len()
        && one.iter().all(|(key, value)| other.get(key).is_some_and(|other| same(value, other)))
}

/// Lowers one procedure, with all that it performs. `None` when the file's text has a hole where it stands.
pub fn lower(
    program: &Program,
    model: &Model,
    procedure: usize,
    troubles: &mut Vec<Trouble>,
) -> Option<Lowered> {
    let mut lowerer = Lowerer::new(program, model, troubles);
    lowerer.whole(procedure)?;
    Some(lowerer.finished())
}

/// A card with nothing on it yet.
pub(crate) fn empty_card() -> Card {
    Card {
        format: dwell_card::FORMAT,
        procedure: String::new(),
        title: String::new(),
        revision: None,
        withdrawn: None,
        notice: NOTICE.to_owned(),
        guarded: false,
        axes: Vec::new(),
        slots: Vec::new(),
        hazards: Vec::new(),
        readings: Vec::new(),
        questions: Vec::new(),
        limits: Vec::new(),
        tools: Vec::new(),
        frames: Vec::new(),
        steps: Vec::new(),
        counters: Vec::new(),
        nodes: Vec::new(),
    }
}

/// A place in hand: the set of positions and the value.
type Bound = (usize, usize);

/// A way on that leads nowhere yet.
type Loose = (usize, Way);

/// The work in progress.
struct Lowerer<'a> {
    program: &'a Program,
    model: &'a Model,
    troubles: &'a mut Vec<Trouble>,
    out: Lowered,
    /// Ways on that the next node takes up.
    loose: Vec<Loose>,
    /// The procedures that are being lowered, outermost first.
    frames: Vec<FrameWork>,
    slots: HashMap<(usize, Option<usize>, usize), usize>,
    hazards: HashMap<usize, usize>,
    tools: HashMap<usize, usize>,
    limits: HashMap<(usize, Vec<(usize, usize)>), usize>,
    /// The limit of each stage of a spec, by its number from 0.
    stage_limits: HashMap<(usize, usize), usize>,
    axes: HashMap<usize, usize>,
    /// What each node may move, to be worked out when all readings are known.
    moved: Vec<(usize, QuantityRef, Option<Bound>)>,
    /// The place of each reading: positions and value.
    reading_at: Vec<Option<(usize, usize)>>,
    reading_quantity: Vec<QuantityRef>,
    /// What each thing is connected to: the slots it took.
    taken: HashMap<usize, Vec<(usize, String)>>,
    /// The values that the procedure itself applies to.
    applies: Vec<(usize, Vec<usize>)>,
}

/// One procedure in progress.
struct FrameWork {
    index: usize,
    file: usize,
    procedure: usize,
    step: Option<usize>,
    /// Each name and its readings, one for each place.
    readings: HashMap<String, Vec<usize>>,
    /// The bands that are computed here, by their names.
    bands: HashMap<String, computed::ComputedBand>,
    /// The measuring node of a name, to measure it again.
    measured: HashMap<String, usize>,
    questions: HashMap<String, usize>,
    steps: HashMap<String, (usize, usize)>,
    /// The place on the card of each step that is known so far.
    step_places: HashMap<String, usize>,
    /// The steps whose blocks are being written out, the outermost first: the one in hand, and those that it performs.
    doing: Vec<String>,
    /// The steps whose blocks were written out before: what they take is taken again.
    done: Vec<String>,
    /// Jumps to steps further on: the node, its way, the name, where it stands.
    ahead: Vec<(usize, Way, dwell_syntax::tree::Name)>,
    /// The cautions of each open block; the first list is the procedure's own.
    cautions: Vec<Vec<usize>>,
    /// All cautions that stand inside blocks.
    inner_cautions: Vec<usize>,
    /// The expects whose `otherwise` we stand in.
    judging: Vec<usize>,
    /// The spans that we stand in, innermost last: their `hold` nodes.
    holds: Vec<usize>,
    /// The places in hand: positions and value.
    bound: Vec<(usize, usize)>,
    /// Where every way out leads.
    exit: usize,
    close: usize,
    in_restore: bool,
}

impl<'a> Lowerer<'a> {
    fn new(program: &'a Program, model: &'a Model, troubles: &'a mut Vec<Trouble>) -> Lowerer<'a> {
        Lowerer {
            program,
            model,
            troubles,
            out: Lowered {
                card: empty_card(),
                places: Vec::new(),
                made: Vec::new(),
                needed_by: HashMap::new(),
                hazard_of_node: HashMap::new(),
                hazard_of_state: HashMap::new(),
                ensures: HashMap::new(),
                left_at: HashMap::new(),
                frame_places: Vec::new(),
                slot_items: Vec::new(),
                verbs: Vec::new(),
                partners: HashMap::new(),
                connected: HashMap::new(),
                checks: Vec::new(),
                checked_after: HashMap::new(),
                signatures: HashMap::new(),
                signing: HashMap::new(),
                adjusted: BTreeSet::new(),
                limit_specs: HashMap::new(),
                set_with: HashMap::new(),
                loops: Vec::new(),
                quantities: Vec::new(),
                spans: Vec::new(),
            },
            loose: Vec::new(),
            frames: Vec::new(),
            slots: HashMap::new(),
            hazards: HashMap::new(),
            tools: HashMap::new(),
            limits: HashMap::new(),
            stage_limits: HashMap::new(),
            axes: HashMap::new(),
            moved: Vec::new(),
            reading_at: Vec::new(),
            reading_quantity: Vec::new(),
            taken: HashMap::new(),
            applies: Vec::new(),
        }
    }

    /// Adds a node without joining it to anything.
    fn aside(&mut self, act: Act, place: Place, made: bool) -> usize {
        let node = self.out.card.nodes.len();
        let (frame, step) = self.frames.last().map_or((0, None), |frame| (frame.index, frame.step));
        self.out.card.nodes.push(Node { act, frame, step, next: BTreeMap::new() });
        self.out.places.push(place);
        self.out.made.push(made);
        node
    }

    /// Adds a node that all loose ways lead to; then its own way on is the loose one.
    fn add(&mut self, act: Act, place: Place) -> usize {
        let node = self.aside(act, place, false);
        self.join(node);
        self.loose = vec![(node, Way::Then)];
        node
    }

    /// The same for a node that no statement stands for.
    fn add_made(&mut self, act: Act, place: Place) -> usize {
        let node = self.add(act, place);
        if let Some(made) = self.out.made.get_mut(node) {
            *made = true;
        }
        node
    }

    /// Leads all loose ways to `node`.
    fn join(&mut self, node: usize) {
        for (from, way) in std::mem::take(&mut self.loose) {
            self.link(from, way, node);
        }
    }

    fn link(&mut self, from: usize, way: Way, to: usize) {
        if let Some(from) = self.out.card.nodes.get_mut(from) {
            from.next.insert(way, to);
        }
    }

    fn act_mut(&mut self, node: usize) -> Option<&mut Act> {
        self.out.card.nodes.get_mut(node).map(|node| &mut node.act)
    }

    fn file(&self) -> usize {
        self.frames.last().map_or(0, |frame| frame.file)
    }

    fn place(&self, span: dwell_syntax::tree::Span) -> Place {
        Place { file: self.file(), span }
    }

    fn frame(&mut self) -> Option<&mut FrameWork> {
        self.frames.last_mut()
    }

    fn cannot(&mut self, place: Place, what: impl Into<String>, help: impl Into<String>) {
        self.troubles.push(Trouble::NotExecutable { place, what: what.into(), help: help.into() });
    }

    /// What is known once all is lowered: which readings each node may have moved.
    fn finished(mut self) -> Lowered {
        for (node, quantity, at) in std::mem::take(&mut self.moved) {
            let all = self.moved_with(quantity);
            let mut disturbed: Vec<usize> = Vec::new();
            for (reading, (is, there)) in self.reading_quantity.iter().zip(&self.reading_at).enumerate() {
                let apart = matches!((at, there), (Some((set, here)), Some((other, value)))
                    if set == *other && here != *value);
                if !apart && all.iter().any(|moved| self.model.is_a(*is, *moved)) {
                    disturbed.extend(self.measured_for(reading));
                }
            }
            if let Some(Act::Work(work)) = self.act_mut(node) {
                for reading in disturbed {
                    if !work.disturbs.contains(&reading) {
                        work.disturbs.push(reading);
                    }
                }
            }
        }
        self.out.adjusted = self.adjusted();
        self.judged_by();
        self.signed_by_limits();
        self.unsettled();
        self.unzeroed();
        self.out.quantities = self.reading_quantity.clone();
        self.out.spans = self.reading_quantity.iter().map(|quantity| self.span_of(*quantity)).collect();
        for (reading, span) in self.out.card.readings.iter_mut().zip(&self.out.spans) {
            reading.possible = (*span != dwell_quantity::Band::all()).then(|| Range::from(span));
        }
        self.out
    }

    /// What is measured for a reading: itself, or what its formula follows.
    fn measured_for(&self, reading: usize) -> Vec<usize> {
        match self.out.card.readings.get(reading).and_then(|known| known.formula.as_ref()) {
            None => vec![reading],
            Some(formula) => {
                followed(formula).into_iter().flat_map(|reading| self.measured_for(reading)).collect()
            }
        }
    }

    /// The readings that something adjusts.
    fn adjusted(&self) -> BTreeSet<usize> {
        let mut all = BTreeSet::new();
        for node in &self.out.card.nodes {
            let Act::Judge(judge) = &node.act else { continue };
            if judge.adjusting {
                let read = judge.condition.tests.iter().flat_map(readings_in);
                all.extend(read.flat_map(|reading| self.measured_for(reading)));
            }
        }
        all
    }

    /// The band that a quantity never leaves.
    fn span_of(&self, quantity: QuantityRef) -> dwell_quantity::Band {
        let mut band = dwell_quantity::Band::all();
        let mut now = quantity;
        while let QuantityRef::Declared(place) = now {
            let Some(declared) = self.model.quantities.get(place) else { break };
            band = band.intersect(&declared.span);
            now = declared.parent;
        }
        band
    }

    /// A quantity and all that it moves in turn.
    fn moved_with(&self, quantity: QuantityRef) -> Vec<QuantityRef> {
        let mut all = vec![quantity];
        let mut next = 0;
        while let Some(now) = all.get(next).copied() {
            next += 1;
            for (place, declared) in self.model.quantities.iter().enumerate() {
                if self.model.is_a(QuantityRef::Declared(place), now) {
                    for moved in &declared.moves {
                        if !all.contains(moved) {
                            all.push(*moved);
                        }
                    }
                }
            }
        }
        all
    }
}
