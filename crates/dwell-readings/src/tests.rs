//! Readings files, good and refused: every example of the format's description, and the ways a spreadsheet spoils one.

use crate::{Edge, Fault, Row, Value, read};
use dwell_quantity::Exact;
use expect_test::{Expect, expect};

fn shown(faults: &[Fault]) -> String {
    faults.iter().map(|fault| format!("{fault}\n")).collect()
}

fn refused(text: &str, expected: Expect) {
    expected.assert_eq(&shown(&read(text).unwrap_err()));
}

fn rows(text: &str) -> Vec<Row> {
    read(text).unwrap_or_else(|faults| panic!("{}", shown(&faults)))
}

/// The fenced blocks of a Markdown text: what stands after the fence, and the block.
fn blocks(page: &str) -> Vec<(&str, String)> {
    let mut found = Vec::new();
    let mut open: Option<(&str, String)> = None;
    for line in page.lines() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(_), Some(block)) => found.push(block),
            (Some(fence), None) => open = Some((fence, String::new())),
            (None, Some((fence, text))) => open = Some((fence, format!("{text}{line}\n"))),
            (None, None) => {}
        }
    }
    found
}

#[test]
fn every_example_of_the_description_is_read_or_refused_as_it_says() {
    let blocks = blocks(include_str!("../../../grammar/READINGS.md"));
    let (mut good, mut bad) = (0, 0);
    for (place, (fence, text)) in blocks.iter().enumerate() {
        match *fence {
            "csv" => {
                assert!(!rows(text).is_empty());
                good += 1;
            }
            "csv refused" => {
                let (fence, words) = &blocks[place + 1];
                assert_eq!(*fence, "text");
                assert_eq!(&shown(&read(text).unwrap_err()), words);
                bad += 1;
            }
            _ => {}
        }
    }
    assert!(good >= 4 && bad >= 6, "{good} good, {bad} refused");
}

#[test]
fn what_was_typed_is_kept() {
    let rows = rows("unit,name,note,value,at\nmm,toe,cold,0.350,left\n");
    let row = &rows[0];
    assert_eq!((row.line, row.name.as_str(), row.typed.as_str()), (2, "toe", "0.350"));
    assert_eq!((row.at.as_deref(), row.note.as_deref()), (Some("left"), Some("cold")));
    let Value::Number(number) = &row.value else { panic!("{row:?}") };
    assert_eq!(number.to_string(), "0.350");
    assert_eq!(number.value, Exact::ratio(35, 100).unwrap());
    assert_eq!(row.unit.as_ref().unwrap().unit.symbol(), "mm");
}

#[test]
fn numbers_words_edges_and_no_reading_are_told_apart() {
    let rows = rows(
        "name,value,unit\na,-5,°C\nb,2 1/4,in\nc,no reading,bar\nd,no,\ne,left-hand,\nf,above 1000,MΩ\ng,at most 3,\nh,4,\n",
    );
    let values: Vec<&Value> = rows.iter().map(|row| &row.value).collect();
    assert!(matches!(values[0], Value::Number(number) if number.value == Exact::whole(-5)));
    assert!(matches!(values[1], Value::Number(number) if number.value == Exact::ratio(9, 4).unwrap()));
    assert_eq!(values[2], &Value::NoReading);
    assert_eq!(values[3], &Value::Word("no".into()));
    assert_eq!(values[4], &Value::Word("left-hand".into()));
    assert!(matches!(values[5], Value::Beyond(Edge::Above, number) if number.value == Exact::whole(1000)));
    assert!(matches!(values[6], Value::Beyond(Edge::AtMost, number) if number.value == Exact::whole(3)));
    assert!(matches!(values[7], Value::Number(number) if number.value == Exact::whole(4)));
}

