//! A quick hash for the states that a walk has seen: they are hashed more often than anything else is done with them.

use std::hash::{BuildHasherDefault, Hasher};

/// Multiplies and turns each word in. The states of a walk come from the walk itself, so nobody can choose them to collide.
#[derive(Default)]
pub(super) struct Quick(u64);

/// Makes hashers that begin at nothing.
pub(super) type Quickly = BuildHasherDefault<Quick>;

/// An odd number without a pattern: 2^64 divided by the golden ratio (Knuth, The Art of Computer Programming 3, 6.4).
const MIX: u64 = 0x9e37_79b9_7f4a_7c15;

impl Hasher for Quick {
    fn write(&mut self, bytes: &[u8]) {
        let mut words = bytes.chunks_exact(8);
        for word in &mut words {
            self.write_u64(word.try_into().map_or(0, u64::from_le_bytes));
        }
        for byte in words.remainder() {
            self.write_u64(u64::from(*byte));
        }
    }

    fn write_u8(&mut self, byte: u8) {
        self.write_u64(u64::from(byte));
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(MIX);
    }

    fn write_usize(&mut self, word: usize) {
        self.write_u64(word as u64);
    }

    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 32)
    }
}
