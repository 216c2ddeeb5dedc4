//! Prompts: what a node asks for, with its cautions, its tools and the bands that matter.

use super::turn::Turn;
use super::view::{measure_of, unit_named};
use crate::prompt::{Confirm, Held, Prompt, QuestionPrompt, ReadingPrompt, SampledPrompt, SignPrompt};
use crate::refusal::Refusal;
use dwell_card::Num;
use dwell_card::graph::{Act, Measure, Test, Way, Work, WorkedOut};
use dwell_card::limit::{Ability, Formula};
use dwell_card::meaning::{States, Truth, basis, choices, guards_hold, is_sampled, least, set_to, work};
use dwell_card::vehicle::Required;
use dwell_quantity::{Band, Kind, Unit, band_shown, from_base_difference};
use dwell_record::What;
use dwell_record::event::{Doing, NeedAnswered};

/// What stands for the name of a step where what was put back is signed for.
const RESTORE: &str = "restore";

/// What is told where work was done before the technician went back.
const ALREADY: &str = "It was done before going back: look that it still is so.";

/// How a band is shown: its unit, its kind and its decimals.
struct Shown<'a> {
    unit: &'a str,
    kind: &'a str,
    decimals: u32,
}

/// The decimals that a tool is set with; those of the band where nothing is said of its steps.
fn decimals_of(ability: &Ability, unit: Unit, otherwise: u32) -> u32 {
    let step = ability.resolution.as_ref().map(|step| from_base_difference(&step.0, unit));
    step.and_then(|step| step.decimals_needed()).unwrap_or(otherwise)
}

