//! What the things of a program are, in two or three lines, with the comment that stands directly above their declaration.

use super::block::Block;
use super::scale::{Row, drawn};
use super::view::View;
use dwell_check::finding::Place;
use dwell_check::model::{Effect, Item, ResolvedBand, Spec, StateRef, Subject, Thing, When};
use dwell_quantity::{Kind, band_shown, in_other_units, other_units, shown};

/// The most rows that are drawn of a spec or a table.
const MOST: usize = 12;

/// A thing that a name means.
pub(crate) fn thing(view: &View, thing: Thing) -> Vec<Block> {
    let model = &view.checked.model;
    let (place, mut blocks) = match thing {
        Thing::Kind(kind) => {
            let units = dwell_quantity::units_for(kind);
            let units = units.iter().map(|unit| unit.symbol()).filter(|symbol| !symbol.is_empty());
            let units = units.collect::<Vec<_>>().join(", ");
            let about = format!("A kind of quantity. {}", kind.about());
            return vec![title(kind.name()), prose(about), prose(format!("Units: {units}."))];
        }
        Thing::Item(place) | Thing::Tool(place) => {
            let Some(item) = model.items.get(place) else { return Vec::new() };
            (item.place, self::item(view, item))
        }
        Thing::Spec(place) | Thing::Table(place) => {
            let Some(spec) = model.specs.get(place) else { return Vec::new() };
            (spec.place, self::spec(view, spec))
        }
        Thing::Quantity(place) => {
            let Some(quantity) = model.quantities.get(place) else { return Vec::new() };
            let label = quantity.label.as_ref().map(|label| format!(": {label}")).unwrap_or_default();
            let mut says = format!("A quantity ({}){label}.", model.quantity_name(quantity.parent));
            let (plus, minus) = &quantity.signs;
            let sign =
                |sign: &str, word: &Option<String>| word.as_ref().map(|word| format!(" {sign} is {word}."));
            says.extend([sign("Plus", plus), sign("Minus", minus)].into_iter().flatten());
            let moves: Vec<&str> = quantity.moves.iter().map(|moved| model.quantity_name(*moved)).collect();
            if !moves.is_empty() {
                says.push_str(&format!(" It moves {}.", moves.join(", ")));
            }
            (quantity.place, vec![title(&quantity.name), prose(says)])
        }
        Thing::Series(place) => {
            let Some(series) = model.series.get(place) else { return Vec::new() };
            let says =
                format!("A series of {}: {}.", model.quantity_name(series.quantity), series.range.written);
            (series.place, vec![title(&series.name), prose(says)])
        }
        Thing::Hazard(place) => {
            let Some(hazard) = model.hazards.get(place) else { return Vec::new() };
            let says = format!("{}: {}", hazard.level.word(), hazard.text);
            (hazard.place, vec![title(&hazard.name), prose(says)])
        }
        Thing::Variant(place) | Thing::Positions(place) => {
            let list = if matches!(thing, Thing::Variant(_)) { &model.variants } else { &model.positions };
            let Some(choice) = list.get(place) else { return Vec::new() };
            let what = if matches!(thing, Thing::Variant(_)) { "A variant" } else { "Positions" };
            (choice.place, vec![title(&choice.name), prose(format!("{what}: {}.", choice.values.join(", ")))])
        }
        Thing::Handling(place) => {
            let Some(handling) = model.handlings.get(place) else { return Vec::new() };
            let mut blocks = vec![title(&handling.name)];
            blocks.push(prose(format!(
                "A handling. States: {}; normal is the first.",
                handling.states.join(", ")
            )));
            blocks.extend(verbs(view, place));
            (handling.place, blocks)
        }
        Thing::Procedure(place) => {
            let Some(head) = model.procedures.get(place) else { return Vec::new() };
            (head.place, vec![title(&head.name), prose(procedure(view, head.place))])
        }
    };
    blocks.extend(comment(view, place));
    blocks
}

