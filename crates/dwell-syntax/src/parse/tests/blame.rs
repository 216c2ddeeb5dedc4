//! Which place is blamed: in declarations, at missing and spare braces, at the end of a line.

use expect_test::{Expect, expect};

use super::slips;

fn check(text: &str, wanted: Expect) {
    wanted.assert_eq(&slips(text));
}

#[test]
fn declarations() {
    check(
        "uze \"a.dwell\"
procedur x { step a { note \"c\" } }
spec s: t { chek 62 ± 6 Hz  check from 5 to 8 mm }
item tie-rod turnable \"x\" { turn moves toe }
handling h { states a, b  remove a -> b }
table t: u by v { at 5 mm 3 mm  between rows sometimes }
series s: t 1 .. 2 mm
hazard h: perilous \"x\"
variant: a, b
note \"x\"
tool t: u { measures v 1 .. 2 V accuracy 3 V }
procedure p {
    revision 1.5 on 2031-02-30 \"x\"
    revision 0 on 11.02.2031
    stepp a { note \"x\" }
    remove b
    remove c
    needs { engine stopped  gearbox is neutral }
    case \"x\" { tension 49 hz  charge 14.2 V  pins 5 rim 12 in  a 5  lamp dark  ends pased }
    case { a 1 V }
}
",
        expect![[r#"
            1:1 syntax "uze" `uze` is no word of the language here | did you mean `use`? => "use"
            2:1 syntax "procedur" `procedur` is no word of the language here | did you mean `procedure`? => "procedure"
            3:13 syntax "chek" `chek` is no word of the language here | did you mean `check`? => "check"
            4:14 syntax "turnable" `:` is missing before `turnable`
            5:34 syntax "a" `:` is missing before `a`
            6:27 syntax "3" `3` cannot stand here | here can stand a number with its unit, `±`, `..`, `:`, `(` or `-`
            7:20 syntax "mm" something is missing at the end of this line | after `mm` stands `target`, `steps` or `(`
            8:11 syntax "perilous" `perilous` cannot stand here | here can stand `danger`, `warning`, `caution` or `notice`
            9:8 syntax ":" a name is missing before `:`
            10:1 syntax "note" `note` cannot stand here | here can stand a word such as `procedure`, `item` or `spec`, `,` or `{`
            11:42 syntax "3" `±` is missing before `3`
            13:14 syntax "1.5" `1.5` is no count | a count is a whole number from 1 to 10,000, without a unit
            13:21 syntax "2031-02-30" 2031-02-30 is no day of the calendar | a date is written year-month-day, such as 2031-02-11
            14:14 syntax "0" `0` is no count | a count is a whole number from 1 to 10,000, without a unit
            14:19 syntax "11.02.2031" `11.02.2031` is neither a number nor a date | a date is written year-month-day, such as 2031-02-11
            15:5 syntax "stepp" `stepp` is no word of the language here | did you mean `step`? => "step"
            16:5 syntax "remove" an instruction stands here between the parts of a procedure | put it into a `step`; only cautions, notes and waivers stand outside, and what is held all the while after `keep`
            18:20 syntax "stopped" `is` is missing before `stopped`
            19:27 unit-unknown "hz" `hz` is no unit | did you mean `Hz` or `h` or `hp`? => "Hz"
            19:85 syntax "pased" `pased` is no way for a procedure to end | did you mean `passed`? => "passed"
            20:10 syntax "{" a text in quotes is missing before `{`
        "#]],
    );
}

#[test]
fn braces_are_blamed_by_indentation() {
    check(
        "procedure p {
    step a {
        if b is c {
            remove d
        remove e
    }
    step f {
        remove g
    }
}
procedure q {
    step a {
        remove d
        }
        remove e
    }
    step b {
        remove f
    }
}
procedure r {
    step a {
        remove d
    }
",
        expect![[r#"
            5:9 syntax "remove" a `}` is missing before this line | the `{` on line 3 is still open here => "\n        }"
            14:9 syntax "}" there is no `{` for this `}` | remove it => ""
            24:5 syntax "}" the file ends before its last `}` | the `{` on line 21 is not closed => "\n}"
        "#]],
    );
}

#[test]
fn a_word_before_the_end_of_a_case_is_a_unit_that_is_none() {
    check(
        "procedure p {
    case \"x\" { f 30 Herz  ends passed }
    case \"y\" { f (30, 20) Herz  ends failed }
    case \"z\" { f 30  lamp dark  ends passed }
}
",
        expect![[r#"
            2:21 unit-unknown "Herz" `Herz` is no unit | did you mean `Hz`? => "Hz"
            3:27 unit-unknown "Herz" `Herz` is no unit | did you mean `Hz`? => "Hz"
        "#]],
    );
}
