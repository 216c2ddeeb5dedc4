//! A small set kept as a sorted list: what a state is made of, cheap to copy, to compare and to hash.

/// A set of few members, in order.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Set<T>(Vec<T>);

impl<T: Copy + Ord> Set<T> {
    pub(super) const fn new() -> Set<T> {
        Set(Vec::new())
    }

    /// Whether it was not there before.
    pub(super) fn insert(&mut self, member: T) -> bool {
        match self.0.binary_search(&member) {
            Ok(_) => false,
            Err(place) => {
                self.0.insert(place, member);
                true
            }
        }
    }

    /// Whether it was there.
    pub(super) fn remove(&mut self, member: &T) -> bool {
        match self.0.binary_search(member) {
            Ok(place) => {
                self.0.remove(place);
                true
            }
            Err(_) => false,
        }
    }

    pub(super) fn contains(&self, member: &T) -> bool {
        self.0.binary_search(member).is_ok()
    }

    pub(super) fn retain(&mut self, keeps: impl FnMut(&T) -> bool) {
        self.0.retain(keeps);
    }

    pub(super) fn clear(&mut self) {
        self.0.clear();
    }

    pub(super) fn iter(&self) -> std::slice::Iter<'_, T> {
        self.0.iter()
    }

    /// What both have.
    pub(super) fn both(&self, other: &Set<T>) -> Set<T> {
        Set(self.0.iter().copied().filter(|member| other.contains(member)).collect())
    }
}

impl<T> Default for Set<T> {
    fn default() -> Set<T> {
        Set(Vec::new())
    }
}

impl<T: Copy + Ord> Extend<T> for Set<T> {
    fn extend<I: IntoIterator<Item = T>>(&mut self, members: I) {
        for member in members {
            self.insert(member);
        }
    }
}

impl<'a, T: Copy + Ord + 'a> Extend<&'a T> for Set<T> {
    fn extend<I: IntoIterator<Item = &'a T>>(&mut self, members: I) {
        self.extend(members.into_iter().copied());
    }
}

impl<T> IntoIterator for Set<T> {
    type Item = T;
    type IntoIter = std::vec::IntoIter<T>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<'a, T> IntoIterator for &'a Set<T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}
