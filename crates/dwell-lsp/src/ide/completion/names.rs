//! The names of a file that are meant at a place.

use super::super::bands::thing;
use super::super::blocks;
use super::super::describe;
use super::super::view::View;
use super::context::{Context, Wants};
use super::{Sort, Suggestion, name};
use dwell_check::model::{Model, QuantityRef, Thing};
use dwell_check::program::PRELUDE;
use dwell_check::rules;
use dwell_quantity::Kind;
use dwell_syntax::tree::{Part, Procedure, Span, StatementKind};

/// The place in the order of a name that fits.
const RANK: u32 = 10;

/// All that is wanted.
pub(super) fn wanted(view: &View, context: &Context, wants: &Wants) -> Vec<Suggestion> {
    let model = &view.checked.model;
    let span = context.span;
    let at = span.start;
    let procedure = blocks::procedure(view, at);
    match wants {
        Wants::Tools { kind, sets } => {
            let kind = kind.as_deref().and_then(|kind| quantity(view, at, kind));
            things(view, span, |known| tool_fits(model, known, kind, *sets))
        }
        Wants::Specs { reading } => {
            let kind = reading.as_deref().and_then(|reading| quantity(view, at, reading));
            let mut all = things(view, span, |known| match known {
                Thing::Spec(spec) | Thing::Table(spec) => {
                    let spec = model.specs.get(spec)?;
                    let fits = kind.is_none_or(|kind| model.may_meet(kind, spec.quantity));
                    Some(if fits { RANK } else { RANK + 20 })
                }
                _ => None,
            });
            all.extend(locals(procedure, span, |kind| matches!(kind, StatementKind::LetBand { .. })));
            all
        }
        Wants::Targets => {
            let torque = Kind::named("torque");
            let mut all = things(view, span, |known| match known {
                Thing::Spec(spec) => {
                    Some(if model.specs.get(spec).map(|spec| spec.kind) == torque { RANK } else { RANK + 20 })
                }
                Thing::Item(item) => {
                    let item = model.items.get(item)?;
                    let port = item
                        .handlings
                        .iter()
                        .filter_map(|one| model.handlings.get(*one))
                        .any(|one| one.name == "port");
                    Some(if port { RANK } else { RANK + 10 })
                }
                _ => None,
            });
            all.extend(locals(procedure, span, |kind| matches!(kind, StatementKind::LetBand { .. })));
            all
        }
        Wants::Items => things(view, span, |known| match known {
            Thing::Item(_) => Some(RANK),
            Thing::Tool(_) => Some(RANK + 5),
            _ => None,
        }),
        Wants::Kinds => things(view, span, |known| match known {
            Thing::Quantity(_) => Some(RANK),
            Thing::Kind(_) => Some(RANK + 5),
            _ => None,
        }),
        Wants::Handlings => things(view, span, |known| matches!(known, Thing::Handling(_)).then_some(RANK)),
        Wants::Hazards => things(view, span, |known| matches!(known, Thing::Hazard(_)).then_some(RANK)),
        Wants::Positions => things(view, span, |known| matches!(known, Thing::Positions(_)).then_some(RANK)),
        Wants::Series => things(view, span, |known| matches!(known, Thing::Series(_)).then_some(RANK)),
        Wants::Variants => things(view, span, |known| matches!(known, Thing::Variant(_)).then_some(RANK)),
        Wants::Procedures => things(view, span, |known| match known {
            Thing::Procedure(place) => {
                let own = procedure.is_some_and(|own| {
                    model.procedures.get(place).is_some_and(|head| head.name == own.name.text)
                });
                (!own).then_some(RANK)
            }
            _ => None,
        }),
        Wants::Steps => {
            let steps = procedure.into_iter().flat_map(blocks::steps);
            steps
                .map(|step| Suggestion {
                    detail: step.title.as_ref().map(|title| title.text.clone()).unwrap_or_default(),
                    ..name(&step.name.text, Sort::Step, span, RANK)
                })
                .collect()
        }
        Wants::Rules => {
            let open: Vec<&str> = view.findings().map(|finding| finding.rule).collect();
            let rules = rules::all().iter().filter(|rule| rule.waivable);
            rules
                .map(|rule| {
                    name(rule.name, Sort::Rule, span, if open.contains(&rule.name) { 5 } else { RANK })
                })
                .collect()
        }
        Wants::Readings => locals(procedure, span, |_| true),
        Wants::Verbs => super::actions::verbs(view, span),
        Wants::ValuesOf(of) => values(view, procedure, of, span),
        Wants::PlacesOf(of) => {
            let places = match thing(view, of) {
                Some(Thing::Item(item)) => model.items.get(item).and_then(|item| item.at_each),
                Some(Thing::Quantity(quantity)) => {
                    model.quantities.get(quantity).and_then(|known| known.at_each)
                }
                _ => None,
            };
            let places = places.and_then(|places| model.positions.get(places));
            places
                .into_iter()
                .flat_map(|places| &places.values)
                .map(|value| name(value, Sort::Value, span, RANK))
                .collect()
        }
        Wants::WithVerb(verb) => super::actions::items_of(view, at, verb, span),
        Wants::CaseEntries => case_entries(view, procedure, span),
    }
}

