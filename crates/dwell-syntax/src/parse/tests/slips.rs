//! Every slip, with its place, its words and its repair.

use expect_test::{Expect, expect};

use super::{in_step, slips};
use crate::parse::parse;

/// Statements, one in a line, each in a step of its own; the place is left out.
fn check_statements(statements: &str, wanted: Expect) {
    let mut told = String::new();
    for statement in statements.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let slips = slips(&in_step(statement));
        let slips: Vec<&str> =
            slips.lines().filter_map(|line| line.split_once(' ')).map(|(_, rest)| rest).collect();
        told.push_str(&format!(
            "{}\n",
            if slips.is_empty() { "none".to_owned() } else { slips.join("\n  and ") }
        ));
    }
    wanted.assert_eq(&told);
}

#[test]
fn ways_of_writing_a_number_that_are_refused() {
    check_statements(
        "wait 36,5 s
        wait 1,234 s
        wait 1.234,5 s
        wait 1,234,567.5 s
        wait 2 000 rpm
        wait 2\u{202F}000.5 rpm
        wait 2'000 s
        wait 1e5 s
        wait 2.5e-3 s
        wait 1e400 s
        wait .5 s
        wait -.5 s
        wait 5. s
        wait 3/0 s
        tighten a to 5-8 N·m
        tighten a to 5–8 N·m
        tighten a to 5 - 8 N·m
        tighten a to 5 ... 8 N·m
        tighten a to 36 2 psi
        tighten a to 12 +3/-1 V
        tighten a to 12 + / - 3 V
        tighten a to 25 +0.021 mm",
        expect![[r#"
            look-alike-character "36,5" decimals stand after a point, not after a comma | write `36.5`; for two numbers put a blank after the comma => "36.5"
            look-alike-character "1,234" this number can be read in two ways | write `1234` or `1.234`: decimals stand after a point, thousands are not parted
            look-alike-character "1.234,5" a number has one point and nothing between its thousands => "1234.5"
            syntax "1,234,567.5" the thousands of a number are not parted => "1234567.5"
            syntax "2 000" the thousands of a number are not parted => "2000"
            syntax "2\u{202f}000.5" the thousands of a number are not parted => "2000.5"
            syntax "2'000" the thousands of a number are not parted => "2000"
            syntax "1e5" a number is written without an exponent => "100000"
            syntax "2.5e-3" a number is written without an exponent => "0.0025"
            syntax "1e400" a number is written without an exponent | choose a unit in which the number is short
            syntax ".5" a number does not begin with a point => "0.5"
            syntax "-.5" a number does not begin with a point => "-0.5"
            syntax "5." a number does not end with a point => "5"
            bad-number "3/0" a fraction cannot have 0 below its line
            syntax "5-8" from … to is written with two points: `..` => "5 .. 8"
            syntax "5–8" from … to is written with two points: `..` => "5 .. 8"
            syntax "-" from … to is written with two points: `..` => ".."
            syntax "..." from … to is written with two points: `..` => ".."
            syntax "36 2" two numbers stand side by side | a sign between them is missing: `±`, `..` or a comma
            syntax "/" the upper and the lower deviation stand one after the other, with a blank between => " "
            syntax "+ / -" plus or minus is written `±` or `+-` => "±"
            syntax "mm" a number with its unit is missing after `mm`
        "#]],
    );
}

#[test]
fn characters_that_look_like_others() {
    check_statements(
        "wait ５ s
        wait ٣ s
        wait ½ h
        wait 2½ h
        tighten a to −5 .. 5 V
        if a at most 90 ºC { note \"x\" }
        if a at most 90 ˚C { note \"x\" }
        if a at most 90 ℃ { note \"x\" }
        if a at most -0º 30′ { note \"x\" }
        if a at most -0° 30' { note \"x\" }
        tighten a to 5 … 8 N·m
        let r = a × b
        note “curly”
        note ‘curly’
        note 'single'
        note „low“
        note \"a\u{202E}b\"
        wait 5\u{200B} s
        wait 0.3¤5 mm
        wait 12 ?V
        tighten a → b
        wait 5² s",
        expect![[r#"
            look-alike-character "５" these are not the digits 0 to 9 and the point | write `5` => "5"
            look-alike-character "٣" these are not the digits 0 to 9 and the point | write `3` => "3"
            look-alike-character "½" these are not the digits 0 to 9 and the point | write `1/2` => "1/2"
            look-alike-character "2½" these are not the digits 0 to 9 and the point | write `2 1/2` => "2 1/2"
            look-alike-character "−" this character only looks like `-` (minus sign) | write `-` => "-"
            look-alike-character "ºC" a masculine ordinal sign stands in this unit | write `°C` => "°C"
            look-alike-character "˚C" a ring above stands in this unit | write `°C` => "°C"
            look-alike-character "℃" a degree Celsius in one character stands in this unit | write `°C` => "°C"
            look-alike-character "º" this part of an angle is written `°` => "°"
            look-alike-character "'" this part of an angle is written `′` => "′"
            look-alike-character "…" this character only looks like `..` (ellipsis) | write `..` => ".."
            look-alike-character "×" this character only looks like `*` (multiplication sign) | write `*` => "*"
            look-alike-character "“curly”" a text stands between straight double quotes | write " at both ends => "\"curly\""
            look-alike-character "‘curly’" a text stands between straight double quotes | write " at both ends => "\"curly\""
            look-alike-character "'single'" a text stands between straight double quotes | write " at both ends => "\"single\""
            look-alike-character "„low“" a text stands between straight double quotes | write " at both ends => "\"low\""
            look-alike-character "\u{202e}" a hidden character U+202E stands in this text | it is not seen, but it can change what is read: remove it => ""
            look-alike-character "\u{200b}" a hidden character U+200B stands here | remove it => ""
            syntax "¤" `¤` means nothing here
            syntax "?" `?` means nothing here
            look-alike-character "→" this character only looks like `->` (arrow in one character) | write `->` => "->"
            unit-unknown "²" `²` is no unit | the reference lists every unit and its spellings
              and syntax "s" `s` cannot stand here | here can stand a text in quotes, `since` or `(`; a verb begins a line of its own
        "#]],
    );
}

#[test]
fn twins_and_blanks_are_no_slips() {
    check_statements(
        "tighten a to 5 μm
        tighten a to 5 \u{2126}
        tighten a to 5 \u{212A}
        tighten a to 0.30\u{A0}mm
        tighten a to 0.30\u{202F}mm
        tighten a to 850rpm
        tighten a to 12V+-3V
        tighten a to 12 +/- 3 V",
        expect![[r#"
            none
            none
            none
            none
            none
            none
            none
            none
        "#]],
    );
}

#[test]
fn units() {
    check_statements(
        "wait 5 parsec
        wait 5 KPA
        wait 5 hz
        wait 5 km/hh
        wait 850 1/min
        wait 5 lb
        wait 5 gal
        wait 90 ° C
        let r = 12 V/2
        wait 5x
        wait 5 mmm
        wait 5
        wait 5 µ
        wait 5 in order",
        expect![[r#"
            unit-unknown "parsec" `parsec` is no unit | the reference lists every unit and its spellings
            unit-unknown "KPA" `KPA` is no unit | did you mean `kPa` or `km/h` or `kgf`? => "kPa"
            unit-unknown "hz" `hz` is no unit | did you mean `Hz` or `h` or `hp`? => "Hz"
            unit-unknown "km/hh" `km/hh` is no unit | did you mean `km/h`? => "km/h"
            unit-unknown "1/min" `1/min` is no unit | did you mean `m/min` or `L/min` or `g/min`?
            unit-ambiguous "lb" `lb` can mean more than one unit: a pound can be a mass or a force, and in a torque the lever is missing | write `lbm` or `lbf` or `lbf·ft` or `lbf·in`
            unit-ambiguous "gal" `gal` can mean more than one unit: an imperial gallon is a fifth larger than a US gallon | write `gal(US)` or `gal(imp)`
            unit-ambiguous "° C" `° C` can mean more than one unit: the degree sign and the letter of its scale belong together | write `°C`
            syntax "/" `/` has a blank on both sides when it divides => " / "
            unit-unknown "x" `x` is no unit | the reference lists every unit and its spellings
            unit-unknown "mmm" `mmm` is no unit | did you mean `mm` or `mm²` or `mm³`?
            none
            unit-unknown "µ" `µ` is no unit | the reference lists every unit and its spellings
            syntax "order" `order` cannot stand here | here can stand a text in quotes, `since` or `(`; a verb begins a line of its own
        "#]],
    );
}

#[test]
fn signs_need_blanks() {
    check_statements(
        "let a = b*c
        let a = b -5 V
        let a = b -c
        let a = 3 V -2 V
        let a = (b)-5
        let a = b-c
        let a = b - -5 V",
        expect![[r#"
            syntax "*" `*` has a blank on both sides when it calculates | put a blank before it and after it => " * "
            syntax "-5" `-5` stands right after a value: a sign that calculates has a blank on both sides | was a blank meant after the sign? => "- 5"
            syntax "-" `-` has a blank on both sides when it calculates | put a blank before it and after it => "- "
            syntax "-2" `-2` stands right after a value: a sign that calculates has a blank on both sides | was a blank meant after the sign? => "- 2"
            syntax "-" `-` has a blank on both sides when it calculates | put a blank before it and after it => " - "
            none
            none
        "#]],
    );
}

#[test]
fn limits_in_other_words() {
    check_statements(
        "if a over 3 bar { note \"x\" }
        if a more than 3 bar { note \"x\" }
        if a less than 3 bar { note \"x\" }
        if a min. 3 bar { note \"x\" }
        if a maximum 3 bar { note \"x\" }
        if a <= 3 bar { note \"x\" }
        if a > 3 bar { note \"x\" }
        if a = 3 bar { note \"x\" }
        if a within from 5 to 8 bar { note \"x\" }
        if a between 5 and 8 bar { note \"x\" }
        if a 3 bar { note \"x\" }
        adjust a to b at most 5 times by { turn c }",
        expect![[r#"
            syntax "over" this limit is said in words that are not known here | write `above` => "above"
            syntax "more than" this limit is said in words that are not known here | write `above` => "above"
            syntax "less than" this limit is said in words that are not known here | write `below` => "below"
            syntax "min." this limit is said in words that are not known here | write `at least` => "at least"
            syntax "maximum" this limit is said in words that are not known here | write `at most` => "at most"
            syntax "<=" `<=` means nothing here | write `at most` => "at most"
            syntax ">" `>` means nothing here | write `above` => "above"
            syntax "=" `=` cannot stand here | `=` stands only in `let`; a value is tested with `at least`, `within` or `is`
            syntax "from 5 to" this limit is said in words that are not known here | write `5 ..` => "5 .."
            syntax "between 5 and" this limit is said in words that are not known here | write `5 ..` => "5 .."
            syntax "3" a test (such as `meets`, `at least`, `within` or `is`) is missing before `3`
            syntax "at most" `at most` bounds a value; how often something is done is bounded with `up to` => "up to"
        "#]],
    );
}

#[test]
fn misspelt_words() {
    check_statements(
        "endx passed
        warningx moving-parts \"x\"
        measur a with b
        measure a wiht b
        expect a meats b otherwise { end failed }
        if a meets b { end fialed }
        pefrorm a
        adjst a to b up to 5 times by { turn c }
        back too s
        measure a 3 tims
        measure a take meen",
        expect![[r#"
            syntax "endx" `endx` is no word of the language here | did you mean `end`? => "end"
            syntax "warningx" `warningx` is no word of the language here | did you mean `warning`? => "warning"
            syntax "measur" `measur` is no word of the language here | did you mean `measure`? => "measure"
            syntax "wiht" `wiht` is no word of the language here | did you mean `with`? => "with"
            syntax "meats" `meats` is no word of the language here | did you mean `meets`? => "meets"
            syntax "fialed" `fialed` is no way for a procedure to end | did you mean `failed`? => "failed"
            syntax "pefrorm" `pefrorm` is no word of the language here | did you mean `perform`? => "perform"
            syntax "adjst" `adjst` is no word of the language here | did you mean `adjust`? => "adjust"
            syntax "too" `too` is no word of the language here | did you mean `to`? => "to"
            syntax "tims" `tims` cannot stand here | here can stand `times` or `time`
            syntax "meen" `meen` is no word of the language here | did you mean `mean`? => "mean"
        "#]],
    );
}

#[test]
fn statements_that_lack_something() {
    check_statements(
        "remove
        loosen a  tighten b
        \"a text\"
        measure
        measure a:
        ask lamp
        let a
        let a =
        let a = (b + c
        wait
        refer no-charge
        end
        if { note \"x\" }
        if lamp dark { note \"x\" }
        for each { note \"x\" }
        for cylinder { note \"x\" }
        adjust a { turn c }
        keep a
        otherwise { end failed }
        expect a meets b note \"x\"
        expect a meets b and c meets d or e meets f otherwise { end failed }
        if any a meets b and any c meets d { note \"x\" }
        if a + b is c { note \"x\" }
        if a is b, { note \"x\" }
        waive not-restored
        note x
        back to s up to 0 times
        wait 5 s; note \"x\"
        wait 5 s // why
        turn belt_guard
        turn belt- 
        fit M12x1.5
        note \"unclosed
        if a is b { note \"unclosed }
        note \"a\\nb\"",
        expect![[r##"
            syntax "remove" a verb or its item is missing beside `remove` | a verb and its item stand on one line: `remove belt-guard`
            syntax "tighten" `tighten` cannot stand here | here can stand a text in quotes, `to`, `with` or `at`; a verb begins a line of its own
            syntax "\"a text\"" a text cannot stand here | a text that stands first on its line belongs to nothing: put it on the line above, or write `do` or `note` before it
            syntax "measure" a name is missing after `measure`
            syntax ":" a name is missing after `:`
            syntax "lamp" a text in quotes is missing after `lamp`
            syntax "a" something is missing at the end of this line | after `a` stands `:` or `=`
            syntax "=" something is missing at the end of this line | after `=` stands a reading or a number, `at`, `above` or `below`
            syntax "c" something is missing at the end of this line | after `c` stands `at`, `)`, `+`, `-`, `·` or `/`
            syntax "wait" a number with its unit is missing after `wait`
            syntax "no-charge" `to` is missing before `no-charge` => "to "
            syntax "end" `passed`, `failed` or `unfinished` is missing after `end`
            syntax "{" a condition is missing before `{`
            syntax "dark" a test (such as `meets`, `at least`, `within` or `is`) is missing before `dark`
            syntax "{" a name is missing before `{`
            syntax "cylinder" `each` is missing before `cylinder` => "each "
            syntax "{" `to` is missing before `{`
            syntax "a" something is missing at the end of this line | after `a` stands a name, `at`, `is`, `are`, `within`, `above` or `below`
            syntax "otherwise" `otherwise` has nothing before it that can go another way | it stands right after `expect`, `adjust`, `keep`, `perform`, `choose` or `back to`, with nothing else between
            none
            syntax "or" `and` and `or` stand in one condition | it is not clear which comes first: use two tests one inside the other, or name a part with `let`
            syntax "any" `any` stands before a later test of the condition | `every` or `any` stands first and is for the whole condition: ask the other in an `if` or `expect` of its own
            syntax "a" `is` asks for the state of an item or for an answer, not for a value | for a value write `at least`, `at most`, `above`, `below`, `within` or `exactly`
            syntax "{" a value is missing before `{`
            syntax "not-restored" `because` is missing after `not-restored`
            syntax "x" a text in quotes is missing before `x`
            syntax "0" `0` is no count | a count is a whole number from 1 to 10,000, without a unit
            syntax ";" nothing stands at the end of an instruction: no `;` is needed | remove it => ""
            syntax "//" a comment begins with `#` | write `#` instead of `//` => "#"
            syntax "belt_guard" `belt_guard` is no name: names are joined with `-` => "belt-guard"
            syntax "-" a name does not end with `-` | remove it, or put a blank on both sides for a minus => ""
            syntax "M12x1.5" `M12x1.5` is neither a name nor a number | a marking such as a thread stands in quotes => "\"M12x1.5\""
            syntax "\"" this text has no closing quote on its line | close it with `"` before the line ends; a text never goes on to the next line => "\""
            syntax "\"" this text has no closing quote on its line | close it with `"` before the line ends; a text never goes on to the next line => "\""
            syntax "\\n" `\` stands only before `"` or `\` | write `\\` for a backslash in a text
        "##]],
    );
}

#[test]
fn limits_of_length() {
    let name = "a".repeat(200);
    assert!(slips(&format!("item {name}: b\n")).contains("200 characters, more than the limit of 128"));
    let text = "x".repeat(10_001);
    assert!(slips(&format!("use \"{text}\"\n")).contains("10001 characters, more than the limit of 10000"));
    assert!(slips(&format!("# {text}\n")).contains("this comment has 10002 characters"));
    let number = "1".repeat(61);
    assert!(
        slips(&in_step(&format!("wait {number} s"))).contains("61 characters, more than the limit of 60")
    );
}

/// A repair that is applied leaves nothing to repair there.
#[test]
fn every_repair_repairs() {
    let statements = [
        "wait 36,5 s",
        "wait 1.234,5 s",
        "wait 2 000 s",
        "wait 1e5 s",
        "wait .5 s",
        "wait 5. s",
        "tighten a to 5-8 N·m",
        "tighten a to 5–8 N·m",
        "tighten a to 5 - 8 N·m",
        "tighten a to 5 ... 8 N·m",
        "tighten a to 12 + / - 3 V",
        "wait ５ s",
        "wait 2½ h",
        "tighten a to −5 .. 5 V",
        "if a at most 90 ºC { note \"x\" }",
        "note “curly”",
        "note 'single'",
        "note \"a\u{202E}b\"",
        "wait 5 KPA",
        "let r = 12 V/2",
        "let a = b*c",
        "let a = b -5 V",
        "if a over 3 bar { note \"x\" }",
        "if a min. 3 bar { note \"x\" }",
        "if a is above 3 bar { note \"x\" }",
        "if a is within 5 .. 8 bar { note \"x\" }",
        "if a is at least 5 bar { note \"x\" }",
        "if a is more than 5 bar { note \"x\" }",
        "expect a meets 13.8 .. 14.6 V",
        "expect a meets at most 14.6 V",
        "if a within from 5 to 8 bar { note \"x\" }",
        "endx passed",
        "measure a wiht b",
        "if a meets b { end fialed }",
        "adjust a to b at most 5 times by { turn c }",
        "wait 5 s; note \"x\"",
        "wait 5 s // why",
        "turn belt_guard",
        "fit x \"unclosed",
        "tighten a to 12 +3/-1 V",
        "if a at most -0° 30' { note \"x\" }",
    ];
    for statement in statements {
        let mut text = in_step(statement);
        for _ in 0..3 {
            let Some(fix) = parse(&text).slips.into_iter().find_map(|slip| slip.fix) else { break };
            text.replace_range(fix.span.start..fix.span.end, &fix.replacement);
        }
        assert_eq!(slips(&text), "", "{statement} became {text}");
    }
}

#[test]
fn tests_that_are_right_english() {
    check_statements(
        "expect a meets 13.8 .. 14.6 V
        expect a misses 13.8 V ± 5 %
        expect a meets at least 13.8 V
        if a is above 15 V { note \"x\" }
        if a is at most 15 V { note \"x\" }
        if a is within 13 .. 15 V { note \"x\" }
        if a is steady within 0.2 V { note \"x\" }
        if a is less than 15 V { note \"x\" }",
        expect![[r#"
            syntax "meets" after `meets` stands the name of a spec, not a band | a band that stands on the spot follows `within`; in a `spec` it has its source beside it, and one change changes it everywhere => "within"
            syntax "misses" after `misses` stands the name of a spec, not a band | give the band a name in a `spec`, with its source, and say that name here
            syntax "meets" after `meets` stands the name of a spec, not a band | a limit on one side follows the reading directly: `charge at least 13.8 V` => ""
            syntax "is" `is` asks for a state or an answer, not for a value | for a value leave it out: `charge above …` => ""
            syntax "is" `is` asks for a state or an answer, not for a value | for a value leave it out: `charge at least …` => ""
            syntax "is" `is` asks for a state or an answer, not for a value | for a value leave it out: `charge within …` => ""
            none
            syntax "is" `is` asks for a state or an answer, not for a value | for a value leave it out: `charge below …` => ""
        "#]],
    );
}
