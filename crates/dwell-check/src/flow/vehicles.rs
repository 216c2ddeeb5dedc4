//! Sets of vehicles: for each variant the values that a vehicle of the set may have.
//!
//! Many vehicles go the same way through a procedure. They are walked together, and parted only at a node that asks for
//! what tells them apart.

use super::bits::Bits;
use std::rc::Rc;

/// The vehicles that have, for each axis, one of these values. Cheap to copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Vehicles(Rc<Vec<Bits>>);

impl Vehicles {
    /// All vehicles, where each axis has so many values.
    pub(super) fn all(counts: impl Iterator<Item = usize>) -> Vehicles {
        Vehicles(Rc::new(counts.map(Bits::below).collect()))
    }

    /// The place of the value for each axis, of one of them: the first.
    pub(super) fn first(&self) -> Vec<usize> {
        self.0.iter().map(|values| values.iter().next().unwrap_or(0)).collect()
    }

    /// Each of them alone.
    #[cfg(test)]
    pub(super) fn each(&self) -> Vec<Vehicles> {
        let mut all = vec![self.clone()];
        for axis in 0..self.0.len() {
            let values = |set: &Vehicles| set.of(axis).into_iter().flat_map(Bits::iter).collect::<Vec<_>>();
            let one = |value: usize| Bits::below(value + 1).without(&Bits::below(value));
            let alone = |set: Vehicles| values(&set).into_iter().map(move |value| set.with(axis, one(value)));
            all = all.into_iter().flat_map(alone).collect();
        }
        all
    }

    /// The possible values of one axis.
    pub(super) fn of(&self, axis: usize) -> Option<&Bits> {
        self.0.get(axis)
    }

    /// The same with other values of one axis.
    pub(super) fn with(&self, axis: usize, values: Bits) -> Vehicles {
        let mut all = Vehicles(Rc::clone(&self.0));
        if let Some(place) = Rc::make_mut(&mut all.0).get_mut(axis) {
            *place = values;
        }
        all
    }

    /// Whether all of them are among others.
    pub(super) fn within(&self, others: &Vehicles) -> bool {
        Rc::ptr_eq(&self.0, &others.0)
            || self.0.iter().zip(others.0.iter()).all(|(here, there)| here.within(there))
    }

    /// Those that are in both; nothing where there are none.
    pub(super) fn both(&self, others: &Vehicles) -> Option<Vehicles> {
        if Rc::ptr_eq(&self.0, &others.0) {
            return Some(self.clone());
        }
        let both: Vec<Bits> =
            self.0.iter().zip(others.0.iter()).map(|(here, there)| here.both(there)).collect();
        both.iter().all(|values| !values.is_empty()).then(|| Vehicles(Rc::new(both)))
    }

    /// Those of both as one set, where that takes in no others: all their axes but one are alike.
    pub(super) fn together(&self, others: &Vehicles) -> Option<Vehicles> {
        let mut differ =
            self.0.iter().zip(others.0.iter()).enumerate().filter(|(_, (here, there))| here != there);
        let Some((axis, (here, there))) = differ.next() else { return Some(self.clone()) };
        if differ.next().is_some() {
            return None;
        }
        let mut values = here.clone();
        values.join(there);
        Some(self.with(axis, values))
    }

    /// Whether all of them are among those of several sets together.
    pub(super) fn covered(&self, sets: &[Vehicles]) -> bool {
        let Some((set, rest)) = sets.split_first() else { return false };
        if self.within(set) {
            return true;
        }
        if self.both(set).is_none() {
            return self.covered(rest);
        }
        // What lies outside the first set must lie in the others: axis by axis, those inside it on the axes before.
        let mut inside = self.clone();
        for (axis, (mine, its)) in self.0.iter().zip(set.0.iter()).enumerate() {
            let outside = mine.without(its);
            if !outside.is_empty() && !inside.with(axis, outside).covered(rest) {
                return false;
            }
            inside = inside.with(axis, mine.both(its));
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(axes: &[&[usize]]) -> Vehicles {
        let bits = |values: &&[usize]| {
            let mut bits = Bits::default();
            bits.extend(values.iter());
            bits
        };
        Vehicles(Rc::new(axes.iter().map(bits).collect()))
    }

    #[test]
    fn sets_that_differ_in_one_axis_become_one() {
        assert_eq!(set(&[&[0], &[0, 1]]).together(&set(&[&[2], &[0, 1]])), Some(set(&[&[0, 2], &[0, 1]])));
        assert_eq!(set(&[&[0], &[0]]).together(&set(&[&[1], &[1]])), None);
        assert_eq!(set(&[&[0], &[1]]).both(&set(&[&[0, 1], &[0]])), None);
    }

    #[test]
    fn several_sets_cover_what_none_of_them_covers() {
        let all = Vehicles::all([2, 70].into_iter());
        let many: Vec<usize> = (1..70).collect();
        let parts = [set(&[&[0], &[0]]), set(&[&[0, 1], &many]), set(&[&[1], &[0, 1]])];
        assert!(all.covered(&parts));
        assert!(!all.covered(&parts[..2]), "{parts:?}");
        assert!(!all.covered(&[]));
        assert_eq!(all.first(), [0, 0]);
    }
}
