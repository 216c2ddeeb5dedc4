//! Changes of a document that come in another order than the editor made them: one that comes late is made where it belongs.
//!
//! An editor counts the versions of a document upwards, may leave numbers out, and should send them in order. Helix 25.01 sends
//! two keys typed close together now and then the other way round. Were the late one dropped, the server would from then on
//! answer for a text that nobody has.

use super::document::Change;
use crate::ide::Draft;
use std::sync::Arc;

/// How many changes later a number that was left out is taken as left out for good.
const PATIENCE: usize = 16;

/// What is kept from the moment that a number was left out.
#[derive(Clone, Debug, Default)]
pub(crate) struct Late {
    /// The version before that, with its text.
    base: Option<(i32, Arc<Draft>)>,
    /// All changes after it, in the order of their versions.
    after: Vec<(i32, Vec<Change>)>,
}

impl Late {
    /// Notes a newer version that comes after the one with this text.
    pub(crate) fn note(&mut self, before: (i32, &Arc<Draft>), version: i32, changes: &[Change]) {
        if self.base.is_none() {
            if version == before.0.saturating_add(1) {
                return;
            }
            self.base = Some((before.0, Arc::clone(before.1)));
        }
        self.after.push((version, changes.to_vec()));
        self.forget();
    }

    /// Takes a version that is older than the newest: the text to start from and all that was changed since, in order; none if
    /// it was taken before, or is too old to find its place.
    pub(crate) fn insert(
        &mut self,
        version: i32,
        changes: Vec<Change>,
    ) -> Option<(Arc<Draft>, Vec<Vec<Change>>)> {
        let (first, text) = self.base.as_ref()?;
        let place = self.after.binary_search_by_key(&version, |(known, _)| *known).err()?;
        if version <= *first {
            return None;
        }
        self.after.insert(place, (version, changes));
        let all = (Arc::clone(text), self.after.iter().map(|(_, changes)| changes.clone()).collect());
        self.forget();
        Some(all)
    }

    /// Keeps nothing once no number is left out any more, or none of them will come.
    fn forget(&mut self) {
        let first = self.base.as_ref().map_or(0, |(version, _)| *version);
        let complete =
            (first.saturating_add(1)..).zip(&self.after).all(|(due, (version, _))| due == *version);
        if complete || self.after.len() > PATIENCE {
            *self = Late::default();
        }
    }
}
