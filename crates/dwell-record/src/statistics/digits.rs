//! The last digits of what was typed: read from an instrument each is about as frequent as any other; written from memory, 0 and 5 are.

/// How often each last digit stands there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Digits(pub [u32; 10]);

/// The 95 % point of chi-square with 9 degrees of freedom: NIST/SEMATECH e-Handbook, 1.3.6.7.4.
const CRITICAL: f64 = 16.919;

/// So many are needed: five of each expected (Cochran, 1954).
const LEAST: u32 = 50;

impl Digits {
    /// One more number as it was typed; what has no digit is passed over.
    pub fn add(&mut self, text: &str) {
        let number = text.trim().trim_end_matches(|letter: char| !letter.is_ascii_digit());
        let last = number.chars().next_back().and_then(|letter| letter.to_digit(10));
        let slot = last.and_then(|digit| self.0.get_mut(usize::try_from(digit).ok()?));
        if let Some(slot) = slot {
            *slot += 1;
        }
    }

    /// How many there are.
    pub fn count(&self) -> u32 {
        self.0.iter().sum()
    }

    /// Which last digits never stand there although there are many numbers: the tool may go in larger steps.
    pub fn steps(&self) -> bool {
        self.0.iter().filter(|count| **count == 0).count() >= 5
    }

    /// Chi-square against all ten alike: the sum of (seen − expected)² / expected.
    pub fn chi_square(&self) -> f64 {
        let expected = f64::from(self.count()) / 10.0;
        if expected == 0.0 {
            return 0.0;
        }
        self.0.iter().map(|seen| (f64::from(*seen) - expected).powi(2) / expected).sum()
    }

    /// The share of last digits 0 and 5, in hundredths of what is expected: 100 where nobody prefers them, 500 where there is nothing
    /// else (Whipple's index, here for last digits of readings).
    pub fn whipple(&self) -> Option<u32> {
        let count = self.count();
        let fives = self.0.first().copied().unwrap_or(0) + self.0.get(5).copied().unwrap_or(0);
        (count > 0).then(|| fives.saturating_mul(500) / count)
    }

    /// What they say: `last digits of 80 numbers as they would fall`, `heaped: …`, `12 numbers: too few to say`.
    pub fn words(&self) -> String {
        let count = self.count();
        let Some(whipple) = self.whipple() else { return "nothing was typed".to_owned() };
        if count < LEAST {
            return format!("{count} {}: too few to say", if count == 1 { "number" } else { "numbers" });
        }
        if self.steps() {
            return format!(
                "{count} numbers with few different last digits: the tool may go in larger steps"
            );
        }
        let chi = self.chi_square();
        let how = if chi > CRITICAL { "heaped" } else { "as they would fall" };
        format!(
            "last digits of {count} numbers {how}: chi-square {chi:.1} (above {CRITICAL} is heaped), 0 and 5 at {whipple}, where 100 is no preference"
        )
    }

    /// Whether they are heaped, by enough numbers; none where nobody can say.
    pub fn heaped(&self) -> Option<bool> {
        (self.count() >= LEAST && !self.steps()).then(|| self.chi_square() > CRITICAL)
    }
}
