//! Two people, two devices: one writes, the other sees it.

use super::*;
use crate::{Trouble, holder};
use dwell_record::event::Taking;
use rusqlite::{Connection, TransactionBehavior};
use std::time::Duration;

#[test]
fn a_second_writer_is_told_who_has_it_and_sees_what_is_written() {
    let shelf = Shelf::new();
    let mut first = shelf.open();
    let mut writing = job(&mut first, 3);
    let mut second = shelf.open();
    let refused = second.take(writing.job(), &by("B. Roth", "bay-3"), NOW, false).unwrap_err();
    let Trouble::Held { by: who, since, .. } = &refused.trouble else { panic!("{refused}") };
    assert_eq!((who.to_string().as_str(), since.as_str()), ("A. Weber on bay-2", NOW));
    assert_eq!(second.lines(writing.job(), 0).unwrap().len(), 3);
    first.append(&mut writing, &[done(4)]).unwrap();
    assert_eq!(second.lines(writing.job(), 3).unwrap().len(), 1, "it is seen at once");
}

#[test]
fn who_was_taken_over_writes_no_more() {
    let shelf = Shelf::new();
    let mut first = shelf.open();
    let mut writing = job(&mut first, 3);
    let mut second = shelf.open();
    let later = "2031-04-12T10:00:00Z";
    let (mut theirs, how) = second.take(writing.job(), &by("B. Roth", "bay-3"), later, true).unwrap();
    assert_eq!(how, Taking::TakenOver);
    let refused = first.append(&mut writing, &[done(4)]).unwrap_err();
    let Trouble::TakenOver { by: who, since, .. } = &refused.trouble else { panic!("{refused}") };
    assert_eq!((who.who(), since.as_deref()), ("B. Roth", Some(later)));
    second.append(&mut theirs, &[done(4)]).unwrap();
    assert_eq!(first.record(writing.job()).unwrap().events.len(), 4);
    // Who was taken over lets nobody else's right go.
    first.let_go(writing).unwrap();
    second.append(&mut theirs, &[done(5)]).unwrap();
    let job = theirs.job();
    second.let_go(theirs).unwrap();
    assert_eq!(first.take(job, &by("A. Weber", "bay-2"), later, false).unwrap().1, Taking::GoneOn);
}

#[test]
fn a_program_that_is_gone_holds_nothing_on_its_own_device() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let writing = job(&mut store, 3);
    let gone = "4194304 1 a-boot-long-ago";
    assert!(holder::is_gone(gone) && !holder::is_gone(&holder::own()));
    Connection::open(shelf.path()).unwrap().execute("UPDATE lease SET process = ?1", [gone]).unwrap();
    // From another device it cannot be told.
    let refused = store.take(writing.job(), &by("A. Weber", "bay-3"), NOW, false).unwrap_err();
    assert!(matches!(refused.trouble, Trouble::Held { .. }), "{refused}");
    assert!(store.jobs_from(Some("bay-2")).unwrap()[0].held.as_ref().unwrap().gone);
    assert_eq!(store.take(writing.job(), &by("A. Weber", "bay-2"), NOW, false).unwrap().1, Taking::GoneOn);
}

#[test]
fn a_file_that_another_program_keeps_is_waited_for_and_then_given_up() {
    let shelf = Shelf::new();
    let mut store = Sqlite::open_with(&shelf.path(), Duration::from_millis(50)).unwrap();
    let mut writing = job(&mut store, 2);
    let mut other = Connection::open(shelf.path()).unwrap();
    let kept = other.transaction_with_behavior(TransactionBehavior::Immediate).unwrap();
    let refused = store.append(&mut writing, &[done(3)]).unwrap_err();
    assert_eq!(refused.trouble, Trouble::Locked);
    drop(kept);
    store.append(&mut writing, &[done(3)]).unwrap();
    assert_eq!(store.record(writing.job()).unwrap().events.len(), 3);
}
