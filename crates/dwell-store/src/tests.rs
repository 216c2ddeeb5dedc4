//! Unit tests of the store, each with a file of its own.

mod damage;
mod photos;
mod sharing;
mod writing;

use crate::{NewJob, Records, Sqlite, Writing};
use dwell_record::event::{By, Doing, Done};
use dwell_record::{Event, Hash, What};
use std::path::PathBuf;
use tempfile::TempDir;

/// A card as far as a store looks at it: some text.
pub(crate) const CARD: &str = "{\"procedure\":\"belt\"}";

/// The time of everything here.
pub(crate) const NOW: &str = "2031-04-12T09:05:00Z";

pub(crate) fn by(person: &str, device: &str) -> By {
    By { person: Some(person.into()), device: Some(device.into()) }
}

/// A folder with a store in it.
pub(crate) struct Shelf {
    pub(crate) folder: TempDir,
}

impl Shelf {
    pub(crate) fn new() -> Shelf {
        Shelf { folder: TempDir::new().unwrap() }
    }

    pub(crate) fn path(&self) -> PathBuf {
        self.folder.path().join("workshop.records")
    }

    pub(crate) fn open(&self) -> Sqlite {
        Sqlite::open(&self.path()).unwrap()
    }
}

pub(crate) fn first() -> Event {
    let begun = format!(
        "{{\"format\":2,\"card\":\"{}\",\"procedure\":\"belt\",\"title\":\"Belt\",\"program\":\"dwell test\"}}",
        Hash::of(CARD.as_bytes())
    );
    dwell_record::read_line(&format!("{{\"seq\":1,\"at\":\"{NOW}\",\"what\":{{\"begun\":{begun}}}}}"), 1)
        .unwrap()
}

pub(crate) fn done(seq: u64) -> Event {
    let says = format!("Work {seq}.");
    let what = What::Done(Done {
        doing: Doing::Work,
        says,
        text: None,
        band: None,
        setting: None,
        tools: Vec::new(),
    });
    Event { seq, at: NOW.into(), node: None, what }
}

/// A job with this many events.
pub(crate) fn job(store: &mut Sqlite, events: u64) -> Writing {
    let (first, who) = (first(), by("A. Weber", "bay-2"));
    let mut writing = store.begin(NewJob { card: CARD, events: &[first], by: &who }).unwrap();
    for seq in 2..=events {
        store.append(&mut writing, &[done(seq)]).unwrap();
    }
    writing
}
