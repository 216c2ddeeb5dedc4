//! What each declaration says, as facts.

use crate::Grade;
use crate::fact::Fact;
use crate::words::Words;
use dwell_check::finding::Place;
use dwell_check::model::{Effect, Handling, Item, Model, Quantity};
use dwell_quantity::{Exact, band_shown};

/// A declaration.
pub(super) struct Declared {
    pub(super) what: &'static str,
    pub(super) name: String,
    pub(super) place: Place,
    pub(super) facts: Vec<Fact>,
}

/// Everything but specs and procedures, without the prelude.
pub(super) fn of(model: &Model) -> Vec<Declared> {
    let words = Words(model);
    let mut all = Vec::new();
    let mut add = |what: &'static str, name: &str, place: Place, facts: Vec<Fact>| {
        if place.file > 0 {
            all.push(Declared { what, name: name.to_owned(), place, facts });
        }
    };
    for one in &model.handlings {
        add("handling", &one.name, one.place, handling(one));
    }
    for (place, one) in model.items.iter().enumerate() {
        let what = if one.tool.is_some() { "tool" } else { "item" };
        add(what, &one.name, one.place, item(words, place, one));
    }
    for one in &model.quantities {
        add("quantity", &one.name, one.place, quantity(words, one));
    }
    for one in &model.hazards {
        let facts = vec![
            Fact::guard("signal word", one.level.word()),
            Fact::new("usual caution", &one.text, Grade::Middle),
        ];
        add("hazard", &one.name, one.place, facts);
    }
    for (what, choices) in [("variant", &model.variants), ("positions", &model.positions)] {
        for one in choices {
            let facts = one.values.iter().map(|value| Fact::new("value", value, Grade::Middle)).collect();
            add(what, &one.name, one.place, facts);
        }
    }
    for one in &model.series {
        let facts = vec![
            Fact::new("quantity", words.quantity(one.quantity), Grade::Middle),
            Fact::new("sizes", &one.range.written, Grade::Middle),
            Fact::new("step", one.step.to_string(), Grade::Middle),
        ];
        add("series", &one.name, one.place, facts);
    }
    all
}

fn handling(one: &Handling) -> Vec<Fact> {
    let state = |place: &usize| one.states.get(*place).cloned().unwrap_or_default();
    let states = |places: &[usize]| places.iter().map(state).collect::<Vec<_>>().join(", ");
    let mut facts = vec![Fact::new("states", one.states.join(", "), Grade::Middle)];
    facts.extend(one.verbs.iter().map(|(verb, from, to)| {
        Fact::new("verb", format!("{verb} from {} to {}", states(from), state(to)), Grade::Middle)
    }));
    facts.extend(
        one.proofs
            .iter()
            .map(|(from, to)| Fact::guard("proof", format!("from {} to {}", states(from), state(to)))),
    );
    facts.extend(one.may_stay.iter().map(|place| Fact::freedom("may stay", state(place))));
    facts
}

fn item(words: Words, place: usize, one: &Item) -> Vec<Fact> {
    let model = words.0;
    let mut facts = vec![Fact::new("label", &one.label, Grade::Quiet)];
    facts.extend(one.located.as_ref().map(|located| Fact::new("located", located, Grade::Quiet)));
    for handling in one.handlings.iter().filter_map(|handling| model.handlings.get(*handling)) {
        facts.push(Fact::new("handling", &handling.name, Grade::Middle));
    }
    facts.extend(
        one.at_each
            .and_then(|positions| model.positions.get(positions))
            .map(|positions| Fact::new("at each", &positions.name, Grade::Middle)),
    );
    for brings in &one.brings {
        let says = format!(
            "{} brings {}{}",
            words.subject(place, &brings.subject),
            words.effect(&brings.effect),
            words.when(&brings.when)
        );
        facts.push(match brings.effect {
            Effect::Hazard(_) => Fact::guard("hazard", says),
            Effect::State(_) => Fact::new("what it brings", says, Grade::Middle),
        });
    }
    for needs in &one.needs {
        let says = format!("{} needs {}{}", needs.verb, words.state(&needs.state), words.when(&needs.when));
        facts.push(Fact::guard("need", says));
    }
    for checked in &one.checked {
        let spec = model.specs.get(checked.spec).map_or("", |spec| spec.name.as_str());
        facts.push(Fact::guard("checked by", format!("{} checked by {spec}", checked.verb)));
    }
    for signed in &one.signed {
        let twice = if signed.persons > 1 { " twice" } else { "" };
        facts.push(Fact::guard("signed", format!("{} signed{twice}", signed.verb)));
    }
    for moves in &one.moves {
        facts.push(Fact::guard("moves", format!("{} moves {}", moves.verb, words.quantity(moves.quantity))));
    }
    for play in &one.plays {
        let told = play.told.as_ref().map(|told| format!(": {told}")).unwrap_or_default();
        facts.push(Fact::guard("play", format!("{} has play{told}", play.verb)));
    }
    for (state, seconds, verb) in &one.lasts {
        let since = verb.as_ref().map(|verb| format!(" since {verb}")).unwrap_or_default();
        facts.push(Fact::guard("lasts", format!("{} lasts {seconds} s{since}", words.state(state))));
    }
    for (handling, state) in &one.may_stay {
        let known = one.handlings.get(*handling).and_then(|place| model.handlings.get(*place));
        let word = known.and_then(|known| known.states.get(*state)).cloned().unwrap_or_default();
        facts.push(Fact::freedom("may stay", word));
    }
    facts.extend(
        one.torque
            .and_then(|spec| model.specs.get(spec))
            .map(|spec| Fact::new("torque", &spec.name, Grade::Middle)),
    );
    facts.extend(one.fits.iter().map(|fits| Fact::new("fits", fits, Grade::Middle)));
    ready(one, &mut facts);
    tool(words, one, &mut facts);
    facts
}

