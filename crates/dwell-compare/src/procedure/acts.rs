//! What a node of a card is as a line: its key, its words, its facts.

use super::formula;
use super::lines::Line;
use crate::Grade;
use crate::fact::Fact;
use crate::limits::Stated;
use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Measure, Node, Sampling, Test, Work};
use dwell_card::limit::{Formula, Limit};
use dwell_card::number::Num;
use dwell_card::words::as_written;
use dwell_check::finding::Place;
use dwell_quantity::{Kind, Unit};

/// The line of a node; none for what only holds the card together.
pub(super) fn line(card: &Card, place: usize, node: &Node) -> Option<Line> {
    let mut line = match &node.act {
        Act::Open if node.frame != 0 => {
            let name = card.frames.get(node.frame).map_or("", |frame| frame.procedure.as_str());
            bare(format!("perform {name}"), format!("perform {name}"), Grade::Loud)
        }
        Act::Caution { hazard, level, text } => {
            let known = card.hazards.get(*hazard);
            let name = known.map_or("", |hazard| hazard.name.as_str());
            let mut line = bare(format!("caution {name}"), format!("{} {name}", level.word()), Grade::Loud);
            line.facts.push(signal_word(*level));
            // The usual words change with the hazard and are told there.
            if known.is_none_or(|hazard| hazard.text != *text) {
                line.facts.push(Fact::new("caution's words", text, Grade::Middle));
            }
            line
        }
        Act::Note { text } => {
            let mut line =
                bare("note …".to_owned(), format!("note \"{}\"", as_written(text, card)), Grade::Middle);
            line.facts.push(Fact::new("note", as_written(text, card), Grade::Middle));
            line
        }
        Act::Need { required, says, .. } => {
            let key = format!("need {}", slot(card, required.slot, &required.states));
            bare(key, format!("need \"{says}\""), Grade::Loud)
        }
        Act::Keep { slot: kept, state } => {
            let what = slot(card, *kept, &[*state]);
            bare(format!("keep {what}"), format!("keep {what}"), Grade::Loud)
        }
        Act::Hold(hold) => {
            let at = hold.at.as_deref().unwrap_or_default();
            let mut line =
                bare(format!("hold {} {at}", hold.name), format!("keep {}", hold.says), Grade::Loud);
            line.facts.push(Fact::new("what is held", &hold.says, Grade::Middle));
            line.facts.extend(hold.text.as_ref().map(|text| Fact::new("instruction", text, Grade::Middle)));
            line
        }
        Act::Work(work) => work_line(card, work),
        Act::Measure(measure) => measure_line(card, measure),
        Act::Judge(judge) => {
            let mut line = condition_line(card, "expect", &judge.condition);
            line.gone = Grade::Loud;
            if judge.adjusting {
                line.key.push_str(" adjusting");
            }
            line
        }
        Act::Branch { condition } => condition_line(card, "if", condition),
        Act::Choose(choose) => {
            let mut line = bare(
                format!("choose {}", choose.series),
                format!("choose from {}", choose.series),
                Grade::Middle,
            );
            line.facts.push(Fact::new(
                "what it is nearest to",
                formula::words(card, &choose.nearest),
                Grade::Middle,
            ));
            line
        }
        Act::Ask { question } => {
            let known = card.questions.get(*question)?;
            let mut line = bare(format!("ask {}", known.name), format!("ask {}", known.name), Grade::Middle);
            line.facts.push(Fact::new("question", as_written(&known.text, card), Grade::Middle));
            line.facts.push(Fact::new("answers", known.values.join(", "), Grade::Middle));
            line
        }
        Act::Sign { persons } => {
            let mut line = bare("sign".to_owned(), "signature".to_owned(), Grade::Loud);
            line.facts.push(Fact::guard("who signs", format!("{persons}")));
            line
        }
        Act::Wait { seconds, since, says, .. } => {
            let mut line = bare("wait …".to_owned(), format!("\"{says}\""), Grade::Loud);
            line.facts.push(Fact::new("seconds waited", seconds.0.to_string(), Grade::Middle));
            line.facts.extend(since.as_ref().map(|since| Fact::new("waited since", since, Grade::Middle)));
            line
        }
        Act::Count { counter } => {
            let mut line = bare("loop …".to_owned(), "loop".to_owned(), Grade::Middle);
            let most = card.counters.get(*counter).copied().unwrap_or_default();
            line.facts.push(Fact::new("how often at most", most.to_string(), Grade::Middle));
            line
        }
        Act::Cause { item, text, .. } => {
            let mut line = bare(format!("cause {item}"), format!("probable cause {item}"), Grade::Middle);
            line.facts.extend(text.as_ref().map(|text| Fact::new("why", text, Grade::Middle)));
            line
        }
        Act::End(end) => {
            let outcome = format!("{:?}", end.outcome).to_lowercase();
            let mut line = bare(format!("end {outcome} …"), format!("end {outcome}"), Grade::Middle);
            line.facts.extend(
                end.text
                    .as_ref()
                    .map(|text| Fact::new("what is told at the end", as_written(text, card), Grade::Middle)),
            );
            line.facts.extend(end.refer.as_ref().map(|refer| Fact::new("referred to", refer, Grade::Middle)));
            line
        }
        Act::Open
        | Act::Step { .. }
        | Act::Uncover { .. }
        | Act::Release { .. }
        | Act::Begin { .. }
        | Act::Unhandled
        | Act::Restore
        | Act::Close
        | Act::Finish => return None,
    };
    line.node = place;
    Some(line)
}

