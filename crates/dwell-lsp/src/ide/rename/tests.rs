//! Renaming: the texts afterwards, and why it is refused.

use super::{prepare, rename};
use crate::ide::tests::view;
use crate::ide::world::Further;
use dwell_check::program::Content;
use expect_test::expect;

/// All texts that change, after the rename; or why it is refused.
fn renamed(files: &[(&str, &str)], new: &str, further: &[(&str, &str, &[&str])]) -> String {
    let (view, at) = view(files);
    let kept: Vec<(String, Content, Vec<String>)> = further
        .iter()
        .map(|(path, text, uses)| {
            let uses = uses.iter().map(|path| (*path).to_owned()).collect();
            ((*path).to_owned(), Content::of((*text).to_owned()), uses)
        })
        .collect();
    let further: Vec<Further<'_>> =
        kept.iter().map(|(path, content, uses)| Further { path, content, uses }).collect();
    let edits = match rename(&view, at, new, &further) {
        Ok(edits) => edits,
        Err(why) => return format!("refused: {why}"),
    };
    let mut told = String::new();
    for (path, edits) in edits {
        let of_view = view.checked.program.files.iter().find(|file| file.path == path);
        let text = of_view.map(|file| file.text.clone()).or_else(|| {
            kept.iter().find(|(known, ..)| *known == path).map(|(_, content, _)| content.text.clone())
        });
        let mut text = text.unwrap();
        for edit in edits.iter().rev() {
            text.replace_range(edit.span.start..edit.span.end, &edit.text);
        }
        told += &format!("{path}: {}\n", text.trim_end().replace('\n', " | "));
    }
    told
}

const GAP: &str = "procedure p {\n# gap\nstep gap2 {\nmeasure g‸ap: length with gap-gauge\ncaution crush \"Mind the gap, °{gap}, {gap2}, { gap }.\"\nexpect gap above 1 mm and gap below 2 mm\n}\ncase \"gap\" { gap 1 mm }\n}";

