//! What is so at a place of a small procedure, as it is shown.

use super::super::block::plain;
use super::super::tests::view;
use super::*;
use expect_test::{Expect, expect};

const THINGS: &str = r#"
variant family: k9, k9h
item guard: removable "guard"
item bolt: fastener "bolt"
item engine: startable "engine" { running brings moving-parts  running brings exhaust-gas }
item kühler: removable "Kühler"
"#;

fn shows(step: &str, expected: Expect) {
    let text = format!("procedure p \"P\" {{\n{step}\n}}\n{THINGS}");
    let (view, at) = view(&[("a.dwell", &text)]);
    let shown = here(&view, at).map_or_else(|| "nothing".to_owned(), |here| plain(&shown(&here)));
    expected.assert_eq(&shown);
}

#[test]
fn what_is_out_is_owed_and_restore_may_put_it_back() {
    shows(
        "step s \"S\" {\n remove guard\n remove kühler\n ‸note \"é\"\n refit kühler }\n restore { refit guard }",
        expect![[r#"
            Before this:

            guard   out  owed, restore puts it back
            Kühler  out  owed, restore does not put it back"#]],
    );
}

#[test]
fn the_state_is_that_before_the_statement() {
    shows(
        "step s \"S\" { rem‸ove guard refit guard }",
        expect![[r#"
        Before this:

        As usual: guard fitted."#]],
    );
    shows(
        "step s \"S\" { remove guard\n refit guard ‸ }",
        expect![[r#"
            Before this:

            As usual: guard fitted."#]],
    );
    shows("step s \"S\" { remove guard\n refit guard }\n ‸", expect!["nothing"]);
}

#[test]
fn hazards_are_covered_or_not() {
    shows(
        "step s \"S\" { warning moving-parts \"Keep clear.\"\n start engine\n ‸stop engine }",
        expect![[r#"
            Before this:

            engine  running  owed, restore does not put it back

            WARNING: exhaust gas (no caution covers it).

            WARNING: moving parts (covered by a caution)."#]],
    );
}

#[test]
fn vehicles_are_told_apart_where_it_differs() {
    shows(
        "applies to family k9, k9h\n step s \"S\" { if family is k9 { remove guard }\n ‸note \"n\"\n if family is k9 { refit guard } }",
        expect![[r#"
            Before this:

            With family k9:

            guard  out  owed, restore does not put it back

            With family k9h:

            As usual: guard fitted."#]],
    );
}

#[test]
fn a_line_that_is_being_typed_is_left_out() {
    shows(
        "step s \"S\" {\n remove guard\n tighten bolt to ‸\n refit guard }",
        expect![[r#"
        Before this:

        guard  out  owed, restore does not put it back

        As usual: bolt tight."#]],
    );
    shows(
        "step s \"S\" {\n remove guard\n tigh‸\n refit guard }",
        expect![[r#"
        Before this:

        guard  out  owed, restore does not put it back"#]],
    );
}

#[test]
fn what_is_performed_belongs_to_its_line() {
    let text = "procedure p \"P\" { step s \"S\" {\n remove guard\n ‸perform q\n refit guard } }\nprocedure q \"Q\" { step t \"T\" { loosen bolt\n tighten bolt } }\n";
    let (view, at) = view(&[("a.dwell", &format!("{text}{THINGS}"))]);
    let shown = plain(&shown(&here(&view, at).unwrap()));
    expect![[r#"
        Before this:

        guard  out  owed, restore does not put it back

        As usual: bolt tight."#]]
    .assert_eq(&shown);
}
