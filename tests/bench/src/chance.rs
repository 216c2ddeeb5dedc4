//! Numbers that look random and are the same for the same seed.

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn seeded(seed: u64) -> Chance {
        Chance(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `count`; 0 where `count` is 0.
    pub(crate) fn below(&mut self, count: u64) -> u64 {
        self.next() % count.max(1)
    }

    /// True once in `times`.
    pub(crate) fn once_in(&mut self, times: u64) -> bool {
        self.below(times) == 0
    }

    /// One of these; the empty text where there are none.
    pub(crate) fn of<'a>(&mut self, all: &[&'a str]) -> &'a str {
        let count = u64::try_from(all.len()).unwrap_or(0);
        usize::try_from(self.below(count)).ok().and_then(|place| all.get(place)).copied().unwrap_or_default()
    }
}
