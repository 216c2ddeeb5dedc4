//! What a house has agreed for all its procedures: how readings are judged, and what its signal words mean.

use dwell_card::vehicle::Level;

/// What holds for every procedure of a house.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct House {
    /// Every procedure is decided guarded: the accuracy of the tool is taken off each limit.
    pub guarded: bool,
    /// What its signal words mean.
    pub signal_words: SignalWords,
}

/// What the signal words of a house mean. The levels of hazards are always those of ANSI Z535.6.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SignalWords {
    /// As ANSI Z535.6-2011: danger will and warning could kill or injure badly, caution could injure slightly, notice is
    /// damage to things.
    #[default]
    Ansi,
    /// As MIL-STD-38784: warning is injury or death, caution is damage to equipment.
    Equipment,
}

impl SignalWords {
    /// The mildest word that may stand before a hazard of that level. Where caution means damage, what could injure
    /// slightly needs a warning, and what is damage is said with caution.
    pub fn mildest(self, hazard: Level) -> Level {
        match (self, hazard) {
            (SignalWords::Equipment, Level::Caution) => Level::Warning,
            (SignalWords::Equipment, Level::Notice) => Level::Caution,
            (_, level) => level,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Level, SignalWords};

    #[test]
    fn caution_for_damage_leaves_no_caution_for_people() {
        let words = |scheme: SignalWords| {
            [Level::Notice, Level::Caution, Level::Warning, Level::Danger].map(|level| scheme.mildest(level))
        };
        // ANSI Z535.6: the word is the level.
        assert_eq!(words(SignalWords::Ansi), [Level::Notice, Level::Caution, Level::Warning, Level::Danger]);
        // MIL-STD-38784: warning for injury or death, caution for damage to equipment.
        assert_eq!(
            words(SignalWords::Equipment),
            [Level::Caution, Level::Warning, Level::Warning, Level::Danger]
        );
    }
}
