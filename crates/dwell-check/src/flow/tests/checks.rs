//! What must be judged after something was put back.

use super::{clean, finds};
use expect_test::expect;

/// A lid that is checked by the gap, in a procedure with these steps and this `restore`.
fn lid(needs: &str, steps: &str, restore: &str) -> String {
    format!(
        r#"item lid: removable "lid" {{ refit checked by right-gap }}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
{needs}    step s "S" {{
{steps}    }}
    restore {{ {restore} }}
}}
"#
    )
}

const JUDGED: &str = "        expect gap meets right-gap\n        otherwise { end failed \"Out.\" }\n";

#[test]
fn a_reading_after_it_settles_it() {
    let steps = format!("        remove lid\n        refit lid\n        measure gap with gauge\n{JUDGED}");
    clean(&lid("", &steps, "refit lid"));
}

#[test]
fn a_reading_before_it_does_not() {
    let steps = format!("        remove lid\n        measure gap with gauge\n        refit lid\n{JUDGED}");
    finds(
        &lid("", &steps, "refit lid"),
        expect![[r#"
        7 not-checked-after: nothing is judged by `right-gap` after this, and the procedure passes
            This happens when gap is 2.00 mm (in band).
    "#]],
    );
}

#[test]
fn put_back_in_restore_is_told_where_the_procedure_passes() {
    let steps = format!("        remove lid\n        measure gap with gauge\n{JUDGED}");
    finds(
        &lid("", &steps, "refit lid"),
        expect![[r#"
        10 not-checked-after: nothing is judged by `right-gap` after this, and the procedure passes
            This happens when gap is 2.00 mm (in band).
    "#]],
    );
}

#[test]
fn one_way_without_it_is_found() {
    let steps = "        ask tight \"Does it sit?\"
        if tight is no {
            remove lid
            refit lid
        } else { note \"Good.\" }
        if tight is yes {
            measure gap with gauge
            expect gap meets right-gap
            otherwise { end failed \"Out.\" }
        }
";
    finds(
        &lid("", steps, "refit lid"),
        expect![[r#"
        8 not-checked-after: nothing is judged by `right-gap` after this, and the procedure passes
            This happens when tight is no.
    "#]],
    );
}

#[test]
fn who_finds_it_off_leaves_it_to_the_one_who_took_it_off() {
    clean(&lid("    needs { lid is out }\n", "        refit lid\n", ""));
}

#[test]
fn each_place_is_checked_by_itself() {
    let text = |judged: &str| {
        format!(
            r#"positions end: front, rear
item cap: removable at each end "cap" {{ refit checked by right-play }}
quantity play: length at each end
spec right-play: play {{ check 2 ± 0.5 mm }}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step s "S" {{
        for each end {{
            remove cap
            refit cap
        }}
{judged}    }}
    restore {{ refit cap at each end }}
}}
"#
        )
    };
    clean(&text(
        "        for each end {
            measure play with gauge
            expect play meets right-play
            otherwise { end failed \"Out.\" }
        }
",
    ));
    finds(
        &text(
            "        for each end where cap is fitted {
            note \"{end}\"
        }
",
        ),
        expect![[r#"
            10 not-checked-after: nothing is judged by `right-play` after this, and the procedure passes
                This happens on every way through.
        "#]],
    );
}

#[test]
fn what_it_is_checked_by_has_no_condition_and_is_a_spec() {
    let text = |line: &str| {
        format!(
            r#"variant kind: one, other
item lid: removable "lid" {{ {line} }}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step s "S" {{
        remove lid
        refit lid
    }}
    restore {{ refit lid }}
}}
"#
        )
    };
    finds(
        &text("refit checked by right-gap when kind is one"),
        expect![[r#"
        2 not-executable: by what something is checked cannot depend on a condition
    "#]],
    );
    finds(
        &text("refit checked by gap"),
        expect![[r#"
        2 not-found: `gap` is a quantity, but a spec belongs here
    "#]],
    );
    finds(
        &text("open checked by right-gap"),
        expect![[r#"
        2 not-found: no verb of this item is called `open`
    "#]],
    );
}