fn bare(key: String, title: String, gone: Grade) -> Line {
    Line {
        node: 0,
        section: String::new(),
        in_step: false,
        key,
        title,
        facts: Vec::new(),
        bands: Vec::new(),
        gone,
        come: Grade::Middle,
        place: Place::default(),
    }
}

/// The signal word with its rank, so that a milder one is loud.
fn signal_word(level: dwell_card::vehicle::Level) -> Fact {
    Fact::guard("signal word", level.word())
}

/// `belt guard fitted`.
fn slot(card: &Card, slot: usize, states: &[usize]) -> String {
    let Some(known) = card.slots.get(slot) else { return String::new() };
    let states: Vec<&str> =
        states.iter().filter_map(|state| known.states.get(*state)).map(String::as_str).collect();
    let at = known.at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default();
    format!("{}{at} {}", known.item, states.join(" or "))
}

fn work_line(card: &Card, work: &Work) -> Line {
    let own: Vec<String> = work
        .own
        .iter()
        .filter_map(|slot| card.slots.get(*slot))
        .map(|slot| format!("{} {}", slot.item, slot.at.as_deref().unwrap_or_default()))
        .collect();
    let mut line = match &work.verb {
        Some(verb) => {
            let what = if own.is_empty() { work.says.clone() } else { own.join(", ") };
            let stage = work.stage.map(|stage| format!(" stage {}", stage.number)).unwrap_or_default();
            bare(
                format!("work {verb} {what}{stage}"),
                format!("\"{}\"", as_written(&work.says, card)),
                Grade::Middle,
            )
        }
        None => {
            let mut line =
                bare("do …".to_owned(), format!("\"{}\"", as_written(&work.says, card)), Grade::Middle);
            line.facts.push(Fact::new("instruction", as_written(&work.says, card), Grade::Middle));
            line
        }
    };
    line.facts.extend(
        work.text.as_ref().map(|text| Fact::new("instruction", as_written(text, card), Grade::Middle)),
    );
    let tools = work.tools.iter().filter_map(|tool| card.tools.get(*tool));
    line.facts.extend(tools.map(|tool| Fact::new("tool", &tool.name, Grade::Middle)));
    if let Some(limit) = work.limit.and_then(|limit| card.limits.get(limit)) {
        match on_the_spot(limit) {
            Some(stated) => line.bands.push(("torque".to_owned(), stated)),
            None => line.facts.push(Fact::new("torque", &limit.name, Grade::Loud)),
        }
    }
    if let Some(set) = &work.worked_out {
        let end = |end: &(Formula, bool)| {
            format!("{}{}", formula::words(card, &end.0), if end.1 { "" } else { ", which is out" })
        };
        line.facts.extend(set.low.iter().map(|low| Fact::new("least it is set to", end(low), Grade::Loud)));
        line.facts.extend(set.high.iter().map(|high| Fact::new("most it is set to", end(high), Grade::Loud)));
    }
    line
}

/// The band of a limit that stands on the spot; none for one that has a name.
fn on_the_spot(limit: &Limit) -> Option<Stated> {
    let [choice] = limit.check.as_slice() else { return None };
    if choice.written != limit.name {
        return None;
    }
    let unit = unit(&limit.unit)?;
    Some(Stated {
        band: choice.band.band(),
        unit,
        kind: Kind::named(&limit.kind)?,
        decimals: limit.decimals,
        target: choice.target.as_ref().map(|target| target.0.clone()),
        written: choice.written.clone(),
    })
}

fn unit(symbol: &str) -> Option<Unit> {
    Unit::all().find(|unit| unit.symbol() == symbol)
}