#[test]
fn a_byte_order_mark_line_ends_of_every_kind_and_blank_lines_do_not_shift_rows() {
    for end in ["\n", "\r\n", "\r"] {
        let text = ["\u{FEFF}name,value,unit", "", "a,1,V", "", "", "b,2,V", "\"c\",3 , V"].join(end);
        let found: Vec<(usize, String)> = rows(&text).into_iter().map(|row| (row.line, row.name)).collect();
        assert_eq!(found, [(3, "a".into()), (6, "b".into()), (7, "c".into())], "{end:?}");
        let broken = text.replace("2,V", "2,,V");
        assert_eq!(read(&broken).unwrap_err()[0].row, Some(6), "{end:?}");
    }
}

#[test]
fn a_cell_over_two_lines_is_one_row() {
    let found = rows("name,value,unit,note\na,1,V,\"one\ntwo\"\nb,2,V,\n");
    assert_eq!((found[0].note.as_deref(), found[1].line), (Some("one\ntwo"), 4));
}

#[test]
fn tabs_separate_where_the_heading_uses_them() {
    let found = rows("name\tvalue\tunit\na\t1\tV\nb\tno reading\t\n");
    assert_eq!(found.len(), 2);
}

#[test]
fn headings() {
    refused(
        "name,value,unit,value\n",
        expect![[r#"
            row 1, column `value`: the heading `value` stands twice
              help: each column has its own heading: take one of the two out
        "#]],
    );
    refused(
        "name,value\na,1\n",
        expect![[r#"
            row 1: the heading lacks the column `unit`
              help: the first row of a readings file is `name,value,unit`, and may have `at`, `time`, `kept` and `note` besides
        "#]],
    );
    refused(
        "Name,value,unit,tool,\n",
        expect![[r#"
            row 1, column `Name`: there is no column `Name` in a readings file
              help: write the heading `name`
            row 1, column `tool`: there is no column `tool` in a readings file
              help: the first row of a readings file is `name,value,unit`, and may have `at`, `time`, `kept` and `note` besides; take other columns out
            row 1: column 5 has no heading
              help: the first row of a readings file is `name,value,unit`, and may have `at`, `time`, `kept` and `note` besides
        "#]],
    );
    refused(
        "",
        expect![[r#"
        the file: it is empty
          help: its first row is `name,value,unit`, then one row for each value
    "#]],
    );
    refused(
        " \n",
        expect![[r#"
            row 1: column 1 has no heading
              help: the first row of a readings file is `name,value,unit`, and may have `at`, `time`, `kept` and `note` besides
        "#]],
    );
}

#[test]
fn quotation_marks() {
    refused(
        "name,value,unit\na,1,V\n\"b,2,V\nc,3,V\n",
        expect![[r#"
            row 3: a quotation mark is opened here and never closed
              help: close it with a second one, or take it out; all the rows after it were read as one cell
        "#]],
    );
    refused(
        "name,value,unit\na,5\",V\n",
        expect![[r#"
            row 2: a quotation mark stands inside a cell that does not begin with one
              help: begin the cell with the mark, directly after the separator, and write a mark inside it twice
        "#]],
    );
    refused(
        "name,value,unit\n\"a\"b,5,V\n",
        expect![[r#"
            row 2: text stands after a closing quotation mark
              help: put the whole cell between the marks, and write a mark inside it twice: "the ""left"" side"
        "#]],
    );
}

#[test]
fn numbers_that_could_mean_something_else() {
    refused(
        "name,value,unit\na,٣,mm\na,１２,mm\na,−5,mm\na,1.234.5,mm\na,2 000,rpm\na,.5,mm\na,62 Hz,\na,-inf,bar\na,l2,\na,dark,V\n,1,V\n",
        expect![[r#"
            row 2, column `value`: `٣` cannot be read as a number
              help: the character '٣' (U+0663) looks like `3` but is another one: type `3`
            row 3, column `value`: `１２` cannot be read as a number
              help: the character '１' (U+FF11) looks like `1` but is another one: type `1`
            row 4, column `value`: `−5` cannot be read as a number
              help: the character '−' (U+2212) looks like `-` but is another one: type `-`
            row 5, column `value`: `1.234.5` cannot be read as a number
              help: grouped digits can be read in two ways: write the digits without separators, as in 2000
            row 6, column `value`: `2 000` cannot be read as a number
              help: grouped digits can be read in two ways: write the digits without separators, as in 2000
            row 7, column `value`: `.5` cannot be read as a number
              help: a decimal point needs a digit on both sides, or it is lost in print: write 0.5 or 5.0
            row 8, column `value`: `62 Hz` cannot be read as a number
              help: write the number alone here, and its unit in the column `unit`
            row 9, column `value`: `-inf` is no value
              help: write the value, or `no reading` where it could not be taken
            row 10, column `value`: `l2` cannot be read as a number
              help: the character 'l' (U+006C) looks like `1` but is another one: type `1`
            row 11, column `value`: `dark` has the unit `V` but is no number
              help: write a number, or `no reading`; for a word that answers a question leave the unit empty
            row 12, column `name`: empty
              help: write the name of the reading or question that this value belongs to
        "#]],
    );
}

#[test]
fn a_file_of_nothing_but_faults_ends_at_a_hundred() {
    let text = format!("name,value,unit\n{}", "a,,V\n".repeat(5000));
    assert_eq!(read(&text).unwrap_err().len(), crate::MOST_FAULTS);
}

#[test]
fn no_prefix_of_a_file_panics() {
    let text = "\u{FEFF}name;value;unit;note\r\n\r\na;−1,5;µm;\"x\"\"y\r\n\"\r\nb;no reading;;\r\n";
    for (at, _) in text.char_indices() {
        let _ = read(text.get(..at).unwrap());
    }
}

#[test]
fn a_signature_is_any_name_and_never_empty() {
    let rows = read("name,value,unit\nSIGNATURE,O. l1ndqvist 3rd,\n").unwrap();
    assert_eq!(rows[0].value, Value::Word("O. l1ndqvist 3rd".to_owned()));
    assert!(read("name,value,unit\nSIGNATURE,,\n").is_err());
}

#[test]
fn times_are_kept_and_each_reading_at_each_place_has_its_own() {
    let text = "name,value,unit,at,time\nhc,1,ppm,left,0\nhc,1,ppm,right,0\nco,1,%vol,,0.0\nhc,2,ppm,left,0.75\nhc,9,ppm,left,0\n\
                lamp,lit,,,\n";
    let times: Vec<Option<String>> =
        rows(text).into_iter().map(|row| row.time.map(|time| time.to_string())).collect();
    let wanted = ["0", "0", "0.0", "0.75", "0", ""];
    assert_eq!(times, wanted.map(|time| (!time.is_empty()).then(|| time.to_owned())));
    refused(
        "name,value,unit,time\nlamp,lit,,3\nhc,1,ppm,1 s\nhc,1,ppm,0\nhc,1,ppm,0.0\n",
        expect![[r#"
        row 2, column `time`: `3` stands beside an answer
          help: only samples of a reading have a time
        row 3, column `time`: `1 s` cannot be read as a number of seconds
          help: write the seconds since the measurement began, without a unit: `0.75`, `12`
    "#]],
    );
    refused(
        "name,value,unit,time\nhc,1,ppm,0\nco,1,ppm,0\nhc,1,ppm,0.0\n",
        expect![[r#"
        row 4, column `time`: `0.0` is the time of row 2 as well
          help: the times of one measurement rise from row to row; where they fall, the next measurement begins
    "#]],
    );
    refused(
        "name,value,unit,time [s]\nhc,1,ppm,0\n",
        expect![[r#"
        row 1, column `time [s]`: there is no column `time [s]` in a readings file
          help: write the heading `time`: the times are seconds since the measurement began
    "#]],
    );
}

#[test]
fn degrees_and_minutes_have_their_units_themselves() {
    let rows = read("name,value,unit\ncamber,-0° 32′,\nwait,1 h 30 min,\n").unwrap();
    assert_eq!(rows[0].value, Value::Compound("-0° 32′".into()));
    assert_eq!((rows[1].value.clone(), rows[1].unit.clone()), (Value::Compound("1 h 30 min".into()), None));
    assert!(read("name,value,unit\ncamber,-0° 72′,\n").is_err());
    assert!(read("name,value,unit\ncamber,-0° 32′,mm\n").is_err());
}
