//! Words, names, quotes and braces that got lost: said once, at their place, and the rest is read as if they stood there.

use expect_test::{Expect, expect};

use super::outline::outline;
use super::slips;

/// What is said of `text`; each of `still` must be in its tree.
fn check(text: &str, still: &[&str], wanted: Expect) {
    wanted.assert_eq(&slips(text));
    let tree = outline(text);
    for one in still {
        assert!(tree.contains(one), "{one}: {tree}");
    }
}

#[test]
fn words_that_begin_something() {
    check(
        "p \"A procedure\" {
    {
        engine is stopped
    }
    s \"A step\" {
        lamp is dark {
            remove a
        }
        {
            remove b
        }
        drop meets limit
        {
            remove c
        }
        gap to limit up to 3 times by {
            remove d
        }
        oterwise {
            remove e
        }
        assk seal \"Is it whole?\"
    }
    \"one\" { drop 1 mm  ends passed }
}
",
        &[
            "Needs",
            "remove, item: a",
            "remove, item: b",
            "remove, item: c",
            "remove, item: d",
            "remove, item: e",
            "Case",
        ],
        expect![[r#"
            1:1 syntax "p" `procedure` is missing before `p` => "procedure "
            2:5 syntax "{" before this `{` its word is missing | among the parts of a procedure a block begins with `needs`, `leaves`, `step`, `restore` or `case`
            5:5 syntax "s" `step` is missing before `s` => "step "
            6:9 syntax "lamp" `if` is missing before `lamp` => "if "
            9:9 syntax "{" before this `{` its word is missing | after `expect`, `adjust` and the like it is `otherwise`, after `if` it is `else`; a block does not stand alone
            12:9 syntax "drop" `if` is missing before `drop` => "if "
            16:9 syntax "gap" `adjust` is missing before `gap` => "adjust "
            19:9 syntax "oterwise" `oterwise` is no word of the language here | did you mean `otherwise`? => "otherwise"
            22:9 syntax "assk" `assk` is no word of the language here | did you mean `ask`? => "ask"
            24:5 syntax "\"one\"" `case` is missing before a text => "case "
        "#]],
    );
}

