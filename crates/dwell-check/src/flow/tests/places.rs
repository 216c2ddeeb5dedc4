//! Conditions over places: one place that is named, one at which all holds, each at which one holds.

use super::{clean, finds};
use expect_test::expect;

/// Things with places.
const PLACED: &str = r#"
positions side: left, right
positions axle: front, rear
item nut: fastener at each side "nut"
item lamp: switchable "lamp"
quantity toe: angle at each side
quantity camber: angle at each side
quantity height: length at each axle { never below 0 mm }
tool level: hand-held "level" {
    measures angle -10 .. 10 ° resolution 0.1 ° accuracy ± 0.1 °
    measures length 0 .. 900 mm resolution 1 mm accuracy ± 1 mm
}
spec right-toe: angle { check 0 ± 1 ° }
spec right-camber: angle { check 1 ± 1 ° }
spec right-height: length { check 400 ± 20 mm }
"#;

fn placed(procedure: &str) -> String {
    format!("{PLACED}{procedure}")
}

#[test]
fn one_place_is_asked_and_not_the_other() {
    clean(&placed(
        r#"procedure p "P" {
    revision 1 on 2031-01-01 "First."
    step s "S" {
        ask which "Which nut is loosened?" one of none, first
        if which is first { loosen nut at left }
        if nut at left is loose { tighten nut at left }
    }
    restore { tighten nut at each side }
}
"#,
    ));
    finds(
        &placed(
            r#"procedure p "P" {
    revision 1 on 2031-01-01 "First."
    step s "S" {
        loosen nut at left
        if nut at right is loose { tighten nut at left }
        if nut at middle is loose { note "No such place." }
        if lamp at left is on { note "No places." }
        ask odd "Odd?"
        if odd at left is yes { note "No places." }
    }
}
"#,
        ),
        expect![[r#"
            21 not-found: no place of this item is called `middle`
            22 not-found: no place of this item is called `left`
            24 not-executable: an answer has no places
        "#]],
    );
}

/// A procedure that measures toe and camber and then asks this, ready with what follows.
fn asks(condition: &str, follows: &str) -> String {
    placed(&format!(
        r#"procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step s "S" {{
        measure toe with level
        measure camber with level
        measure height with level
        if every height meets right-height {{ note "Level." }}
        expect {condition}
        otherwise {{ end failed "Not so." }}
        {follows}
    }}
}}
"#
    ))
}

#[test]
fn at_one_place_both_hold() {
    // One in here and the other there is not enough; each alone at one place is.
    let here_and_there =
        r#"if toe at left misses right-toe and camber at right misses right-camber { note "Never." }"#;
    finds(
        &asks("any toe meets right-toe and camber meets right-camber", here_and_there),
        expect![[r#"
        25 unreachable: nothing leads to this
    "#]],
    );
    clean(&asks("every toe meets right-toe or camber meets right-camber", here_and_there));
}

#[test]
fn at_each_place_one_holds() {
    let both_here =
        r#"if toe at left misses right-toe and camber at left misses right-camber { note "Never." }"#;
    finds(
        &asks("every toe meets right-toe or camber meets right-camber", both_here),
        expect![[r#"
        25 unreachable: nothing leads to this
    "#]],
    );
    clean(&asks("any toe meets right-toe and camber meets right-camber", both_here));
}

#[test]
fn what_stands_at_other_places_is_refused() {
    finds(
        &asks("any toe meets right-toe and height meets right-height", r#"note "Done.""#),
        expect![[r#"
        20 reading-unused: `camber` is read, and nothing comes of it
        23 not-executable: `any` over values that do not stand at the same places
    "#]],
    );
}
