//! Handlings, items, quantities, conditions.

use crate::model::{Effect, Subject, When};
use crate::texts::{sound, troubled};
use expect_test::expect;

const VAN: &str = r#"
variant alternator-sort: single, double
positions front-wheel: left, right
item engine: startable, heatable "engine" {
    running brings moving-parts, exhaust-gas
    start needs gearbox is neutral
    start brings cooling-system is pressurised when pump-fuse is fitted
    warm lasts 20 min after stop
    may stay running
}
item gearbox: gear-selector
item pump-fuse: removable { located "fuse box, place 14" }
item cooling-system: pressure-line { pressurised brings hot-coolant when alternator-sort is single }
item tie-rod-nut: fastener at each front-wheel "tie rod lock nut" {
    tighten moves toe
    torque nut-torque
}
item hv-bus: high-voltage-net
spec nut-torque: torque { check 54 ± 6 N·m  condition "Thread oiled." }
quantity ride-height: length at each front-wheel { moves toe }
quantity toe: angle at each front-wheel {
    positive "toe-in" negative "toe-out"
    never outside -5 .. 5 °
    needs gearbox is neutral, tie-rod-nut at left is tight
}
quantity rear-toe: toe { never above 2 ° }
"#;

#[test]
fn states_are_looked_up_in_all_handlings() {
    let model = sound(VAN);
    let engine = model.items.iter().find(|item| item.name == "engine").unwrap();
    assert_eq!(engine.handlings.len(), 2);
    let (warm, seconds, after) = &engine.lasts[0];
    assert_eq!((warm.handling, warm.state), (1, 2));
    assert_eq!((seconds.to_string().as_str(), after.as_deref()), ("1200", Some("stop")));
    assert_eq!(engine.may_stay, [(0, 1)]);
    assert_eq!(engine.brings.len(), 3);
    assert_eq!(engine.brings[0].subject, Subject::State(0, 1));
    assert_eq!(engine.brings[2].subject, Subject::Verb("start".to_owned()));
    assert!(matches!(&engine.brings[2].effect, Effect::State(state) if state.state == 0));
    assert!(matches!(engine.brings[2].when.as_slice(), [When::State(states)] if states.len() == 1));
    assert_eq!(engine.needs[0].verb, "start");
}

#[test]
fn lines_of_a_handling_hold_for_each_item_that_has_it() {
    let model = sound(VAN);
    let bus = model.items.iter().find(|item| item.name == "hv-bus").unwrap();
    let shock = model.hazards.iter().position(|hazard| hazard.name == "shock").unwrap();
    let brought: Vec<_> = bus.brings.iter().map(|brings| (brings.subject.clone(), brings.effect)).collect();
    assert_eq!(
        brought,
        [(Subject::State(0, 0), Effect::Hazard(shock)), (Subject::State(0, 1), Effect::Hazard(shock))]
    );
    assert_eq!(bus.brings[0].place.file, 0);
}

#[test]
fn labels_places_torque() {
    let model = sound(VAN);
    let item = |name: &str| model.items.iter().find(|item| item.name == name).unwrap();
    assert_eq!(item("pump-fuse").label, "pump fuse");
    assert_eq!(item("pump-fuse").located.as_deref(), Some("fuse box, place 14"));
    let nut = item("tie-rod-nut");
    assert_eq!(nut.label, "tie rod lock nut");
    assert_eq!(model.specs[nut.torque.unwrap()].condition.as_deref(), Some("Thread oiled."));
    assert_eq!(nut.at_each.map(|positions| model.positions[positions].name.as_str()), Some("front-wheel"));
    assert_eq!(model.quantity_name(nut.moves[0].quantity), "toe");
}

#[test]
fn what_holds_for_a_quantity_holds_for_those_of_its_sort() {
    let model = sound(VAN);
    let rear = model.quantities.iter().find(|quantity| quantity.name == "rear-toe").unwrap();
    assert_eq!(rear.signs.0.as_deref(), Some("toe-in"));
    assert_eq!(rear.needs.len(), 2);
    assert_eq!(rear.needs[1].0.at, Some(0));
    assert!(rear.at_each.is_some());
    assert_eq!(super::shown(&rear.span), "[-1/72, 1/180]");
    assert_eq!(rear.kind.name(), "angle");
}