/// The things of the file's scope, each with its rank where it fits.
fn things(view: &View, span: Span, rank: impl Fn(Thing) -> Option<u32>) -> Vec<Suggestion> {
    let scope = view.checked.model.scopes.get(view.file());
    let names = scope.into_iter().flat_map(|scope| &scope.names);
    let fitting = names.filter_map(|(known, thing)| Some((known, *thing, rank(*thing)?)));
    fitting
        .map(|(known, thing, rank)| Suggestion {
            detail: thing.what().to_owned(),
            doc: describe::thing(view, thing),
            ..name(known, sort(thing), span, rank + u32::from(of_the_language(view, thing)))
        })
        .collect()
}

/// Whether a thing comes with the language and is declared in no file.
fn of_the_language(view: &View, thing: Thing) -> bool {
    let model = &view.checked.model;
    let place = match thing {
        Thing::Kind(_) => return true,
        Thing::Handling(place) => model.handlings.get(place).map(|known| known.place),
        Thing::Item(place) | Thing::Tool(place) => model.items.get(place).map(|known| known.place),
        Thing::Quantity(place) => model.quantities.get(place).map(|known| known.place),
        Thing::Spec(place) | Thing::Table(place) => model.specs.get(place).map(|known| known.place),
        Thing::Series(place) => model.series.get(place).map(|known| known.place),
        Thing::Hazard(place) => model.hazards.get(place).map(|known| known.place),
        Thing::Variant(place) => model.variants.get(place).map(|known| known.place),
        Thing::Positions(place) => model.positions.get(place).map(|known| known.place),
        Thing::Procedure(place) => model.procedures.get(place).map(|known| known.place),
    };
    place.and_then(|place| view.other(place.file)).is_some_and(|source| source.path == PRELUDE)
}

fn sort(thing: Thing) -> Sort {
    match thing {
        Thing::Handling(_) => Sort::Handling,
        Thing::Item(_) => Sort::Item,
        Thing::Tool(_) => Sort::Tool,
        Thing::Quantity(_) => Sort::Quantity,
        Thing::Kind(_) => Sort::Kind,
        Thing::Spec(_) | Thing::Table(_) => Sort::Spec,
        Thing::Series(_) => Sort::Series,
        Thing::Hazard(_) => Sort::Hazard,
        Thing::Variant(_) => Sort::Variant,
        Thing::Positions(_) => Sort::Positions,
        Thing::Procedure(_) => Sort::Procedure,
    }
}

/// How well a tool fits: one that measures the kind before all others.
fn tool_fits(model: &Model, known: Thing, kind: Option<QuantityRef>, sets: bool) -> Option<u32> {
    let Thing::Tool(tool) = known else { return None };
    let abilities = model.items.get(tool)?.tool.as_ref()?;
    let list = if sets { &abilities.sets } else { &abilities.measures };
    let fits = match kind {
        Some(kind) => list.iter().any(|ability| model.may_meet(kind, ability.quantity)),
        None => !list.is_empty(),
    };
    Some(if fits { RANK } else { RANK + 20 })
}

/// The quantity of a reading, or the one that is named so.
fn quantity(view: &View, at: usize, named: &str) -> Option<QuantityRef> {
    match thing(view, named) {
        Some(Thing::Kind(kind)) => Some(QuantityRef::Kind(kind)),
        Some(Thing::Quantity(quantity)) => Some(QuantityRef::Declared(quantity)),
        _ => {
            let procedure = blocks::procedure(view, at)?;
            let kind = declared_kind(procedure, named)?;
            if kind == named { None } else { quantity(view, at, &kind) }
        }
    }
}

/// The kind in the closed table that a reading of the procedure has.
pub(super) fn kind_of_reading(view: &View, at: usize, named: &str) -> Option<Kind> {
    let procedure = blocks::procedure(view, at)?;
    declared_kind(procedure, named)?;
    view.checked.model.kind(quantity(view, at, named)?)
}

/// The kind that a reading is declared with; its own name where none is given.
fn declared_kind(procedure: &Procedure, named: &str) -> Option<String> {
    blocks::statements(procedure).into_iter().find_map(|statement| {
        let (known, kind) = match &statement.kind {
            StatementKind::Measure(measure) if !measure.again => {
                let reading = measure.readings.iter().find(|reading| reading.name.text == named)?;
                (&reading.name, &reading.kind)
            }
            StatementKind::Read { name, kind, .. }
            | StatementKind::Let { name, kind, .. }
            | StatementKind::LetBand { name, kind, .. } => (name, kind),
            _ => return None,
        };
        (known.text == named)
            .then(|| kind.as_ref().map_or_else(|| named.to_owned(), |kind| kind.text.clone()))
    })
}

