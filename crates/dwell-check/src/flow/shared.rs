//! A list that many states share until one of them changes it.

use super::quick::Quick;
use std::hash::{Hash, Hasher};
use std::ops::Deref;
use std::sync::Arc;

/// A list; a copy costs nothing until it is changed, and its hash is kept up to date instead of made anew.
#[derive(Clone, Debug)]
pub(super) struct Shared<T> {
    all: Arc<Vec<T>>,
    /// The sum of the hashes of each value with its place.
    hash: u64,
}

impl<T: Clone + PartialEq + Hash> Shared<T> {
    /// Puts a value at a place that is there; where it is the same already, the list stays shared.
    pub(super) fn set(&mut self, place: usize, value: T) {
        if let Some(known) = self.all.get(place)
            && *known != value
        {
            self.hash = self.hash.wrapping_sub(hash(place, known)).wrapping_add(hash(place, &value));
            if let Some(known) = Arc::make_mut(&mut self.all).get_mut(place) {
                *known = value;
            }
        }
    }
}

fn hash<T: Hash>(place: usize, value: &T) -> u64 {
    let mut quick = Quick::default();
    place.hash(&mut quick);
    value.hash(&mut quick);
    quick.finish()
}

impl<T: Eq> PartialEq for Shared<T> {
    fn eq(&self, other: &Shared<T>) -> bool {
        self.hash == other.hash && (Arc::ptr_eq(&self.all, &other.all) || self.all == other.all)
    }
}

impl<T: Eq> Eq for Shared<T> {}

impl<T> Hash for Shared<T> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.hash.hash(state);
    }
}

impl<T> Deref for Shared<T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.all
    }
}

impl<T: Hash> From<Vec<T>> for Shared<T> {
    fn from(all: Vec<T>) -> Shared<T> {
        let hashes = all.iter().enumerate().map(|(place, value)| hash(place, value));
        Shared { hash: hashes.fold(0, u64::wrapping_add), all: Arc::new(all) }
    }
}

impl<T: Hash> FromIterator<T> for Shared<T> {
    fn from_iter<I: IntoIterator<Item = T>>(all: I) -> Shared<T> {
        Shared::from(Vec::from_iter(all))
    }
}

impl<T: Hash> Default for Shared<T> {
    fn default() -> Shared<T> {
        Shared::from(Vec::new())
    }
}
