//! Files that grow while something is measured.

use super::LiveLog;
use expect_test::{Expect, expect};
use std::fs::{File, OpenOptions};
use std::io::Write;
use std::path::PathBuf;
use tempfile::TempDir;

struct Log {
    _folder: TempDir,
    path: PathBuf,
}

impl Log {
    fn with(text: &str) -> Log {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("log.csv");
        std::fs::write(&path, text).unwrap();
        Log { _folder: folder, path }
    }

    fn grows(&self, text: &[u8]) {
        OpenOptions::new().append(true).open(&self.path).unwrap().write_all(text).unwrap();
    }

    fn follow(&self) -> LiveLog {
        LiveLog::follow(&self.path).unwrap()
    }
}

fn typed(log: &mut LiveLog) -> Vec<String> {
    let rows = log.rows().unwrap_or_else(|fault| panic!("{fault}"));
    let time = |row: &crate::Row| row.time.as_ref().map(|time| format!(" at {time}")).unwrap_or_default();
    rows.iter().map(|row| format!("{}: {} {}{}", row.line, row.name, row.typed, time(row))).collect()
}

#[test]
fn only_rows_that_come_after_the_beginning_count() {
    let log = Log::with("name;value;unit;time\nhc;210;ppm;0\nhc;200;pp");
    let mut live = log.follow();
    assert_eq!(typed(&mut live), Vec::<String>::new());
    log.grows(b"m;0.5\nhc;190;ppm;1");
    // The half row that stood there began before; the new half row has not ended.
    assert_eq!(typed(&mut live), Vec::<String>::new());
    log.grows(b".0\r\n\nhc;no reading;ppm;1.5\n");
    assert_eq!(typed(&mut live), ["4: hc 190 at 1.0", "6: hc no reading at 1.5"]);
    assert_eq!(typed(&mut live), Vec::<String>::new());
}

#[test]
fn a_letter_cut_in_two_is_put_together() {
    let log = Log::with("\u{FEFF}name,value,unit,note\n");
    let mut live = log.follow();
    log.grows("angle,12,\u{B0},\"a, b\"\n".as_bytes().split_at(10).0);
    assert_eq!(typed(&mut live), Vec::<String>::new());
    log.grows("angle,12,\u{B0},\"a, b\"\n".as_bytes().split_at(10).1);
    assert_eq!(typed(&mut live), ["2: angle 12"]);
}

fn refused(text: &[u8], expected: Expect) {
    let log = Log::with("name,value,unit,time\n");
    let mut live = log.follow();
    log.grows(text);
    expected.assert_eq(&live.rows().unwrap_err().to_string());
}

#[test]
fn what_cannot_be_read_is_refused_with_its_row() {
    refused(
        b"hc,210,ppm,0\nhc,2,10,ppm,0.5\n",
        expect![[r#"
        row 3: this row has 5 cells, the first row has 4
          help: a comma inside a cell separates it: write a decimal point in a number, and put a text with commas between quotation marks"#]],
    );
    refused(
        b"hc,210\n",
        expect![[r#"
        row 2: this row has 2 cells, the first row has 4
          help: write every cell of the row, the empty ones too: `battery,yes,`"#]],
    );
    refused(
        b"hc,210,pmm,0\n",
        expect![[r#"
        row 2, column `unit`: `pmm` is not a unit that is known here
          help: did you mean `mm` or `ppm`?"#]],
    );
    refused(
        b"hc,,ppm,0\n",
        expect![[r#"
        row 2, column `value`: empty
          help: write the value, or `no reading`: an empty cell could be either, and is never taken as 0"#]],
    );
    refused(
        b"hc,\"210,ppm,0\n",
        expect![[r#"
        row 2: a quotation mark in it is not closed
          help: write each row on one line"#]],
    );
    refused(
        b"hc,210,\xB0,0\n",
        expect![[r#"
        row 2: it is not written in UTF-8
          help: have the logging program write UTF-8"#]],
    );
    refused(
        &[b'x'; 20_000],
        expect![[r#"
        row 2: it does not end
          help: is this a file of comma-separated values?"#]],
    );
}

#[test]
fn a_file_that_is_begun_anew_ends_the_measurement() {
    let log = Log::with("name,value,unit\nhc,1,ppm\nhc,2,ppm\n");
    let mut cut = log.follow();
    let mut anew = log.follow();
    File::create(&log.path).unwrap().write_all(b"name,value,unit\n").unwrap();
    expect![[r#"
        the file: it was cut short or begun anew while something was measured
          help: the logging program is to go on writing to one file; measure again"#]]
    .assert_eq(&cut.rows().unwrap_err().to_string());
    std::fs::remove_file(&log.path).unwrap();
    expect![[r#"
        the file: LOG cannot be read: No such file or directory (os error 2)
          help: name the file to which the logging program writes"#]]
    .assert_eq(&anew.rows().unwrap_err().to_string().replace(&log.path.display().to_string(), "LOG"));
    std::fs::write(&log.path, "name,value,unit\nhc,1,ppm\nhc,2,ppm\nhc,3,ppm\n").unwrap();
    assert!(anew.rows().is_err());
}

#[test]
fn a_file_without_a_first_row_is_not_followed() {
    for text in ["", "name,value", "value,unit\n", "name,value,unit,speed\n"] {
        assert!(LiveLog::follow(&Log::with(text).path).is_err(), "{text}");
    }
    assert!(LiveLog::follow(std::path::Path::new("nowhere.csv")).is_err());
}
