//! Numbers that look random and are the same for the same seed, for tests and for measuring.

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
#[derive(Clone, Debug)]
pub struct Chance(u64);

impl Chance {
    /// Begins with this seed; each seed has its own row of numbers.
    pub fn seeded(seed: u64) -> Chance {
        Chance(seed)
    }

    /// The next number, any of 2⁶⁴.
    pub fn number(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `count`; 0 where `count` is 0.
    pub fn below(&mut self, count: u64) -> u64 {
        self.number() % count.max(1)
    }

    /// A place in a list of `count`; 0 where it is empty.
    pub fn place(&mut self, count: usize) -> usize {
        let count = u64::try_from(count).unwrap_or(u64::MAX);
        usize::try_from(self.below(count)).unwrap_or_default()
    }

    /// True once in `times`.
    pub fn once_in(&mut self, times: u64) -> bool {
        self.below(times) == 0
    }

    /// One of these; the empty text where there are none.
    pub fn of<'a>(&mut self, all: &[&'a str]) -> &'a str {
        let place = self.place(all.len());
        all.get(place).copied().unwrap_or_default()
    }
}