/// The readings, answers and computed values that were given a name before the cursor, as far as they are wanted.
fn locals(
    procedure: Option<&Procedure>,
    span: Span,
    wanted: impl Fn(&StatementKind) -> bool,
) -> Vec<Suggestion> {
    let statements = procedure.map(blocks::statements).unwrap_or_default();
    let mut all = Vec::new();
    for statement in statements.into_iter().filter(|one| one.span.start < span.start && wanted(&one.kind)) {
        let names: Vec<(&str, Option<&str>)> = match &statement.kind {
            StatementKind::Measure(measure) if !measure.again => measure
                .readings
                .iter()
                .map(|reading| {
                    (reading.name.text.as_str(), reading.kind.as_ref().map(|kind| kind.text.as_str()))
                })
                .collect(),
            StatementKind::Read { name, kind, .. }
            | StatementKind::Let { name, kind, .. }
            | StatementKind::LetBand { name, kind, .. } => {
                vec![(name.text.as_str(), kind.as_ref().map(|kind| kind.text.as_str()))]
            }
            StatementKind::Choose { name, .. } => vec![(name.text.as_str(), Some("a size from a series"))],
            StatementKind::Ask { name, .. } => vec![(name.text.as_str(), Some("an answer"))],
            _ => Vec::new(),
        };
        // The statement that is being written declares nothing for itself.
        let ended = statement.span.end < span.start;
        all.extend(names.into_iter().filter(|_| ended).map(|(known, kind)| Suggestion {
            detail: kind.unwrap_or_default().to_owned(),
            ..name(known, Sort::Reading, span, RANK - 2)
        }));
    }
    all
}

/// The states of a thing, the values of a variant, the answers to a question.
fn values(view: &View, procedure: Option<&Procedure>, of: &str, span: Span) -> Vec<Suggestion> {
    let model = &view.checked.model;
    let values: Vec<(String, String)> = match thing(view, of) {
        Some(Thing::Item(item) | Thing::Tool(item)) => {
            let handlings = model.items.get(item).into_iter().flat_map(|item| &item.handlings);
            let handlings = handlings.filter_map(|handling| model.handlings.get(*handling));
            handlings
                .flat_map(|one| one.states.iter().map(|state| (state.clone(), one.name.clone())))
                .collect()
        }
        Some(Thing::Variant(variant)) => {
            let variant = model.variants.get(variant);
            variant
                .into_iter()
                .flat_map(|known| known.values.iter().map(|value| (value.clone(), known.name.clone())))
                .collect()
        }
        _ => answers(procedure, of).into_iter().map(|answer| (answer, of.to_owned())).collect(),
    };
    let suggestions = values.into_iter();
    suggestions
        .map(|(value, of)| Suggestion { detail: of, ..name(&value, Sort::Value, span, RANK - 2) })
        .collect()
}

/// The answers to a question of the procedure.
fn answers(procedure: Option<&Procedure>, question: &str) -> Vec<String> {
    let statements = procedure.map(blocks::statements).unwrap_or_default();
    let found = statements.into_iter().find_map(|statement| match &statement.kind {
        StatementKind::Ask { name, answers, .. } if name.text == question => Some(answers),
        _ => None,
    });
    match found {
        Some(answers) if answers.is_empty() => vec!["yes".to_owned(), "no".to_owned()],
        Some(answers) => answers.iter().map(|answer| answer.text.clone()).collect(),
        None => Vec::new(),
    }
}

/// What a case can give: the variants of the procedure, then what is read and asked.
fn case_entries(view: &View, procedure: Option<&Procedure>, span: Span) -> Vec<Suggestion> {
    let Some(procedure) = procedure else { return Vec::new() };
    let given: Vec<&str> = procedure
        .parts
        .iter()
        .filter_map(|part| match part {
            Part::Case(case) if case.span.start <= span.start && span.start <= case.span.end => Some(case),
            _ => None,
        })
        .flat_map(|case| case.entries.iter().map(|entry| entry.name.text.as_str()))
        .collect();
    let own = view
        .checked
        .procedures
        .iter()
        .find(|one| one.file == view.file() && one.place.span == procedure.name.span);
    let axes = own.and_then(|own| own.graph.as_ref()).map(|card| card.axes.as_slice()).unwrap_or_default();
    let axes = axes.iter().map(|axis| Suggestion {
        detail: axis.values.join(", "),
        ..name(&axis.name, Sort::Variant, span, RANK - 5)
    });
    let end = Span::new(procedure.body.end, procedure.body.end);
    let locals = locals(Some(procedure), end, |kind| {
        matches!(kind, StatementKind::Measure(_) | StatementKind::Read { .. } | StatementKind::Ask { .. })
    });
    let all = axes.chain(locals.into_iter().map(|one| Suggestion { span, ..one }));
    all.filter(|one| !given.contains(&one.label.as_str())).collect()
}

/// What a text can show between braces: readings, answers and variants.
pub(super) fn shown_in_texts(view: &View, at: usize, span: Span) -> Vec<Suggestion> {
    let procedure = blocks::procedure(view, at);
    let mut all = locals(procedure, span, |_| true);
    if procedure.is_some() {
        all.extend(things(view, span, |known| match known {
            Thing::Variant(_) => Some(RANK),
            Thing::Positions(_) => Some(RANK + 5),
            _ => None,
        }));
    }
    all
}