fn measure_line(card: &Card, measure: &Measure) -> Line {
    let readings: Vec<String> =
        measure.readings.iter().map(|reading| formula::reading_name(card, *reading)).collect();
    let names = readings.join(", ");
    let mut line = bare(format!("measure {names}"), format!("measure {names}"), Grade::Loud);
    let tool = measure.tool.and_then(|tool| card.tools.get(tool));
    line.facts.push(Fact::new("tool", tool.map_or("none", |tool| tool.name.as_str()), Grade::Middle));
    line.facts.push(Fact::new("times", measure.times.to_string(), Grade::Middle));
    line.facts.push(Fact::new(
        "taken together as",
        format!("{:?}", measure.take).to_lowercase(),
        Grade::Middle,
    ));
    line.facts
        .extend(measure.over.as_ref().map(|over| Fact::new("seconds", over.0.to_string(), Grade::Middle)));
    line.facts.extend(
        measure.text.as_ref().map(|text| Fact::new("instruction", as_written(text, card), Grade::Middle)),
    );
    if let Some(sampling) = &measure.sampling {
        line.facts.push(Fact::new("sampling", sampling_words(sampling), Grade::Middle));
    }
    let first = measure.readings.first().and_then(|reading| card.readings.get(*reading));
    if let (Some(expected), Some(reading)) = (&measure.expected, first)
        && let (Some(unit), Some(kind)) = (unit(&reading.unit), Kind::named(&reading.kind))
    {
        let says = dwell_quantity::band_shown(&expected.band(), unit, kind, reading.decimals);
        line.facts.push(Fact::guard("what is believed", says));
    }
    for reading in measure.readings.iter().filter_map(|reading| card.readings.get(*reading)) {
        line.facts.push(Fact::new("quantity", &reading.quantity, Grade::Middle));
        line.facts.push(Fact::new("unit asked for", &reading.unit, Grade::Middle));
    }
    line
}

/// How it is sampled, in words.
fn sampling_words(sampling: &Sampling) -> String {
    let seconds =
        |word: &str, number: &Option<Num>| number.as_ref().map(|number| format!("{word} {} s", number.0));
    let parts = [
        seconds("after", &sampling.after),
        seconds("every", &sampling.every),
        seconds("averaging", &sampling.averaging),
        sampling.at_most.then(|| "may end earlier".to_owned()),
        sampling.until.as_ref().map(|until| format!("until {}", until.says)),
        Some(format!("at least {} values", sampling.least)),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn condition_line(card: &Card, word: &str, condition: &Condition) -> Line {
    let mut readings = Vec::new();
    let mut bands = Vec::new();
    let mut says = condition.says.clone();
    for test in &condition.tests {
        match test {
            Test::Meets { value, limit, .. } => {
                let name = formula::value_name(card, value);
                if let Some(stated) = card.limits.get(*limit).and_then(on_the_spot) {
                    says = says.replace(&stated.written, "…");
                    bands.push((name.clone(), stated));
                }
                readings.push(name);
            }
            Test::Within { value, low, high, written } => {
                let name = formula::value_name(card, value);
                let end = |end: &Option<(Formula, bool)>| match end {
                    None => Some(None),
                    Some((Formula::Value(number), closed)) => {
                        Some(Some(dwell_quantity::Bound { value: number.0.clone(), closed: *closed }))
                    }
                    Some(_) => None,
                };
                let reading = formula::first_reading(value).and_then(|reading| card.readings.get(reading));
                if let (Some(low), Some(high), Some(reading)) = (end(low), end(high), reading)
                    && let (Some(unit), Some(kind)) = (unit(&reading.unit), Kind::named(&reading.kind))
                {
                    let band = dwell_quantity::Band { low, high };
                    says = says.replace(written.as_str(), "…");
                    let stated = Stated {
                        band,
                        unit,
                        kind,
                        decimals: reading.decimals,
                        target: None,
                        written: written.clone(),
                    };
                    bands.push((name.clone(), stated));
                }
                readings.push(name);
            }
            Test::Answer { question, .. } => {
                readings.extend(card.questions.get(*question).map(|known| known.name.clone()));
            }
            Test::Steady { reading, .. } | Test::Fluctuating { reading, .. } => {
                readings.push(formula::reading_name(card, *reading));
            }
            Test::Moments { .. } | Test::Guard { .. } | Test::Side { .. } => {}
        }
    }
    readings.dedup();
    let mut line =
        bare(format!("{word} {}", readings.join(", ")), format!("{word} {}", condition.says), Grade::Middle);
    line.facts.push(Fact::new("condition", says, Grade::Loud));
    line.bands = bands;
    line
}