fn ready(one: &Item, facts: &mut Vec<Fact>) {
    let ready = &one.ready;
    facts.extend(ready.warm.as_ref().map(|(_, s)| Fact::guard("warms up", format!("for {s} s"))));
    facts.extend(ready.settled.as_ref().map(|(_, s)| Fact::guard("settles", format!("for {s} s"))));
    if let Some(zeroed) = &ready.zeroed {
        facts.extend(zeroed.after.iter().map(|verb| Fact::guard("zeroed", format!("after {verb}"))));
        facts.extend(zeroed.before.iter().map(|verb| Fact::guard("zeroed", format!("before {verb}"))));
        let each =
            [(zeroed.each_measure, "before each measurement"), (zeroed.each_procedure, "in each procedure")];
        facts.extend(each.iter().filter(|(is, _)| *is).map(|(_, says)| Fact::guard("zeroed", *says)));
    }
}

fn tool(words: Words, one: &Item, facts: &mut Vec<Fact>) {
    let Some(can) = &one.tool else { return };
    for (about, abilities) in [("measures", &can.measures), ("sets", &can.sets)] {
        for ability in abilities {
            let part = |name: &str, value: &Option<Exact>| {
                value.as_ref().map(|value| format!(", {name} {value}")).unwrap_or_default()
            };
            let says = format!(
                "{} {}{}{}{}",
                words.quantity(ability.quantity),
                ability.written,
                part("resolution", &ability.resolution),
                part("accuracy ±", &ability.accuracy),
                part("of the reading ±", &ability.accuracy_of_reading),
            );
            facts.push(Fact::new(about, says, Grade::Middle));
            for (state, when, _) in &ability.needs {
                let what = words.quantity(ability.quantity);
                let needs = format!("{} for {what}{}", words.state(state), words.when(when));
                facts.push(Fact::guard("need", needs));
            }
        }
    }
    facts.extend(can.reaches.as_ref().map(|length| Fact::new("reaches", format!("{length} m"), Grade::Loud)));
    facts.extend(
        can.extends
            .as_ref()
            .map(|(by, at)| Fact::new("extends", format!("{by} m at {at} turns to the wrench"), Grade::Loud)),
    );
    facts.extend(can.impedance.as_ref().map(|says| Fact::guard("impedance", says)));
    facts.extend(
        can.calibrated_months.map(|months| Fact::guard("calibrated", format!("every {months} months"))),
    );
}

fn quantity(words: Words, one: &Quantity) -> Vec<Fact> {
    let unit = one.kind.usual_unit();
    let mut facts = vec![
        Fact::new("kind", words.quantity(one.parent), Grade::Middle),
        Fact::guard("never outside", band_shown(&one.span, unit, one.kind, 6)),
    ];
    facts.extend(one.label.as_ref().map(|label| Fact::new("label", label, Grade::Quiet)));
    for (sign, word) in [("plus", &one.signs.0), ("minus", &one.signs.1)] {
        facts.extend(word.as_ref().map(|word| Fact::new("sign", format!("{sign} is {word}"), Grade::Loud)));
    }
    for (state, when, _) in &one.needs {
        facts.push(Fact::guard("need", format!("{}{}", words.state(state), words.when(when))));
    }
    facts.extend(one.moves.iter().map(|moved| Fact::guard("moves", words.quantity(*moved))));
    facts.extend(
        one.side.map(|low| Fact::new("limits", if low { "at least" } else { "at most" }, Grade::Middle)),
    );
    facts.extend(
        one.at_each
            .and_then(|positions| words.0.positions.get(positions))
            .map(|positions| Fact::new("at each", &positions.name, Grade::Middle)),
    );
    facts
}