impl Turn<'_> {
    /// Asks whether something holds already, unless this job knows it.
    pub(super) fn need(&mut self, required: &Required, says: &str, proved: bool) -> Result<bool, Refusal> {
        let now = self.state.slot(required.slot);
        let asked = guards_hold(&required.when, self.chosen, &self.state.slots) == Truth::Yes;
        let told = self.state.known.contains(&required.slot);
        if asked && !proved && !told {
            let slot = self.card.slots.get(required.slot);
            let slot = slot.ok_or_else(|| Refusal::BrokenCard("a need is about nothing".into()))?;
            let cautions = self.cautions_before(&[]);
            let located = self.located(&[required.slot]);
            self.state.prompt = Prompt::Need {
                node: self.state.at,
                item: slot.item.clone(),
                place: slot.at.clone(),
                states: required.states.iter().filter_map(|state| slot.states.get(*state)).cloned().collect(),
                says: says.to_owned(),
                located,
                cautions,
            };
            return Ok(false);
        }
        let states = States::these(&required.states);
        let holds = !asked || (!now.is_empty() && now.within(states));
        if asked {
            let told = NeedAnswered { says: says.to_owned(), holds, asked: false };
            self.happened(Some(self.state.at), What::NeedAnswered(told));
        }
        self.take(if holds { Way::Yes } else { Way::No })?;
        Ok(true)
    }

    /// Asks for something to be done or read.
    pub(super) fn confirm(&mut self, doing: Doing, says: &str, of: Option<&Work>) -> bool {
        let cautions =
            self.cautions_before(&of.map(|work| work.exposes(&self.card.slots)).unwrap_or_default());
        let limit = of.and_then(|work| work.limit).and_then(|limit| self.card.limits.get(limit));
        let tools = of.map(|work| work.tools.as_slice()).unwrap_or_default();
        let touched = |work: &Work| {
            [&work.own[..], &work.moves.iter().map(|moved| moved.slot).collect::<Vec<_>>()].concat()
        };
        let located = self.located(&of.map(touched).unwrap_or_default());
        let already = of.filter(|work| {
            !work.own.is_empty() && work.own.iter().all(|slot| self.was_done_before(*slot, work))
        });
        let text = self.view().spoken_if(of.and_then(|work| work.text.as_ref()));
        let text = match (already, text) {
            (None, text) => text,
            (Some(_), None) => Some(ALREADY.to_owned()),
            (Some(_), Some(text)) => Some(format!("{text} {ALREADY}")),
        };
        let label = |tool: &usize| self.card.tools.get(*tool).map(|tool| tool.label.clone());
        self.state.prompt = Prompt::Confirm(Confirm {
            node: self.state.at,
            doing,
            says: self.view().spoken(says),
            text,
            located,
            band: of.and_then(|work| self.band_to_set(work)),
            setting: of.and_then(|work| self.setting(work)),
            condition: limit.and_then(|limit| limit.condition.clone()),
            tools: tools.iter().filter_map(label).collect(),
            seconds: None,
            since: None,
            cautions,
        });
        false
    }

    /// The band to set to, in its unit and in that of the tool.
    fn band_to_set(&self, work: &Work) -> Option<String> {
        let Some(limit) = work.limit.and_then(|limit| self.card.limits.get(limit)) else {
            return self.worked_out(work);
        };
        let possible = choices(limit, true, self.chosen, &self.state.slots);
        let choice = possible.into_iter().flatten().next()?;
        let shown = Shown { unit: &limit.unit, kind: &limit.kind, decimals: limit.decimals };
        Some(match self.in_unit_of_tool(&choice.band.band(), &shown, &work.tools) {
            Some(other) => format!("{} ({other})", choice.written),
            None => choice.written.clone(),
        })
    }

    /// What is set just now is set with another tool: its unit may be another one.
    pub(super) fn set_anew(&mut self) {
        let Ok(Act::Work(work)) = self.node().map(|node| &node.act) else { return };
        let (band, setting) = (self.band_to_set(work), self.setting(work));
        if let Prompt::Confirm(confirm) = &mut self.state.prompt {
            (confirm.band, confirm.setting) = (band, setting);
        }
    }

    /// What the wrench is set to with its adapter, in its unit, rounded inwards: never a looser band than the one at the fastener.
    fn setting(&self, work: &Work) -> Option<String> {
        let leverage = work.leverage.as_ref()?;
        let (band, kind, decimals) = match &work.worked_out {
            Some(known) => (self.band_of(known)?, known.kind.as_str(), known.decimals),
            None => {
                let limit = self.card.limits.get(work.limit?)?;
                let possible = choices(limit, true, self.chosen, &self.state.slots);
                let choice = possible.into_iter().flatten().next()?;
                (choice.band.band(), limit.kind.as_str(), limit.decimals)
            }
        };
        let tool = self.card.tools.get(leverage.tool)?;
        let ability = tool.sets.iter().find(|ability| ability.kind == kind)?;
        let (unit, own) = self.scale(leverage.tool, ability)?;
        let decimals = own.unwrap_or_else(|| decimals_of(ability, unit, decimals));
        let words = band_shown(&leverage.setting(&band), unit, Kind::named(kind)?, decimals);
        Some(format!("{words} at the {}", tool.label))
    }

    /// The band to set to that is worked out, in its unit and in that of the tool, rounded inwards.
    fn worked_out(&self, work: &Work) -> Option<String> {
        let known = work.worked_out.as_ref()?;
        let band = self.band_of(known)?;
        let shown = Shown { unit: &known.unit, kind: &known.kind, decimals: known.decimals };
        let (unit, kind) = (unit_named(&known.unit)?, Kind::named(&known.kind)?);
        let words = band_shown(&band, unit, kind, known.decimals);
        Some(match self.in_unit_of_tool(&band, &shown, &work.tools) {
            Some(other) => format!("{words} ({other})"),
            None => words,
        })
    }

    /// What a band to set to is worked out to; none where it has no value.
    fn band_of(&self, known: &WorkedOut) -> Option<Band> {
        self.view().scene(|scene| set_to(known, scene))
    }

    /// The band in the unit of the tool that it is set with, rounded inwards, where that is another unit than the limit's.
    fn in_unit_of_tool(&self, band: &Band, limit: &Shown<'_>, tools: &[usize]) -> Option<String> {
        let sets = |tool: &usize| {
            let sets = &self.card.tools.get(*tool)?.sets;
            Some((*tool, sets.iter().find(|ability| ability.kind == limit.kind)?))
        };
        let (tool, ability) = tools.iter().find_map(sets)?;
        let (unit, own) = self.scale(tool, ability)?;
        let decimals = own.unwrap_or_else(|| decimals_of(ability, unit, limit.decimals));
        let other = unit_named(limit.unit).is_none_or(|written| written != unit);
        other.then(|| band_shown(band, unit, Kind::named(limit.kind)?, decimals).into()).flatten()
    }

    /// Asks to wait.
    pub(super) fn wait(&mut self, seconds: &Num, since: Option<&str>, says: &str) {
        let cautions = self.cautions_before(&[]);
        self.state.prompt = Prompt::Confirm(Confirm {
            node: self.state.at,
            doing: Doing::Wait,
            says: self.view().spoken(says),
            text: None,
            located: Vec::new(),
            band: None,
            setting: None,
            condition: None,
            tools: Vec::new(),
            seconds: Some(seconds.clone()),
            since: since.map(str::to_owned),
            cautions,
        });
    }

    /// Asks for work to be done, unless nothing of it is owed, or the band to set to has no value.
    pub(super) fn work(&mut self, known: &Work) -> Result<bool, Refusal> {
        let worked = work(known, self.chosen, &self.state.slots);
        if worked.skipped == Truth::Yes {
            self.take(Way::Then)?;
            return Ok(true);
        }
        if known.worked_out.as_ref().is_some_and(|known| self.band_of(known).is_none()) {
            self.take(Way::NoReading)?;
            return Ok(true);
        }
        Ok(self.confirm(Doing::Work, &known.says, Some(known)))
    }

    /// Asks for the next value of a measurement.
    pub(super) fn measure(&mut self, measure: &Measure) -> Result<(), Refusal> {
        let sampled = is_sampled(measure);
        let of = if sampled { 1 } else { measure.times.max(1) };
        self.state.taken.resize(measure.readings.len(), Vec::new());
        let round = self.state.taken.iter().map(Vec::len).min().unwrap_or_default();
        let place = self.state.taken.iter().position(|values| values.len() == round).unwrap_or_default();
        let sampled = sampled.then(|| SampledPrompt {
            least: least(measure),
            every: measure.sampling.as_ref().and_then(|sampling| sampling.every.clone()),
            given: self.given_before().and_then(|(given, _)| u32::try_from(given).ok()),
        });
        let broken = || Refusal::BrokenCard("a reading is not there".into());
        let reading = *measure.readings.get(place).ok_or_else(broken)?;
        let known = self.card.readings.get(reading).ok_or_else(broken)?;
        let (kind, unit) = measure_of(known).ok_or_else(broken)?;
        let cautions = self.cautions_before(&[]);
        self.state.prompt = Prompt::Reading(ReadingPrompt {
            node: self.state.at,
            reading,
            name: known.name.clone(),
            place: known.at.clone(),
            kind,
            unit,
            decimals: known.decimals,
            round: u32::try_from(round).unwrap_or(u32::MAX).saturating_add(1),
            of,
            sampled,
            tool: measure.tool.and_then(|tool| self.card.tools.get(tool)).map(|tool| tool.label.clone()),
            says: self.view().spoken(&measure.says),
            text: self.view().spoken_if(measure.text.as_ref()),
            bands: self.bands_for(reading),
            held: self.held_for(reading),
            signs: known.signs(),
            conditions: self.conditions_for(reading),
            cautions,
        });
        Ok(())
    }

    /// The tests that a reading will be held against in its frame, each with whether it is adjusted to.
    pub(super) fn tests_of(&self, reading: usize) -> impl Iterator<Item = (&Test, bool)> {
        let frame = self.card.readings.get(reading).map(|reading| reading.frame);
        let judges =
            self.card.nodes.iter().filter(move |node| Some(node.frame) == frame).filter_map(|node| {
                let Act::Judge(judge) = &node.act else { return None };
                Some(judge)
            });
        let tests =
            judges.flat_map(|judge| judge.condition.tests.iter().map(move |test| (test, judge.adjusting)));
        tests.filter(move |(test, _)| match test {
            Test::Meets { value, .. } | Test::Within { value, .. } => *value == Formula::Latest(reading),
            _ => false,
        })
    }

    /// The bands that a reading will be held against in its frame, in words.
    fn bands_for(&self, reading: usize) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for (test, adjusting) in self.tests_of(reading) {
            let Some(band) = self.band_in_both(test, reading) else { continue };
            let words = if adjusting { format!("set to {band}") } else { band };
            if !all.contains(&words) {
                all.push(words);
            }
        }
        all
    }

    /// The same bands as numbers.
    fn held_for(&self, reading: usize) -> Vec<Held> {
        let mut all: Vec<Held> = Vec::new();
        for (test, adjusting) in self.tests_of(reading) {
            let Some(basis) = self.view().scene(|scene| basis(test, scene)) else { continue };
            let held = Held { band: basis.band, adjusting };
            if !all.contains(&held) {
                all.push(held);
            }
        }
        all
    }

    /// How the thing must be for these bands, in words.
    fn conditions_for(&self, reading: usize) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for (test, _) in self.tests_of(reading) {
            let Test::Meets { limit, .. } = test else { continue };
            let condition = self.card.limits.get(*limit).and_then(|limit| limit.condition.clone());
            all.extend(condition.filter(|condition| !all.contains(condition)));
        }
        all
    }

    /// Asks for the next signature.
    pub(super) fn sign(&mut self, persons: u32) -> Result<(), Refusal> {
        let step = self.node()?.step.and_then(|step| self.card.steps.get(step));
        let (step, title) = match step {
            Some(step) => (step.name.clone(), step.title.clone()),
            None => (RESTORE.to_owned(), "What was put back".to_owned()),
        };
        let cautions = self.cautions_before(&[]);
        let signed = self.state.signed.clone();
        let person = u32::try_from(signed.len()).unwrap_or(u32::MAX).saturating_add(1);
        let (node, of) = (self.state.at, persons.max(1));
        self.state.prompt = Prompt::Sign(SignPrompt { node, step, title, person, of, signed, cautions });
        Ok(())
    }

    /// Asks a question.
    pub(super) fn question(&mut self, question: usize) -> Result<(), Refusal> {
        let known = self.card.questions.get(question).filter(|known| !known.values.is_empty());
        let known = known.ok_or_else(|| Refusal::BrokenCard("a question is not there".into()))?;
        let cautions = self.cautions_before(&[]);
        self.state.prompt = Prompt::Question(QuestionPrompt {
            node: self.state.at,
            question,
            name: known.name.clone(),
            text: self.view().spoken(&known.text),
            values: known.values.clone(),
            cautions,
        });
        Ok(())
    }
}