#[test]
fn exactly_what_names_it_is_renamed_also_between_braces_and_twice_on_a_line() {
    expect![[r#"
        a.dwell: procedure p { | # gap | step gap2 { | measure slack: length with gap-gauge | caution crush "Mind the gap, °{slack}, {gap2}, { slack }." | expect slack above 1 mm and slack below 2 mm | } | case "gap" { slack 1 mm } | }
    "#]].assert_eq(&renamed(&[("a.dwell", GAP)], "slack", &[]));
}

#[test]
fn names_that_are_none_or_are_taken_are_refused() {
    let mut told = String::new();
    for new in [
        "",
        "step",
        "2gap",
        "mm",
        "Gap",
        "my gap",
        "gap\nx",
        "gap # x",
        "length",
        "hose",
        "gap2",
        "volts",
        "moving-parts",
        "crush",
        "µ",
        "-",
    ] {
        let text = format!("item volts: hose\n{GAP}");
        told += &format!("{new:?} {}\n", renamed(&[("a.dwell", &text)], new, &[]));
    }
    expect![[r#"
        "" refused: a name has at least one letter
        "step" refused: `step` is a word of the language: choose another name
        "2gap" refused: `2gap` is no name: a name begins with a letter and has letters, digits and `-` between them
        "mm" refused: `mm` is a unit: choose another name
        "Gap" refused: names are written small, with `-` between their words: `gap`
        "my gap" refused: `my gap` is no name: a name begins with a letter and has letters, digits and `-` between them
        "gap\nx" refused: `gap
        x` is no name: a name begins with a letter and has letters, digits and `-` between them
        "gap # x" refused: `gap # x` is no name: a name begins with a letter and has letters, digits and `-` between them
        "length" refused: `length` is a kind of quantity: choose another name
        "hose" refused: `hose` is taken: a handling that comes with the program has that name
        "gap2" refused: `gap2` is taken: the procedure p names something so in line 4 of a.dwell
        "volts" refused: `volts` is a unit: choose another name
        "moving-parts" refused: `moving-parts` is taken: a hazard that comes with the program has that name
        "crush" refused: `crush` stands in line 6 of a.dwell already, where nothing declares it: it would mean this from then on
        "µ" a.dwell: item volts: hose | procedure p { | # gap | step gap2 { | measure µ: length with gap-gauge | caution crush "Mind the gap, °{µ}, {gap2}, { µ }." | expect µ above 1 mm and µ below 2 mm | } | case "gap" { µ 1 mm } | }

        "-" refused: `-` is no name: a name begins with a letter and has letters, digits and `-` between them
    "#]].assert_eq(&told);
}

#[test]
fn what_is_not_the_writers_is_not_renamed() {
    let mut told = String::new();
    for text in [
        "it‸em x: hose",
        "item x: ho‸se",
        "item x: hose\nprocedure p { step s { disc‸onnect x } }",
        "procedure p { needs { x is op‸en } }\nitem x: hose",
        "spec s: leng‸th { check 1 .. 2 mm }",
        "spec s: length { check 1 .. 2 m‸m }",
        "spec s: length { check 1‸ .. 2 mm }",
        "procedure p { step s { waive end‸less because \"no\" } }",
        "procedure p { step s { end pas‸sed } }",
        "procedure p { step s { note \"the x‸ 😀\" } }\nitem x: hose",
        "# the x‸\nitem x: hose",
        "positions w: ‸1, 2",
        "item x: unknown-on‸e",
        "use \"x‸.dwell\"",
        "procedure p { step s { keep engine-sp‸eed within 800 ± 50 rpm with t { note \"x\" } otherwise { note \"y\" } } }",
    ] {
        let (view, at) = view(&[("a.dwell", text)]);
        told += &format!("{}\n", prepare(&view, at).unwrap_err());
    }
    expect![[r#"
        nothing here has a name of its own: put the cursor on the name of a thing, a step, a reading
        `hose` comes with the program: declare one of your own under the name that you want
        `disconnect` comes with the program: declare one of your own under the name that you want
        `open` comes with the program: declare one of your own under the name that you want
        `length` is a kind of quantity that the language knows
        `mm` is a unit: it is not renamed, its amount is written in another one
        nothing here has a name of its own: put the cursor on the name of a thing, a step, a reading
        `endless` is a rule of the checker: its name is the same everywhere
        `passed` is a word of the language here
        nothing here has a name of its own: put the cursor on the name of a thing, a step, a reading
        nothing here has a name of its own: put the cursor on the name of a thing, a step, a reading
        `1` is a number: it is changed where it is declared
        nothing that is visible here declares `unknown-one`: declare it first, or correct it
        a file is renamed where it lies; then its `use` lines are written anew
        `engine-speed` comes with the program: declare one of your own under the name that you want
    "#]]
    .assert_eq(&told);
}

#[test]
fn what_is_declared_is_renamed_in_every_file_that_sees_it() {
    let files = [
        ("a.dwell", "use \"v.dwell\"\nprocedure p { step s { remove gu‸ard } }"),
        ("v.dwell", "# guard\nitem guard: removable \"guard\"\n"),
    ];
    let b: (&str, &str, &[&str]) =
        ("b.dwell", "use \"v.dwell\"\nprocedure q { step guard { refit guard } }", &["v.dwell"]);
    let c: (&str, &str, &[&str]) = ("c.dwell", "item guard: hose", &[]);
    expect![[r#"
        a.dwell: use "v.dwell" | procedure p { step s { remove cover } }
        b.dwell: use "v.dwell" | procedure q { step guard { refit cover } }
        v.dwell: # guard | item cover: removable "guard"
    "#]]
    .assert_eq(&renamed(&files, "cover", &[b, c]));
    let taken: (&str, &str, &[&str]) = ("d.dwell", "use \"v.dwell\"\nitem cover: hose", &["v.dwell"]);
    expect!["refused: `cover` is taken: an item declared in d.dwell has that name"].assert_eq(&renamed(
        &files,
        "cover",
        &[b, c, taken],
    ));
    let local: (&str, &str, &[&str]) =
        ("d.dwell", "use \"v.dwell\"\nprocedure r { step s { ask cover \"?\" } }", &["v.dwell"]);
    expect!["refused: `cover` is taken: the procedure r names something so in line 2 of d.dwell"]
        .assert_eq(&renamed(&files, "cover", &[local]));
}

#[test]
fn verbs_and_states_are_renamed_with_their_handling() {
    let text = "handling h {\nstates a, b\ngo‸: a -> b\nback-up: b -> a\n}\nitem x: h { go brings torque }\nprocedure p { step s { go x\nwait 1 min since go x } }";
    expect![[r#"
        a.dwell: handling h { | states a, b | swing: a -> b | back-up: b -> a | } | item x: h { swing brings torque } | procedure p { step s { swing x | wait 1 min since swing x } }
    "#]]
    .assert_eq(&renamed(&[("a.dwell", text)], "swing", &[]));
    expect!["refused: `back-up` is taken: it stands beside this one already"].assert_eq(&renamed(
        &[("a.dwell", text)],
        "back-up",
        &[],
    ));
    expect!["refused: `mesure` is too near to a word that begins a statement: choose another verb"]
        .assert_eq(&renamed(&[("a.dwell", text)], "mesure", &[]));
}

#[test]
fn a_reading_that_is_named_like_its_quantity_parts_from_it() {
    let text = |mark: &str, other: &str| {
        format!(
            "quantity {mark}: length\nprocedure p {{ step s {{ measure gap with t\nexpect {other} above 1 mm }} }}"
        )
    };
    expect![[r#"
        a.dwell: quantity gap: length | procedure p { step s { measure slack: gap with t | expect slack above 1 mm } }
    "#]].assert_eq(&renamed(&[("a.dwell", &text("gap", "g‸ap"))], "slack", &[]));
    expect![[r#"
        a.dwell: quantity slack: length | procedure p { step s { measure gap: slack with t | expect gap above 1 mm } }
    "#]].assert_eq(&renamed(&[("a.dwell", &text("g‸ap", "gap"))], "slack", &[]));
}

#[test]
fn a_place_that_cannot_be_read_stops_it() {
    let text = "item guard‸: removable\nprocedure p { step s {\nexpect guard %% guard\nremove guard\n} }";
    expect!["refused: `guard` stands in line 3 of a.dwell, which cannot be read: mend that line first"]
        .assert_eq(&renamed(&[("a.dwell", text)], "cover", &[]));
    let text = "item guard‸: removable\nprocedure p { step s {\nexpect %%\nremove guard\n} }";
    expect![[r#"
        a.dwell: item cover: removable | procedure p { step s { | expect %% | remove cover | } }
    "#]]
    .assert_eq(&renamed(&[("a.dwell", text)], "cover", &[]));
}

#[test]
fn steps_answers_values_and_readings_of_performed_procedures_are_renamed() {
    let file = |mark: &str| {
        let text = "variant market: cold, hot\nprocedure p {\nstep first {\nask lamp \"µ?\" one of lit, dark\nread depth: length from \"°\"\nif lamp is dark or market is cold { back to first up to 2 times }\n}\n}\nprocedure q { step s { perform p }\ncase \"dark\" { lamp dark  market cold  depth 3 mm  ends passed } }";
        let at = text.rfind(mark).unwrap() + mark.len();
        format!("{}‸{}", text.get(..at).unwrap(), text.get(at..).unwrap())
    };
    let mut told = String::new();
    for (mark, new) in [
        ("depth", "height"),
        ("lamp dark", "off"),
        ("cold", "mild"),
        ("back to first", "one-more"),
        ("lamp", "light"),
        ("lamp dark", "lit"),
        ("cold", "hot"),
    ] {
        told += &format!("{}\n", renamed(&[("a.dwell", &file(mark))], new, &[]).trim_end());
    }
    expect![[r#"
        a.dwell: variant market: cold, hot | procedure p { | step first { | ask lamp "µ?" one of lit, dark | read height: length from "°" | if lamp is dark or market is cold { back to first up to 2 times } | } | } | procedure q { step s { perform p } | case "dark" { lamp dark  market cold  height 3 mm  ends passed } }
        a.dwell: variant market: cold, hot | procedure p { | step first { | ask lamp "µ?" one of lit, off | read depth: length from "°" | if lamp is off or market is cold { back to first up to 2 times } | } | } | procedure q { step s { perform p } | case "dark" { lamp off  market cold  depth 3 mm  ends passed } }
        a.dwell: variant market: mild, hot | procedure p { | step first { | ask lamp "µ?" one of lit, dark | read depth: length from "°" | if lamp is dark or market is mild { back to first up to 2 times } | } | } | procedure q { step s { perform p } | case "dark" { lamp dark  market mild  depth 3 mm  ends passed } }
        a.dwell: variant market: cold, hot | procedure p { | step one-more { | ask lamp "µ?" one of lit, dark | read depth: length from "°" | if lamp is dark or market is cold { back to one-more up to 2 times } | } | } | procedure q { step s { perform p } | case "dark" { lamp dark  market cold  depth 3 mm  ends passed } }
        a.dwell: variant market: cold, hot | procedure p { | step first { | ask light "µ?" one of lit, dark | read depth: length from "°" | if light is dark or market is cold { back to first up to 2 times } | } | } | procedure q { step s { perform p } | case "dark" { light dark  market cold  depth 3 mm  ends passed } }
        refused: `lit` is taken: it stands beside this one already
        refused: `hot` is taken: it stands beside this one already
    "#]].assert_eq(&told);
}

#[test]
fn a_verb_that_a_thing_has_from_two_handlings_is_renamed_in_both_and_the_state_of_one_of_them_is_not_taken() {
    let text = "handling h {\nstates a, b\ngo: a -> b\n}\nhandling k {\nstates c, done\ngo: c -> done\n}\nitem x: h, k\nprocedure p { step s { g‸o x } }";
    expect![[r#"
        a.dwell: handling h { | states a, b | swing: a -> b | } | handling k { | states c, done | swing: c -> done | } | item x: h, k | procedure p { step s { swing x } }
    "#]].assert_eq(&renamed(&[("a.dwell", text)], "swing", &[]));
    expect!["refused: `done` is taken: it stands beside this one already"].assert_eq(&renamed(
        &[("a.dwell", text)],
        "done",
        &[],
    ));
    let text = "handling h {\nstates a, b\nremove: a -> b\n}\nitem x: h, removable\nprocedure p { step s { remo‸ve x } }";
    expect!["refused: `remove` comes with the program: declare one of your own under the name that you want"]
        .assert_eq(&renamed(&[("a.dwell", text)], "swing", &[]));
}