#[test]
fn words_inside_something() {
    check(
        "item belt removable \"belt\" { remove brings noise }
item : removable \"belt\" { torque t }
spec s: { check 5 ± 1 mm }
procedure p {
    revision 1 2031-02-11 \"x\"
    applies o market hot
    step s {
        for cylinder {
            remove a
        }
        adjust gap limit up to 3 times {
            remove b
        }
        bakc to s
        back s
        waive caution-missing becase \"x\"
        expct gap meets limit
        otherwise {
            remove c
        }
    }
}
",
        &["noise", "Torque(t)", "Check", "Revision", "remove, item: a", "remove, item: b", "remove, item: c"],
        expect![[r#"
            1:11 syntax "removable" `:` is missing before `removable`
            2:6 syntax ":" a name is missing before `:`
            3:9 syntax "{" a name is missing before `{`
            5:16 syntax "2031-02-11" `on` is missing before `2031-02-11` => "on "
            6:13 syntax "o" `o` is no word of the language here | did you mean `to`? => "to"
            8:13 syntax "cylinder" `each` is missing before `cylinder` => "each "
            11:20 syntax "limit" `to` is missing before `limit` => "to "
            11:40 syntax "{" `by` is missing before `{` => "by "
            14:9 syntax "bakc" `bakc` is no word of the language here | did you mean `back`? => "back"
            15:14 syntax "s" `to` is missing before `s` => "to "
            16:31 syntax "becase" `becase` is no word of the language here | did you mean `because`? => "because"
            17:9 syntax "expct" `expct` is no word of the language here | did you mean `expect`? => "expect"
        "#]],
    );
}

#[test]
fn words_that_begin_a_declaration() {
    check(
        "force: force { check 5 ± 1 N }
charging: voltage by temperature { at 20 °C: 14 ± 1 V  between rows linear  outside rows refuse }
meter: clip-on \"meter\" { measures voltage 0 .. 60 V }
toe: angle { positive \"in\" negative \"out\" }
belt: removable \"belt\" { remove neds cover is out }
cover: removable
table rest: voltage by temperature {
    row when a is b { at 20 °C: 12 ± 1 V }
    when a is c { at 20 °C: 12 ± 1 V }
}
item bolt: fastener atx each stud \"bolt\"
item nut: fastener at stud \"nut\"
item pin: fastener at each \"pin\"
",
        &["Spec", "Table", "Tool", "Quantity", "Item { name: belt", "Item { name: pin", "stud"],
        expect![[r#"
            1:1 syntax "force" `spec` is missing before `force` => "spec "
            2:1 syntax "charging" `table` is missing before `charging` => "table "
            3:1 syntax "meter" `tool` is missing before `meter` => "tool "
            4:1 syntax "toe" `quantity` is missing before `toe` => "quantity "
            5:1 syntax "belt" `item` is missing before `belt` => "item "
            5:33 syntax "neds" `neds` is no word of the language here | did you mean `needs`? => "needs"
            6:1 syntax "cover" a word such as `procedure`, `item` or `spec` is missing before `cover`
            8:5 syntax "row" `row` is no word of the language here | did you mean `rows`? => "rows"
            9:5 syntax "when" `rows` is missing before `when` => "rows "
            11:21 syntax "atx" `atx` is no word of the language here | did you mean `at`? => "at"
            12:23 syntax "stud" `each` is missing before `stud` => "each "
            13:28 syntax "\"pin\"" a name is missing before a text
        "#]],
    );
}

#[test]
fn words_that_begin_a_statement() {
    check(
        "procedure p \"A procedure\" {
    step s \"A step\" {
        each stud {
            remove a
        }
        fro each stud {
            remove b
        }
        kep level off \"Hold it.\" {
            remove c
        }
        pedal pressed \"Hold it.\" {
            remove d
        }
        speed within 5 ± 1 rpm with counter {
            remove e
        }
        every gap meets limit
        stands \"Does it stand?\"
        too-coarse because \"there is no other\"
        d \"Turn it.\"
        failed \"Renew it.\"
        remove
        ub: voltage with meter
        tighten a wrench
        measure gap: length with gauge 3 times tke mean
        measure gap again
            take meen
        measure gap again spread \"Again.\"
        measure gap lenght with gauge over 5 s
            until gap at least 5 mm
        if a at 5 mm { remove f }
        remove g ta stud
        abck to s up to 3 times
    }
    engine stopped
    case \"one\" { gap 5 mm  edns failed }
    case \"two\" { 5 mm  failed }
}
",
        &[
            "remove, item: a",
            "remove, item: b",
            "remove, item: c",
            "remove, item: d",
            "remove, item: e",
            "remove, item: f",
            "Ask",
            "Waive",
            "ends: (failed)",
        ],
        expect![[r#"
            3:9 syntax "each" `for` is missing before `each` => "for "
            6:9 syntax "fro" `fro` is no word of the language here | did you mean `for`? => "for"
            9:9 syntax "kep" `kep` is no word of the language here | did you mean `keep`? => "keep"
            12:9 syntax "pedal" `keep` is missing before `pedal` => "keep "
            15:9 syntax "speed" `keep` is missing before `speed` => "keep "
            18:9 syntax "every" `expect` is missing before `every` => "expect "
            19:9 syntax "stands" `ask` is missing before `stands` => "ask "
            20:9 syntax "too-coarse" `waive` is missing before `too-coarse` => "waive "
            21:9 syntax "d" `d` is no word of the language here | did you mean `do`? => "do"
            22:9 syntax "failed" `end` is missing before `failed` => "end "
            23:9 syntax "remove" a verb or its item is missing beside `remove` | a verb and its item stand on one line: `remove belt-guard`
            24:9 syntax "ub" a word such as `measure`, `read` or `let` is missing before `ub` | a line that names something new begins with what is done with it
            25:19 syntax "wrench" `wrench` cannot stand here | here can stand a text in quotes, `to`, `with` or `at`; a verb begins a line of its own
            26:48 syntax "tke" `tke` is no word of the language here | did you mean `take`? => "take"
            28:18 syntax "meen" `meen` is no word of the language here | did you mean `mean`? => "mean"
            29:27 syntax "spread" `take` is missing before `spread` => "take "
            30:21 syntax "lenght" `lenght` cannot stand here | here can stand a text in quotes, a count, `with`, `at`, `again`, `after` or `every`; a verb begins a line of its own
            32:14 syntax "at" `least` or `most` is missing after `at` | a limit on one side is `at least` or `at most`
            33:18 syntax "ta" `ta` cannot stand here | here can stand a text in quotes, `to`, `with` or `at`; a verb begins a line of its own
            34:9 syntax "abck" `abck` is no word of the language here | did you mean `back`? => "back"
            36:5 syntax "engine" an instruction stands here between the parts of a procedure | put it into a `step`; only cautions, notes and waivers stand outside, and what is held all the while after `keep`
            37:28 syntax "edns" `edns` is no word of the language here | did you mean `ends`? => "ends"
            38:18 syntax "5" `5` cannot stand here | a name or a word is missing before it: nothing begins with a number
        "#]],
    );
}

#[test]
fn a_name_is_never_the_first_word_of_the_next_line() {
    check(
        "variant v: a,

procedure p {
    needs {
        engine is
        gearbox is neutral
        is stopped
    }
    keep battery-lead
    step s {
        wait 5 s since start
        measure
        remove a
        remove b to c with
        measure gap: length,
            play: length with gauge
    }
}
",
        &["neutral", "remove, item: a", "play"],
        expect![[r#"
            1:13 syntax "," a value is missing after `,`
            5:16 syntax "is" a name is missing after `is`
            7:9 syntax "is" a name is missing before `is` | a line never begins with it
            9:10 syntax "battery-lead" something is missing at the end of this line | after `battery-lead` stands a name, `at`, `is`, `are`, `within`, `above` or `below`
            11:24 syntax "start" a name is missing after `start`
            12:9 syntax "measure" a name is missing after `measure`
            14:23 syntax "with" a name is missing after `with`
        "#]],
    );
}

#[test]
fn opening_quotes() {
    check(
        "use other.dwell\"
item battery: chargeable starter battery\" { located \"right of the wheel\" }
item lamp: removable \"lamp\" { located right of the wheel\" }
quantity toe: angle { positive toe-in\" negative \"toe-out\" }
quantity camber: angle { positive \"in negative \"out\" }
procedure p The title, one line.\" {
    step s {
        note The lamp: it's 5. Look again!\"
        end failed Renew it.\"
        remove a with care\"
    }
    case no field\" { lamp dark  ends failed }
    case \"bad lead { lamp lit  ends failed }
}
",
        &[
            "'other.dwell'",
            "'starter battery'",
            "'toe-in'",
            "'toe-out'",
            "'The title, one line.'",
            "'Renew it.'",
            "'no field'",
            "lit",
        ],
        expect![[r#"
            1:5 syntax "other.dwell\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            2:26 syntax "starter battery\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            3:39 syntax "right of the wheel\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            4:32 syntax "toe-in\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            5:35 syntax "\"" this text has no closing quote on its line | close it with `"` before the line ends; a text never goes on to the next line => "\""
            6:13 syntax "The title, one line.\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            8:14 syntax "The lamp: it's 5. Look again!\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            9:20 syntax "Renew it.\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            10:23 syntax "care\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            12:10 syntax "no field\"" this text has no opening quote | a text stands between two quotes: put `"` before its first word => "\""
            13:10 syntax "\"" this text has no closing quote on its line | close it with `"` before the line ends; a text never goes on to the next line => "\""
        "#]],
    );
}

#[test]
fn opening_braces() {
    check(
        "spec s: length
    check 5 ± 1 mm
}
procedure p \"x\"
    needs engine is stopped }
    step s
        if a is b
            remove c
        }
        else remove d }
        expect x meets y
        otherwise low end failed }
        otherwise {
            adjust x to y
                up to 3 times by {
                remove e
            }
        }
    }
    case \"one\" x 5 mm  ends passed }
}
",
        &["Check", "stopped", "remove, item: c", "remove, item: d", "remove, item: e", "Case"],
        expect![[r#"
            1:9 syntax "length" a `{` is missing after this | a block stands between `{` and `}` => " {"
            4:13 syntax "\"x\"" a `{` is missing after this | a block stands between `{` and `}` => " {"
            5:5 syntax "needs" a `{` is missing after this | a block stands between `{` and `}` => " {"
            6:10 syntax "s" a `{` is missing after this | a block stands between `{` and `}` => " {"
            7:17 syntax "b" a `{` is missing after this | a block stands between `{` and `}` => " {"
            10:9 syntax "else" a `{` is missing after this | a block stands between `{` and `}` => " {"
            12:19 syntax "low" a `{` is missing after this | a block stands between `{` and `}` => " {"
            20:10 syntax "\"one\"" a `{` is missing after this | a block stands between `{` and `}` => " {"
        "#]],
    );
}

#[test]
fn closing_braces_without_end_are_said_once() {
    check(
        "item a: b }
}
}
item c: d
}
",
        &["Item { name: a", "Item { name: c"],
        expect![[r#"
            1:11 syntax "}\n}\n}" there is no `{` for these `}` | remove them
            5:1 syntax "}" there is no `{` for this `}` | remove it => ""
        "#]],
    );
    let many =
        format!("procedure p {{\n    step s {{\n        remove a\n    }}\n}}\n{}", "}\n".repeat(100_000));
    assert_eq!(slips(&many).lines().count(), 1);
}