#[test]
fn a_direct_voltage_is_an_electric_potential() {
    use crate::model::QuantityRef::Kind as K;
    use dwell_quantity::Kind;
    let model = sound("");
    assert!(model.is_a(K(Kind::DC_VOLTAGE), K(Kind::ELECTRIC_POTENTIAL)));
    assert!(!model.is_a(K(Kind::ELECTRIC_POTENTIAL), K(Kind::DC_VOLTAGE)));
    assert!(model.may_meet(K(Kind::ELECTRIC_POTENTIAL), K(Kind::DC_VOLTAGE)));
    assert!(!model.may_meet(K(Kind::TORQUE), K(Kind::ENERGY)));
}

#[test]
fn names_that_are_not_there() {
    expect![[r#"
        NotFound { place: merle.dwell:3 «moving-partz», name: "moving-partz", what: "a hazard", near: ["moving-parts"], elsewhere: None }
        NotFound { place: merle.dwell:4 «neutrl», name: "neutrl", what: "a state of this item", near: ["neutral"], elsewhere: None }
        NotFound { place: merle.dwell:5 «strat», name: "strat", what: "a verb of this item", near: ["start"], elsewhere: None }
        NotFound { place: merle.dwell:6 «hopping», name: "hopping", what: "a verb or a state of this item", near: ["stopped", "running", "start", "stop", "crank"], elsewhere: None }
        NotFound { place: merle.dwell:7 «belt-frequency», name: "belt-frequency", what: "a quantity", near: [], elsewhere: None }
        NotFound { place: merle.dwell:8 «gearbox», name: "gearbox", what: "a variant, a set of positions or an item", near: [], elsewhere: None }
        NotFound { place: merle.dwell:8 «left», name: "left", what: "a place of this item", near: [], elsewhere: None }
    "#]]
    .assert_eq(&troubled(
        r#"item selector: gear-selector
item engine: startable {
    running brings moving-partz
    start needs selector is neutrl
    strat needs selector is neutral
    hopping brings shock
    stop moves belt-frequency
    start needs selector at left is neutral when gearbox is neutral
}
"#,
    ));
}

#[test]
fn one_slip_is_told_once() {
    expect![[r#"
        NotFound { place: merle.dwell:1 «removeable», name: "removeable", what: "a handling", near: ["removable"], elsewhere: None }
        NotFound { place: merle.dwell:3 «gauge-presure», name: "gauge-presure", what: "a quantity", near: ["gauge-pressure"], elsewhere: None }
    "#]]
    .assert_eq(&troubled(
        r#"item guard: removeable { fitted brings shock }
item engine: startable { start needs guard is fitted when guard is out }
quantity boost: gauge-presure
quantity peak-boost: boost { never below 0 bar }
spec boost-band: boost { check 1 ± 0.2 bar }
spec peak-band: peak-boost { check 1 ± 0.2 bar  adjust 9 Hz }
tool boost-gauge: screw-in { measures boost 0 .. 3 bar }
"#,
    ));
}

#[test]
fn a_quantity_is_not_one_of_itself() {
    expect![[r#"
        NotExecutable { place: merle.dwell:1 «b», what: "the quantity `a` is said to be one of itself", help: "name the kind of quantity that it is, such as length or dc-voltage" }
    "#]]
    .assert_eq(&troubled("quantity a: b\nquantity b: c\nquantity c: a\nquantity d: a\nspec e: d { check 1 ± 1 V }\n"));
}

#[test]
fn what_cannot_be_brought_about() {
    expect![[r#"
        ProofMissing { place: merle.dwell:4 «hv-bus is dead», state: "hv-bus is dead", how: Brought, related: None, witness: None }
        NotExecutable { place: merle.dwell:5 «hv-bus is isolated», what: "nothing here can bring about that hv-bus is isolated", help: "a state brings hazards only: say which verb brings this about" }
    "#]]
    .assert_eq(&troubled(
        r#"
item hv-bus: high-voltage-net
item service-plug: removable {
    remove brings hv-bus is dead
    out brings hv-bus is isolated
    remove brings hv-bus is isolated
}
"#,
    ));
}

#[test]
fn handlings_that_would_be_misread() {
    expect![[r#"
        NotFound { place: merle.dwell:1 «shutt», name: "shutt", what: "a state of this handling", near: ["shut"], elsewhere: None }
        NotExecutable { place: merle.dwell:2 «bend», what: "the verb `bend` is easily misread as the word `end`", help: "choose a verb that differs in two letters or more" }
    "#]]
    .assert_eq(&troubled(
        "handling lid { states open, shut  close-it: open -> shutt }\nhandling tab { states up, down  bend: up -> down }\n",
    ));
}
