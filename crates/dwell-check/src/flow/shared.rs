//! A list that many states share until one of them changes it.

use std::ops::Deref;
use std::sync::Arc;

/// A list; a copy costs nothing until it is changed.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Shared<T>(Arc<Vec<T>>);

impl<T: Clone + PartialEq> Shared<T> {
    /// Puts a value at a place that is there; where it is the same already, the list stays shared.
    pub(super) fn set(&mut self, place: usize, value: T) {
        if self.0.get(place).is_some_and(|known| *known != value)
            && let Some(known) = Arc::make_mut(&mut self.0).get_mut(place)
        {
            *known = value;
        }
    }
}

impl<T> Deref for Shared<T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.0
    }
}

impl<T> From<Vec<T>> for Shared<T> {
    fn from(all: Vec<T>) -> Shared<T> {
        Shared(Arc::new(all))
    }
}

impl<T> FromIterator<T> for Shared<T> {
    fn from_iter<I: IntoIterator<Item = T>>(all: I) -> Shared<T> {
        Shared::from(Vec::from_iter(all))
    }
}

impl<T> Default for Shared<T> {
    fn default() -> Shared<T> {
        Shared::from(Vec::new())
    }
}
