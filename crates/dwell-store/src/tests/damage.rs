//! Files that are torn, damaged, foreign or newer: nothing acknowledged is lost, and nothing is taken from what is damaged.

use super::*;
use crate::{JobNumber, Trouble};
use rusqlite::Connection;
use std::fs;

/// The three files of a store as they lie there while a program has it open, as after a power cut.
fn cut(shelf: &Shelf) -> (Vec<u8>, Vec<u8>) {
    let wal = shelf.path().with_file_name("workshop.records-wal");
    (fs::read(shelf.path()).unwrap(), fs::read(wal).unwrap())
}

#[test]
fn a_log_torn_off_anywhere_leaves_whole_answers_and_a_good_chain() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let mut writing = job(&mut store, 2);
    for seq in (3..21).step_by(2) {
        store.append(&mut writing, &[done(seq), done(seq + 1)]).unwrap();
    }
    let (main, wal) = cut(&shelf);
    let mut most = 0;
    for length in (0..=wal.len()).step_by(997).chain([wal.len()]) {
        let torn = Shelf::new();
        fs::write(torn.path(), &main).unwrap();
        fs::write(torn.path().with_file_name("workshop.records-wal"), &wal[..length]).unwrap();
        let mut store = torn.open();
        assert!(store.verify(None).unwrap().wrong.is_empty(), "cut at {length}");
        let Some(listed) = store.jobs().unwrap().pop() else { continue };
        let events = listed.events;
        assert!(events == 1 || events % 2 == 0, "half of an answer at {length}: {events}");
        assert!(events >= most, "more of the log, and less of the record");
        most = events;
        let (mut writing, _) = store.take(listed.number, &by("A. Weber", "bay-2"), NOW, true).unwrap();
        store.append(&mut writing, &[done(events + 1)]).unwrap();
        assert!(store.verify(None).unwrap().wrong.is_empty(), "after going on at {length}");
    }
    assert_eq!(most, 20);
}

#[test]
fn what_a_log_holds_is_in_the_file_as_soon_as_it_is_opened() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    job(&mut store, 20);
    let (main, wal) = cut(&shelf);
    let left = Shelf::new();
    fs::write(left.path(), &main).unwrap();
    fs::write(left.path().with_file_name("workshop.records-wal"), &wal).unwrap();
    let opened = left.open();
    let alone = Shelf::new();
    fs::copy(left.path(), alone.path()).unwrap();
    drop(opened);
    assert_eq!(alone.open().record(JobNumber(1)).unwrap().events.len(), 20);
}

#[test]
fn a_line_that_was_changed_behind_the_back_of_the_store_is_found() {
    let shelf = Shelf::new();
    job(&mut shelf.open(), 6);
    let other = Connection::open(shelf.path()).unwrap();
    other
        .execute_batch(
            "DROP TRIGGER event_stays; UPDATE event SET line = replace(line, 'Work 4.', 'Work 5.')",
        )
        .unwrap();
    let store = shelf.open();
    let wrong = store.verify(None).unwrap().wrong;
    assert_eq!(wrong.len(), 1);
    assert!(wrong[0].1.contains("line 4 of the record was changed after it was written"), "{wrong:?}");
    assert!(matches!(store.record(JobNumber(1)).unwrap_err().trouble, Trouble::Damaged { .. }));
}

#[test]
fn the_last_line_taken_off_is_found() {
    let shelf = Shelf::new();
    job(&mut shelf.open(), 6);
    let other = Connection::open(shelf.path()).unwrap();
    other.execute_batch("DROP TRIGGER event_is_kept; DELETE FROM event WHERE seq = 6").unwrap();
    let wrong = shelf.open().verify(None).unwrap().wrong;
    assert!(wrong[0].1.contains("what is listed of it is not what its events say"), "{wrong:?}");
}

#[test]
fn a_damaged_file_is_said_to_be_damaged() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    job(&mut store, 400);
    drop(store);
    let mut bytes = fs::read(shelf.path()).unwrap();
    let length = bytes.len();
    assert!(length > 40_000, "{length}");
    for byte in &mut bytes[8192..length - 4096] {
        *byte = 0xAA;
    }
    fs::write(shelf.path(), &bytes).unwrap();
    let found = Sqlite::look(&shelf.path()).and_then(|store| store.verify(None));
    match found {
        Err(error) => assert!(matches!(error.trouble, Trouble::Damaged { .. }), "{error}"),
        Ok(verified) => assert!(!verified.wrong.is_empty()),
    }
}

#[test]
fn what_is_no_store_is_told_and_left_as_it_is() {
    let shelf = Shelf::new();
    for text in
        ["a text that somebody wrote, long enough to look like something else\n".repeat(40), "short".into()]
    {
        fs::write(shelf.path(), &text).unwrap();
        assert_eq!(Sqlite::open(&shelf.path()).unwrap_err().trouble, Trouble::Foreign, "{text}");
        assert_eq!(fs::read_to_string(shelf.path()).unwrap(), text);
    }
    fs::remove_file(shelf.path()).unwrap();
    Connection::open(shelf.path()).unwrap().execute_batch("CREATE TABLE other (a)").unwrap();
    assert_eq!(Sqlite::open(&shelf.path()).unwrap_err().trouble, Trouble::Foreign);
    assert_eq!(Sqlite::look(&shelf.folder.path().join("none")).unwrap_err().trouble, Trouble::Missing);
    fs::write(shelf.folder.path().join("empty"), "").unwrap();
    assert_eq!(Sqlite::look(&shelf.folder.path().join("empty")).unwrap_err().trouble, Trouble::Foreign);
}

#[test]
fn a_newer_version_is_left_alone() {
    let shelf = Shelf::new();
    drop(shelf.open());
    Connection::open(shelf.path()).unwrap().pragma_update(None, "user_version", 99).unwrap();
    let refused = Sqlite::open(&shelf.path()).unwrap_err();
    assert_eq!(refused.trouble, Trouble::Newer { found: 99, known: 2 });
    assert!(refused.to_string().contains("a newer program"), "{refused}");
}

#[test]
fn what_the_database_says_is_told_in_our_words() {
    let said = |code| Trouble::of(&rusqlite::Error::SqliteFailure(rusqlite::ffi::Error::new(code), None));
    assert_eq!(said(rusqlite::ffi::SQLITE_FULL), Trouble::Full);
    assert_eq!(said(rusqlite::ffi::SQLITE_BUSY), Trouble::Locked);
    assert!(matches!(said(rusqlite::ffi::SQLITE_READONLY), Trouble::ReadOnly { .. }));
    assert!(matches!(said(rusqlite::ffi::SQLITE_CANTOPEN), Trouble::ReadOnly { .. }));
    assert!(matches!(said(rusqlite::ffi::SQLITE_IOERR_FSYNC), Trouble::Failed { .. }));
    assert_eq!(said(rusqlite::ffi::SQLITE_NOTADB), Trouble::Foreign);
}