/// The title and the revision of a procedure.
fn procedure(view: &View, place: Place) -> String {
    use dwell_syntax::tree::{DeclarationKind, Part};
    let Some((_, DeclarationKind::Procedure(tree))) = super::bands::declaration_at(view, place) else {
        return "A procedure.".to_owned();
    };
    let named = tree.title.as_ref().map(|title| format!(": {}", title.text)).unwrap_or_default();
    let steps = tree.parts.iter().filter(|part| matches!(part, Part::Step(_))).count();
    let cases = tree.parts.iter().filter(|part| matches!(part, Part::Case(_))).count();
    let revision = tree.parts.iter().find_map(|part| match part {
        Part::Revision { number, date, .. } => Some(format!(" Revision {} on {}.", number.value, date.text)),
        _ => None,
    });
    let count = |count: usize, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
    let revision = revision.unwrap_or_default();
    format!("A procedure{named}. {}, {}.{revision}", count(steps, "step"), count(cases, "case"))
}

/// An item or a tool.
fn item(view: &View, item: &Item) -> Vec<Block> {
    let model = &view.checked.model;
    let declared =
        item.handlings.len().min(if item.tool.is_some() { item.ready.declared } else { usize::MAX });
    let own = item.handlings.iter().take(declared);
    let names: Vec<&str> = own
        .clone()
        .filter_map(|handling| model.handlings.get(*handling))
        .map(|known| known.name.as_str())
        .collect();
    let what = if item.tool.is_some() { "A tool" } else { "An item" };
    let at = item.at_each.and_then(|at| model.positions.get(at)).map(|at| format!(" at each {}", at.name));
    let located = item.located.as_ref().map(|located| format!(" Located: {located}.")).unwrap_or_default();
    let torque = item.torque.and_then(|spec| model.specs.get(spec));
    let torque = torque.map(|spec| format!(" Tightened to {}.", spec.name)).unwrap_or_default();
    let mut blocks = vec![title(&item.label)];
    blocks.push(prose(format!("{what}, {}{}.{located}{torque}", names.join(", "), at.unwrap_or_default())));
    for handling in own {
        blocks.extend(verbs(view, *handling));
    }
    for (can, abilities) in
        item.tool.iter().flat_map(|tool| [("Measures", &tool.measures), ("Sets", &tool.sets)])
    {
        blocks.extend(abilities.iter().map(|ability| {
            prose(format!("{can} {} {}.", model.quantity_name(ability.quantity), ability.written))
        }));
    }
    blocks
}

/// The verbs of a handling, one line.
fn verbs(view: &View, handling: usize) -> Option<Block> {
    let handling = view.checked.model.handlings.get(handling)?;
    let state = |state: &usize| handling.states.get(*state).map_or("", String::as_str);
    let line = |(verb, from, to): &(String, Vec<usize>, usize)| {
        let from: Vec<&str> = from.iter().map(state).collect();
        format!("{verb}: {} → {}", from.join(", "), state(to))
    };
    let lines: Vec<String> = handling.verbs.iter().map(line).collect();
    (!lines.is_empty()).then(|| Block::Drawn(lines.join("\n")))
}

/// What a verb does to an item, and what it needs.
pub(crate) fn verb(view: &View, verb: &str, item: &Item) -> Vec<Block> {
    let model = &view.checked.model;
    let mut lines = Vec::new();
    for handling in item.handlings.iter().filter_map(|handling| model.handlings.get(*handling)) {
        for (_, from, to) in handling.verbs.iter().filter(|(known, _, _)| known == verb) {
            let names = |states: &[usize]| {
                let names = states.iter().filter_map(|state| handling.states.get(*state).cloned());
                names.collect::<Vec<_>>().join(", ")
            };
            lines.push(format!("{} → {}", names(from), names(&[*to])));
        }
    }
    let mut more = Vec::new();
    let needs = item.needs.iter().filter(|needs| needs.verb == verb);
    more.extend(needs.map(|needs| format!("Needs {}{}.", state(view, needs.state), when(view, &needs.when))));
    let brings = item.brings.iter().filter(|brings| brings.subject == Subject::Verb(verb.to_owned()));
    more.extend(brings.filter_map(|brings| {
        let what = match brings.effect {
            Effect::Hazard(hazard) => model.hazards.get(hazard)?.name.clone(),
            Effect::State(brought) => state(view, brought),
        };
        Some(format!("Brings {what}{}.", when(view, &brings.when)))
    }));
    let moves = item.moves.iter().filter(|moves| moves.verb == verb);
    more.extend(moves.map(|moves| format!("Moves {}.", model.quantity_name(moves.quantity))));
    let plays = item.plays.iter().filter(|play| play.verb == verb);
    more.extend(plays.filter_map(|play| play.told.clone()));
    let checked = item.checked.iter().filter(|checked| checked.verb == verb);
    more.extend(
        checked.filter_map(|checked| Some(format!("Checked by {}.", model.specs.get(checked.spec)?.name))),
    );
    let mut blocks = vec![title(&format!("{verb} {}", item.label))];
    blocks.extend((!lines.is_empty()).then(|| Block::Drawn(lines.join("\n"))));
    blocks.extend((!more.is_empty()).then(|| prose(more.join(" "))));
    blocks
}

