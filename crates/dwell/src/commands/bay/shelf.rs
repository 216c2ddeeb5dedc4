//! The cards that a bay offers: read from files, or built from texts without errors, again whenever a file has changed.

use crate::work::work;
use dwell_bay::Offered;
use dwell_card::Card;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

/// How deep folders are gone into.
const DEEPEST: usize = 16;

/// The files below some paths, and the cards in them.
pub(super) struct Shelf {
    paths: Vec<PathBuf>,
    last: Mutex<Option<Looked>>,
}

/// When each file was changed, and how long it is.
type Stamp = BTreeMap<PathBuf, (Option<SystemTime>, u64)>;

struct Looked {
    stamp: Stamp,
    cards: Vec<Offered>,
    unread: Vec<String>,
}

impl Shelf {
    /// The files below these paths.
    pub(super) fn new(paths: Vec<PathBuf>) -> Shelf {
        Shelf { paths, last: Mutex::new(None) }
    }

    /// The cards as they lie there now, by their titles; and what could not be read or has an error, in words.
    pub(super) fn cards(&self) -> (Vec<Offered>, Vec<String>) {
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        let mut stamp = Stamp::new();
        for path in &self.paths {
            walk(path, DEEPEST, &mut stamp);
        }
        if let Some(looked) = last.as_ref().filter(|looked| looked.stamp == stamp) {
            return (looked.cards.clone(), looked.unread.clone());
        }
        let (cards, unread) = self.read(&stamp);
        *last = Some(Looked { stamp, cards: cards.clone(), unread: unread.clone() });
        (cards, unread)
    }

    fn read(&self, stamp: &Stamp) -> (Vec<Offered>, Vec<String>) {
        let (mut cards, mut unread) = (Vec::new(), Vec::new());
        for path in self.paths.iter().filter(|path| !path.exists()) {
            unread.push(format!("there is no {}", path.display()));
        }
        for path in stamp.keys().filter(|path| is_card(path)) {
            match card(path) {
                Ok(card) => cards.push(card),
                Err(why) => unread.push(format!("cannot read {}: {why}", path.display())),
            }
        }
        // A card that lies there is what was approved: a text of the same procedure is not built beside it.
        if stamp.keys().any(|path| is_text(path)) {
            self.build(&mut cards, &mut unread);
        }
        cards.sort_by(|one, other| one.card.title.cmp(&other.card.title));
        (cards, unread)
    }

    fn build(&self, cards: &mut Vec<Offered>, unread: &mut Vec<String>) {
        let work = work(&self.paths, None);
        unread.extend(work.unreadable.iter().map(|one| format!("cannot read {}: {}", one.path, one.why)));
        for compiled in &work.checked.procedures {
            let known = cards.iter().any(|offered| offered.card.procedure == compiled.name);
            match &compiled.card {
                _ if known => {}
                Some(card) => match offered(card.clone(), PathBuf::from(&compiled.name)) {
                    Ok(offered) => cards.push(offered),
                    Err(why) => unread.push(format!("cannot offer `{}`: {why}", compiled.name)),
                },
                None => unread.push(format!(
                    "`{}` is not offered: an error is open in it or in a file that it uses; `dwell check` shows it",
                    compiled.name
                )),
            }
        }
    }
}

fn card(path: &Path) -> anyhow::Result<Offered> {
    let text = dwell_workspace::read(path).map_err(|why| anyhow::anyhow!("{why}"))?;
    offered(Card::from_json(&text)?, path.to_owned())
}

fn offered(card: Card, from: PathBuf) -> anyhow::Result<Offered> {
    let sha256 = card.sha256()?;
    Ok(Offered { card: Arc::new(card), sha256, from })
}

fn is_card(path: &Path) -> bool {
    path.to_string_lossy().ends_with(".card.json")
}

fn is_text(path: &Path) -> bool {
    path.extension().is_some_and(|end| end == "dwell")
}

/// Notes the cards and texts below a path; what begins with a point is not looked at.
fn walk(path: &Path, deeper: usize, stamp: &mut Stamp) {
    let Ok(about) = fs::metadata(path) else { return };
    if about.is_file() && (is_card(path) || is_text(path)) {
        stamp.insert(path.to_owned(), (about.modified().ok(), about.len()));
    }
    let Some(deeper) = deeper.checked_sub(1).filter(|_| about.is_dir()) else { return };
    for entry in fs::read_dir(path).into_iter().flatten().flatten() {
        if !entry.file_name().to_string_lossy().starts_with('.') {
            walk(&entry.path(), deeper, stamp);
        }
    }
}
