//! A set of small numbers, one bit each: slots, readings, counters. The first 64 take no memory of their own.

/// A set of numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub(super) struct Bits {
    first: u64,
    /// The numbers from 64 on, 64 in each; never ends with an empty one, so that equal sets are equal.
    more: Vec<u64>,
}

impl Bits {
    pub(super) fn contains(&self, member: &usize) -> bool {
        self.part(member / 64) & bit(*member) != 0
    }

    pub(super) fn insert(&mut self, member: usize) {
        let part = member / 64;
        if part == 0 {
            self.first |= bit(member);
            return;
        }
        if self.more.len() < part {
            self.more.resize(part, 0);
        }
        if let Some(word) = self.more.get_mut(part - 1) {
            *word |= bit(member);
        }
    }

    pub(super) fn remove(&mut self, member: &usize) {
        match (member / 64).checked_sub(1) {
            None => self.first &= !bit(*member),
            Some(part) => {
                if let Some(word) = self.more.get_mut(part) {
                    *word &= !bit(*member);
                }
            }
        }
        self.trim();
    }

    pub(super) fn clear(&mut self) {
        *self = Bits::default();
    }

    /// The members, in order.
    pub(super) fn iter(&self) -> impl Iterator<Item = usize> {
        let parts = std::iter::once(self.first).chain(self.more.iter().copied()).enumerate();
        parts.flat_map(|(part, word)| {
            let mut word = word;
            std::iter::from_fn(move || {
                let next = (word != 0).then(|| word.trailing_zeros() as usize)?;
                word &= word - 1;
                Some(part * 64 + next)
            })
        })
    }

    pub(super) fn retain(&mut self, mut keeps: impl FnMut(&usize) -> bool) {
        let over: Vec<usize> = self.iter().filter(|member| !keeps(member)).collect();
        for member in over {
            self.remove(&member);
        }
    }

    /// Takes in the members of another.
    pub(super) fn join(&mut self, other: &Bits) {
        self.first |= other.first;
        if self.more.len() < other.more.len() {
            self.more.resize(other.more.len(), 0);
        }
        for (here, there) in self.more.iter_mut().zip(&other.more) {
            *here |= there;
        }
    }

    /// What both have.
    pub(super) fn both(&self, other: &Bits) -> Bits {
        let more = self.more.iter().zip(&other.more).map(|(here, there)| here & there).collect();
        let mut both = Bits { first: self.first & other.first, more };
        both.trim();
        both
    }

    /// The numbers below `count`.
    pub(super) fn below(count: usize) -> Bits {
        let mut all = Bits::default();
        all.extend(0..count);
        all
    }

    /// Whether it has no member.
    pub(super) fn is_empty(&self) -> bool {
        self.first == 0 && self.more.is_empty()
    }

    /// Whether all its members are in another.
    pub(super) fn within(&self, other: &Bits) -> bool {
        let more = self.more.iter().enumerate();
        self.first & !other.first == 0
            && more.into_iter().all(|(part, word)| word & !other.more.get(part).copied().unwrap_or(0) == 0)
    }

    /// Its members that another has not.
    pub(super) fn without(&self, other: &Bits) -> Bits {
        let more = self.more.iter().enumerate();
        let more = more.map(|(part, word)| word & !other.more.get(part).copied().unwrap_or(0)).collect();
        let mut left = Bits { first: self.first & !other.first, more };
        left.trim();
        left
    }

    fn part(&self, part: usize) -> u64 {
        match part.checked_sub(1) {
            None => self.first,
            Some(part) => self.more.get(part).copied().unwrap_or(0),
        }
    }

    fn trim(&mut self) {
        while self.more.last() == Some(&0) {
            self.more.pop();
        }
    }
}

fn bit(member: usize) -> u64 {
    1 << (member % 64)
}

impl Extend<usize> for Bits {
    fn extend<I: IntoIterator<Item = usize>>(&mut self, members: I) {
        for member in members {
            self.insert(member);
        }
    }
}

impl<'a> Extend<&'a usize> for Bits {
    fn extend<I: IntoIterator<Item = &'a usize>>(&mut self, members: I) {
        self.extend(members.into_iter().copied());
    }
}
