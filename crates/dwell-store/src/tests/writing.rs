//! What is written is kept as it was, in order, and a copy of it needs nothing beside it.

use super::*;
use crate::{JobNumber, Trouble};
use rusqlite::Connection;

#[test]
fn what_was_appended_is_there_after_opening_again() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let writing = job(&mut store, 20);
    let last = writing.chain().last().clone();
    drop(store);
    let store = shelf.open();
    let record = store.record(writing.job()).unwrap();
    assert_eq!((record.events.len(), record.last), (20, Some(last)));
    assert_eq!(store.card(writing.job()).unwrap(), CARD);
    assert_eq!(store.lines(writing.job(), 18).unwrap().len(), 2);
    let verified = store.verify(None).unwrap();
    assert_eq!((verified.jobs, verified.events, verified.wrong), (1, 20, vec![]));
    let listed = &store.jobs().unwrap()[0];
    assert_eq!((listed.procedure.as_str(), listed.events, listed.result.as_deref()), ("belt", 20, None));
}

#[test]
fn the_settings_that_a_record_needs_are_taken() {
    let shelf = Shelf::new();
    let store = shelf.open();
    let asked = |name: &str| -> String {
        store
            .connection_for_tests()
            .query_row(&format!("PRAGMA {name}"), [], |row| row.get::<_, rusqlite::types::Value>(0))
            .map(|value| format!("{value:?}"))
            .unwrap()
    };
    assert_eq!(asked("journal_mode"), "Text(\"wal\")");
    for (name, value) in
        [("synchronous", 2), ("fullfsync", 1), ("checkpoint_fullfsync", 1), ("foreign_keys", 1)]
    {
        assert_eq!(asked(name), format!("Integer({value})"), "{name}");
    }
}

#[test]
fn an_event_is_never_changed_or_taken_out() {
    let shelf = Shelf::new();
    job(&mut shelf.open(), 3);
    let other = Connection::open(shelf.path()).unwrap();
    for wrong in [
        "UPDATE event SET line = '' WHERE seq = 2",
        "DELETE FROM event WHERE seq = 3",
        "UPDATE card SET text = ''",
        "DELETE FROM card",
        "DELETE FROM job",
    ] {
        assert!(other.execute(wrong, []).is_err(), "{wrong}");
    }
    assert_eq!(shelf.open().record(JobNumber(1)).unwrap().events.len(), 3);
}

#[test]
fn events_that_do_not_follow_are_refused_whole() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let mut writing = job(&mut store, 3);
    let refused = store.append(&mut writing, &[done(4), done(6)]).unwrap_err();
    assert!(matches!(refused.trouble, Trouble::Damaged { .. }), "{refused}");
    assert_eq!(store.record(writing.job()).unwrap().events.len(), 3);
    store.append(&mut writing, &[done(4)]).unwrap();
}

#[test]
fn a_card_that_the_first_event_does_not_name_is_refused() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let refused = store.begin(NewJob { card: "{}", events: &[first()], by: &By::default() }).unwrap_err();
    assert!(matches!(refused.trouble, Trouble::Damaged { .. }), "{refused}");
    assert!(store.jobs().unwrap().is_empty());
}

#[test]
fn a_copy_is_one_file_and_is_made_while_others_write() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let mut writing = job(&mut store, 10);
    let copy = shelf.folder.path().join("copy.records");
    shelf.open().export(&copy).unwrap();
    store.append(&mut writing, &[done(11)]).unwrap();
    let beside: Vec<String> = std::fs::read_dir(shelf.folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name.starts_with("copy"))
        .collect();
    assert_eq!(beside, ["copy.records"]);
    // A copy that is carried away alone.
    let away = TempDir::new().unwrap();
    let carried = away.path().join("carried.records");
    std::fs::copy(&copy, &carried).unwrap();
    let read = Sqlite::look(&carried).unwrap();
    assert_eq!(read.record(writing.job()).unwrap().events.len(), 10);
    assert!(read.jobs().unwrap()[0].held.is_none());
    assert!(read.verify(None).unwrap().wrong.is_empty());
    assert!(matches!(store.export(&copy).unwrap_err().trouble, Trouble::Exists));
}

#[test]
fn a_clock_that_was_set_back_changes_no_order() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let mut writing = job(&mut store, 2);
    let early = Event { at: "2031-04-12T08:00:00Z".into(), ..done(3) };
    store.append(&mut writing, &[early, done(4)]).unwrap();
    let record = store.record(writing.job()).unwrap();
    assert_eq!(record.events.iter().map(|event| event.seq).collect::<Vec<_>>(), [1, 2, 3, 4]);
    assert_eq!(dwell_record::Report::of(&record.events).clock_back, [3]);
    assert!(store.verify(None).unwrap().wrong.is_empty());
}

#[test]
fn a_network_file_system_is_told_by_its_mount() {
    let mounts = "22 1 259:2 / / rw,relatime shared:1 - ext4 /dev/nvme0n1p2 rw\n\
                  40 22 0:35 / /srv/the\\040workshop rw - nfs4 server:/workshop rw\n\
                  41 40 0:36 / /srv/the\\040workshop/here rw - ext4 /dev/sdb1 rw\n\
                  42 22 0:37 / /mnt/share rw shared:5 master:1 - cifs //server/share rw\n";
    let away = |folder: &str| crate::folder::away(mounts, std::path::Path::new(folder));
    assert_eq!(away("/home/weber"), None);
    assert_eq!(away("/srv/the workshop/records").as_deref(), Some("nfs4"));
    assert_eq!(away("/srv/the workshop/here"), None);
    assert_eq!(away("/mnt/share").as_deref(), Some("cifs"));
    assert_eq!(away("/mnt/shared"), None);
}

#[test]
fn folders_that_are_missing_are_made() {
    let shelf = Shelf::new();
    let deep = shelf.folder.path().join("a/b/c/workshop.records");
    drop(Sqlite::open(&deep).unwrap());
    assert!(deep.exists());
}
