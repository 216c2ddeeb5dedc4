//! What names mean, held to what the checker says they mean, and drawn for every sort of name.

use super::{Key, Seen, World, meaning};
use crate::ide::mentions::{Role, What};
use crate::ide::tests::view;
use dwell_check::model::Thing;
use expect_test::expect;

const VEHICLE: &str = "\
handling latch { states shut, ajar  open-it: shut -> ajar  shut-it: ajar -> shut }
positions wheel: left, right
item lid: latch \"lid\" { open-it brings moving-parts }
item nut: fastener at each wheel \"nut\"
quantity gap: length at each wheel { never below 0 mm }
spec gap-limit: gap { check 1 ± 0.1 mm when market is cold }
variant market: cold, hot
tool gauge: clip-on \"gauge\" { measures length 0 .. 10 mm resolution 0.01 mm }
";

const JOB: &str = "use \"vehicle.dwell\"
procedure job \"Job\" {
    applies to market cold, hot
    needs { lid is shut }
    step first \"First\" {
        open-it lid
        loosen nut at left
        measure gap with gauge
        measure width: gap with gauge
        ask lamp \"Is the lamp {market}?\" one of lit, dark
        if lamp is lit or market is hot { back to first up to 2 times }
        expect gap at left meets gap-limit
        note \"😀 µ {gap at right}: {lamp}\"
        perform other
    }
    restore { shut-it lid }
    case \"c\" { market hot  lamp dark  depth 3 mm  gap 1 mm  ends passed }
}
procedure other { step one { read depth: length from \"°\" } }
";

#[test]
fn a_name_means_what_the_checker_says() {
    let files = [
        ("a.dwell", "use \"b.dwell\"\nuse \"c.dwell\"\nitem own: removable\nitem own: hose\n"),
        (
            "b.dwell",
            "use \"d.dwell\"\nitem b-thing: removable\nitem shared: removable\nspec torque: length { check 1 .. 2 mm }\n",
        ),
        ("c.dwell", "item shared: hose\ntool hose: clip-on\nitem own: hose\n"),
        ("d.dwell", "item d-thing: removable\n"),
    ];
    let (view, _) = view(&files);
    let world = World::of(&view, &[]);
    let mut looked_at = 0;
    for (file, scope) in view.checked.model.scopes.iter().enumerate() {
        for (name, thing) in &scope.names {
            looked_at += 1;
            match (world.seen(file, name), thing) {
                (Some(Seen::Kind), Thing::Kind(_)) => {}
                (Some(Seen::Declared(at, declaration, _)), thing) => {
                    let span = view.checked.program.files[at].tree.declarations[declaration]
                        .kind
                        .name()
                        .unwrap()
                        .span;
                    let model = &view.checked.model;
                    let place = match thing {
                        Thing::Handling(place) => model.handlings[*place].place,
                        Thing::Item(place) | Thing::Tool(place) => model.items[*place].place,
                        Thing::Hazard(place) => model.hazards[*place].place,
                        Thing::Spec(place) => match model.specs.get(*place) {
                            Some(spec) => spec.place,
                            None => continue,
                        },
                        Thing::Quantity(place) => model.quantities[*place].place,
                        other => panic!("{name} is {other:?}"),
                    };
                    assert_eq!((place.file, place.span), (at, span), "{name}");
                }
                (None | Some(Seen::Kind), thing) => panic!("{name} is {thing:?}"),
            }
        }
        for unseen in ["d-thing", "b-thing", "own", "shared", "hose"] {
            assert_eq!(world.seen(file, unseen).is_some(), scope.names.contains_key(unseen), "{unseen}");
        }
    }
    assert!(looked_at > 100);
}

#[test]
fn every_name_of_a_procedure_says_what_it_is_and_where_that_is_declared() {
    let (view, _) = view(&[("job.dwell", JOB), ("vehicle.dwell", VEHICLE)]);
    assert!(view.checked.program.files.iter().all(|file| file.slips.is_empty()));
    let world = World::of(&view, &[]);
    let mut told = String::new();
    for known in world.resolved(view.file()) {
        if known.mention.role == Role::Declares && !matches!(known.keys.as_slice(), [_, _]) {
            continue;
        }
        let at: Vec<String> = known
            .keys
            .iter()
            .map(|key| match key {
                Key::Kind(_) => "a kind".to_owned(),
                key => {
                    let places = world.declared_at(*key).into_iter().map(|(file, span)| {
                        let source = &view.checked.program.files[file];
                        format!("{}:{}", source.path, source.lines.place(&source.text, span.start).0)
                    });
                    places.collect::<Vec<_>>().join(" ")
                }
            })
            .collect();
        told += &format!("{} {:?} {}\n", known.mention.name, known.what, at.join(", "));
    }
    expect![[r#"
        vehicle.dwell File vehicle.dwell:1
        market Variant vehicle.dwell:7
        cold Value vehicle.dwell:7
        hot Value vehicle.dwell:7
        lid Item vehicle.dwell:3
        shut State vehicle.dwell:1
        open-it Verb vehicle.dwell:1
        lid Item vehicle.dwell:3
        loosen Verb <prelude>:56
        nut Item vehicle.dwell:4
        left Place vehicle.dwell:2
        gap Reading job.dwell:8, vehicle.dwell:5
        gauge Tool vehicle.dwell:8
        gap Quantity vehicle.dwell:5
        gauge Tool vehicle.dwell:8
        market Variant vehicle.dwell:7
        lamp Question job.dwell:10
        lit Answer job.dwell:10
        market Variant vehicle.dwell:7
        hot Value vehicle.dwell:7
        first Step job.dwell:5
        gap Reading job.dwell:8
        left Place vehicle.dwell:2
        gap-limit Spec vehicle.dwell:6
        gap Reading job.dwell:8
        right Place vehicle.dwell:2
        lamp Question job.dwell:10
        other Procedure job.dwell:19
        shut-it Verb vehicle.dwell:1
        lid Item vehicle.dwell:3
        market Variant vehicle.dwell:7
        hot Value vehicle.dwell:7
        lamp Question job.dwell:10
        dark Answer job.dwell:10
        depth Reading job.dwell:19
        mm Unit 
        gap Reading job.dwell:8
        mm Unit 
        passed Outcome 
        length Kind a kind
    "#]]
    .assert_eq(&told);
}

#[test]
fn a_name_is_met_at_both_its_edges_and_nothing_elsewhere() {
    let at = |text: &str| {
        let (view, at) = view(&[("a.dwell", text)]);
        meaning(&view, at).map(|meaning| (meaning.name, meaning.what))
    };
    let belt = Some(("belt".to_owned(), What::Item));
    assert_eq!(at("item ‸belt: removable"), belt);
    assert_eq!(at("item belt‸: removable"), belt);
    assert_eq!(at("item be‸lt: removable"), belt);
    assert_eq!(at("it‸em belt: removable"), None);
    assert_eq!(at("item belt: removable \"belt‸\""), None);
    assert_eq!(at("# belt‸ 😀\nitem belt: removable"), None);
    assert_eq!(at("item belt: removable\n‸\n"), None);
    assert_eq!(at("item belt: removable\n‸"), None);
    assert_eq!(at("spec s: length { check 1 ‸.. 2 mm }"), None);
    assert_eq!(at("spec s: length { check 1 .. 2 m‸m }"), Some(("mm".to_owned(), What::Unit)));
    assert_eq!(at("spec s: len‸gth { check 1 .. 2 mm }"), Some(("length".to_owned(), What::Kind)));
    assert_eq!(at(""), None);
}

#[test]
fn the_prelude_has_its_place_and_what_is_unknown_has_none() {
    let (view, at) = view(&[("a.dwell", "item belt: remov‸able")]);
    let found = meaning(&view, at).unwrap();
    assert_eq!((found.what, found.declared.len()), (What::Handling, 1));
    assert_eq!(found.declared[0].file, 0);
    assert!(matches!(found.thing, Some(Thing::Handling(_))));
    let (view, at) = super::super::tests::view(&[("a.dwell", "item belt: unkn‸own-one")]);
    let found = meaning(&view, at).unwrap();
    assert_eq!((found.what, found.declared.len(), found.thing), (What::Handling, 0, None));
}