/// "engine is stopped".
pub(crate) fn state(view: &View, state: StateRef) -> String {
    let model = &view.checked.model;
    let Some(item) = model.items.get(state.item) else { return String::new() };
    let handling = item.handlings.get(state.handling).and_then(|handling| model.handlings.get(*handling));
    let name = handling.and_then(|handling| handling.states.get(state.state)).map_or("", String::as_str);
    format!("{} is {name}", item.name)
}

/// " when engine-family is k9", or nothing.
pub(crate) fn when(view: &View, when: &[When]) -> String {
    let model = &view.checked.model;
    let choice = |list: &[dwell_check::model::Choice], place: usize, values: &[usize]| {
        let choice = list.get(place)?;
        let values: Vec<&str> =
            values.iter().filter_map(|value| choice.values.get(*value).map(String::as_str)).collect();
        Some(format!("{} is {}", choice.name, values.join(" or ")))
    };
    let one = |one: &When| match one {
        When::Variant(variant, values) => choice(&model.variants, *variant, values),
        When::Position(positions, values) => choice(&model.positions, *positions, values),
        When::State(states) => {
            Some(states.iter().map(|one| state(view, *one)).collect::<Vec<_>>().join(" or "))
        }
    };
    let all: Vec<String> = when.iter().filter_map(one).collect();
    if all.is_empty() { String::new() } else { format!(" when {}", all.join(" and ")) }
}

/// A spec or a table, drawn.
pub(crate) fn spec(view: &View, spec: &Spec) -> Vec<Block> {
    let what = if spec.rows.is_some() { "A table" } else { "A spec" };
    let condition = spec.condition.as_ref().map(|condition| format!(" ({condition})")).unwrap_or_default();
    let source = spec.source.as_ref().map(|source| format!(" Source: {source}")).unwrap_or_default();
    let set = if spec.not_adjustable.is_some() { " Not adjustable." } else { "" };
    let quantity = view.checked.model.quantity_name(spec.quantity);
    let mut blocks = vec![title(&spec.name), prose(format!("{what} of {quantity}{condition}.{set}{source}"))];
    blocks.extend(bands(view, spec).map(Block::Drawn));
    if let Some(rows) = &spec.rows {
        let mut lines = Vec::new();
        for (group, rows) in &rows.groups {
            let group = when(view, group);
            lines.extend(rows.iter().map(|(key, band)| format!("{}: {}{group}", key.written, band.written)));
        }
        let more = lines.len().saturating_sub(MOST);
        lines.truncate(MOST);
        lines.extend((more > 0).then(|| format!("… {more} more")));
        blocks.push(Block::Drawn(lines.join("\n")));
    }
    let stages: Vec<&str> = spec.stages.iter().map(|stage| stage.limit.written.as_str()).collect();
    if !stages.is_empty() {
        blocks.push(prose(format!("Stages: {}.", stages.join(", then "))));
    }
    blocks
}

/// The bands of a spec, one over the other.
fn bands(view: &View, spec: &Spec) -> Option<String> {
    let named = |name: &'static str| {
        move |band: &dwell_check::model::SpecBand| row(name, &band.limit, spec.kind, &when(view, &band.when))
    };
    let mut rows: Vec<Row> = Vec::new();
    for check in &spec.check {
        rows.push(named("check")(check));
        rows.extend(spec.adjust.iter().filter(|adjust| adjust.when == check.when).map(named("adjust")));
    }
    let alone = spec.adjust.iter().filter(|adjust| spec.check.iter().all(|check| check.when != adjust.when));
    rows.extend(alone.map(named("adjust")));
    rows.truncate(MOST);
    (!rows.is_empty()).then(|| drawn(&rows))
}

