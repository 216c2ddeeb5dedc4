//! Photos: kept by their hash, held to it, and never changed.

use super::{CARD, NOW, Shelf, by, first};
use crate::{MOST_PHOTO_BYTES, NewJob, Records, Sqlite, Trouble};
use dwell_record::event::PhotoTaken;
use dwell_record::{Event, Hash, What};
use rusqlite::Connection;

fn taken(seq: u64, bytes: &[u8]) -> Event {
    let photo = PhotoTaken {
        sha256: Hash::of(bytes).digits().to_owned(),
        media: "image/png".to_owned(),
        bytes: bytes.len() as u64,
        says: "Look at the belt.".to_owned(),
        text: None,
    };
    Event { seq, at: NOW.to_owned(), node: Some(0), what: What::PhotoTaken(photo) }
}

#[test]
fn a_photo_is_kept_once_and_copied_with_the_records() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let hash = store.keep_photo(b"picture").unwrap();
    assert_eq!(store.keep_photo(b"picture").unwrap(), hash);
    assert_eq!(store.photo(hash.digits()).unwrap().as_deref(), Some(b"picture".as_slice()));
    assert_eq!(store.photo(Hash::of(b"another").digits()).unwrap(), None);
    let copy = shelf.folder.path().join("copy.records");
    store.export(&copy).unwrap();
    let copy = Sqlite::look(&copy).unwrap();
    assert_eq!(copy.photo(hash.digits()).unwrap().as_deref(), Some(b"picture".as_slice()));
    let refused = store.keep_photo(&vec![0; MOST_PHOTO_BYTES + 1]).unwrap_err();
    assert!(matches!(refused.trouble, Trouble::TooLarge { .. }), "{refused}");
}

#[test]
fn a_photo_that_is_missing_or_changed_is_found() {
    let shelf = Shelf::new();
    let mut store = shelf.open();
    let job = |store: &mut Sqlite, bytes: &[u8]| {
        let events = [first(), taken(2, bytes)];
        store.begin(NewJob { card: CARD, events: &events, by: &by("Ada", "tablet") }).unwrap().job()
    };
    store.keep_photo(b"picture").unwrap();
    let good = job(&mut store, b"picture");
    assert_eq!(store.verify(Some(good)).unwrap().wrong, []);
    let missing = job(&mut store, b"never kept");
    assert!(store.verify(Some(missing)).unwrap().wrong[0].1.contains("is not there"));
    let other = Connection::open(shelf.path()).unwrap();
    assert!(other.execute("UPDATE photo SET bytes = x'00'", []).is_err(), "in the usual way nobody can");
    other.execute_batch("DROP TRIGGER photo_stays; UPDATE photo SET bytes = x'00'").unwrap();
    assert!(store.verify(Some(good)).unwrap().wrong[0].1.contains("not as it was taken"));
}

#[test]
fn a_store_of_the_version_before_photos_is_looked_at_and_brought_up() {
    let shelf = Shelf::new();
    let events = [first()];
    shelf.open().begin(NewJob { card: CARD, events: &events, by: &by("Ada", "tablet") }).unwrap();
    let old = Connection::open(shelf.path()).unwrap();
    old.execute_batch("DROP TABLE photo; PRAGMA user_version = 1").unwrap();
    drop(old);
    let hash = Hash::of(b"picture");
    assert_eq!(Sqlite::look(&shelf.path()).unwrap().photo(hash.digits()).unwrap(), None);
    let mut store = shelf.open();
    assert_eq!(store.keep_photo(b"picture").unwrap(), hash);
    assert_eq!(store.jobs().unwrap().len(), 1);
}