/// One row of a scale.
fn row(name: &str, limit: &ResolvedBand, kind: Kind, when: &str) -> Row {
    let ends = band_shown(&limit.band, limit.unit, kind, limit.decimals);
    let written = if limit.written == ends { String::new() } else { format!(" ({})", limit.written) };
    Row {
        name: name.to_owned(),
        band: limit.band.clone(),
        target: limit.target.clone(),
        words: format!("{ends}{written}{when}"),
    }
}

/// One band: nominal, tolerance, ends, and the same in other units.
pub(crate) fn band(view: &View, written: &super::bands::Written) -> Vec<Block> {
    let (limit, kind) = (&written.limit, written.kind);
    let mut says =
        vec![format!("{}: {}", kind.name(), band_shown(&limit.band, limit.unit, kind, limit.decimals))];
    if let (Some(middle), Some(width)) = (limit.band.middle(), limit.band.width()) {
        let half = width.checked_div(&dwell_quantity::Exact::whole(2)).unwrap_or_default();
        let tolerance =
            dwell_quantity::amount_off(&half, limit.unit.difference(), kind.difference(), limit.decimals);
        says.push(format!(
            "middle {}, tolerance ± {tolerance}",
            shown(&middle, limit.unit, kind, limit.decimals)
        ));
    }
    says.extend(
        limit
            .target
            .as_ref()
            .map(|target| format!("target {}", shown(target, limit.unit, kind, limit.decimals))),
    );
    let mut blocks = vec![title(&limit.written), prose(format!("{}.", says.join("; ")))];
    let others = in_other_units(&limit.band, limit.unit, kind);
    if !others.is_empty() {
        blocks.push(prose(format!("Rounded inwards: {}.", others.join(", "))));
    }
    match written.spec.and_then(|spec| view.checked.model.specs.get(spec)) {
        Some(spec) if spec.rows.is_none() && spec.stages.is_empty() => {
            blocks.extend(bands(view, spec).map(Block::Drawn))
        }
        _ => blocks.push(Block::Drawn(drawn(&[row("band", limit, kind, "")]))),
    }
    blocks
}

/// A single amount in the other units that people use, rounded to the nearest.
pub(crate) fn amount(number: &str, unit: Option<&str>) -> Option<Vec<Block>> {
    use dwell_quantity::{Amount, Band, Decimal, Lookup, lookup, second_value};
    let amount = match unit {
        Some(unit) => {
            let Lookup::Unit(unit) = lookup(unit) else { return None };
            Amount::new(Decimal::parse(number).ok()?, unit)
        }
        None => Amount::compound(number).ok()?,
    };
    let kind = amount.unit.kinds().first().copied()?;
    let value = amount.in_base(kind).ok()?;
    let others = other_units(&Band::exactly(value.clone()), amount.unit, kind).into_iter();
    let others: Vec<String> = others.map(|(other, most)| second_value(&value, other, kind, most)).collect();
    let kinds: Vec<&str> = amount.unit.kinds().iter().map(|kind| kind.name()).collect();
    let written = unit.map_or_else(|| number.to_owned(), |unit| format!("{number} {unit}"));
    let mut blocks = vec![title(&written)];
    blocks.extend((!others.is_empty()).then(|| prose(format!("{}.", others.join(", ")))));
    blocks.push(prose(format!("A unit of {}.", kinds.join(", "))));
    Some(blocks)
}

/// The comment that stands directly above a declaration.
pub(crate) fn comment(view: &View, place: Place) -> Option<Block> {
    let start = super::bands::declaration_at(view, place).map_or(place.span.start, |(start, _)| start);
    let text = &view.other(place.file)?.text;
    let before = text.get(..start)?;
    let line = before.rfind('\n').map_or(0, |end| end + 1);
    let above = before.get(..line)?.lines().rev().map(str::trim).take_while(|line| line.starts_with('#'));
    let mut lines: Vec<&str> = above.map(|line| line.trim_start_matches('#').trim()).collect();
    lines.reverse();
    (!lines.is_empty()).then(|| prose(lines.join("\n")))
}

pub(crate) fn title(text: &str) -> Block {
    Block::Title(text.to_owned())
}

pub(crate) fn prose(text: impl Into<String>) -> Block {
    Block::Prose(text.into())
}
