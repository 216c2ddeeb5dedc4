//! What a check is given beside the texts: the day, the levels that a house has set, and its words. Plain data.

use crate::finding::Level;
use crate::model::House;
use crate::rules::Rule;
use dwell_syntax::slip::Slip;

/// All that may be said beside the texts; nothing of it is needed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// The day that counts, year-month-day: what is withdrawn by then must not be used any more. Without a day only a
    /// procedure whose own revision is as late as the withdrawal is told.
    pub day: Option<String>,
    /// The levels that were set.
    pub levels: Vec<Levels>,
    /// What the house has agreed for all procedures.
    pub house: House,
    /// Words that the house avoids.
    pub vocabulary: Vec<HouseWord>,
    /// The file that all this comes from, so that what is wrong with it can be shown there.
    pub settings: Option<SettingsText>,
}

/// The levels of rules for the files of one folder and all folders in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Levels {
    /// The folder, from where the settings are, with `/` between and without one at its end; empty: everywhere.
    pub below: String,
    /// Each rule with its level; none where the rule is off.
    pub of: Vec<(String, Option<Level>)>,
}

/// A word that is not used in this house.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HouseWord {
    /// The word, or several with a blank between.
    pub avoid: String,
    /// The one to use.
    pub instead: String,
    /// Why, a sentence.
    pub because: String,
}

/// The settings as a text, with what is wrong in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SettingsText {
    /// Its path as shown to people.
    pub path: String,
    /// The text.
    pub text: String,
    /// What is wrong, each of the rule `settings`.
    pub slips: Vec<Slip>,
}

impl Options {
    /// The level of a rule in a file, by the file's path from where the settings are; none where the rule is off. The
    /// innermost folder that says something decides. A rule that cannot be waived keeps at least its own level.
    pub fn level(&self, rule: &Rule, file: &str) -> Option<Level> {
        let here = self.levels.iter().filter(|levels| levels.hold(file));
        let set = here.filter_map(|levels| Some((levels.below.len(), levels.level(rule.name)?)));
        match set.max_by_key(|(depth, _)| *depth) {
            None => Some(rule.level),
            Some((_, set)) if rule.waivable => set,
            Some((_, set)) => Some(set.map_or(rule.level, |level| level.min(rule.level))),
        }
    }
}

impl Levels {
    /// Whether the file is in this folder.
    fn hold(&self, file: &str) -> bool {
        self.below.is_empty()
            || file.strip_prefix(self.below.as_str()).is_some_and(|rest| rest.starts_with('/'))
    }

    /// What is said of a rule; the outer none where nothing is.
    fn level(&self, rule: &str) -> Option<Option<Level>> {
        self.of.iter().rev().find(|(name, _)| name == rule).map(|(_, level)| *level)
    }
}

#[cfg(test)]
mod tests {
    use super::{Level, Levels, Options};
    use crate::rules;

    fn options() -> Options {
        let set = |below: &str, of: &[(&str, Option<Level>)]| Levels {
            below: below.to_owned(),
            of: of.iter().map(|(rule, level)| ((*rule).to_owned(), *level)).collect(),
        };
        Options {
            levels: vec![
                set("old/brakes", &[("not-restored", Some(Level::Error))]),
                set("", &[("not-restored", Some(Level::Warning)), ("name-unused", Some(Level::Error))]),
                set("old", &[("not-restored", None), ("kind-mismatch", None)]),
            ],
            ..Options::default()
        }
    }

    fn level(rule: &str, file: &str) -> Option<Level> {
        rules::named(rule).and_then(|rule| options().level(rule, file))
    }

    #[test]
    fn the_innermost_folder_decides() {
        assert_eq!(level("not-restored", "belt.dwell"), Some(Level::Warning));
        assert_eq!(level("not-restored", "old/belt.dwell"), None);
        assert_eq!(level("not-restored", "older/belt.dwell"), Some(Level::Warning));
        assert_eq!(level("not-restored", "old/brakes/disc.dwell"), Some(Level::Error));
        assert_eq!(level("name-unused", "old/brakes/disc.dwell"), Some(Level::Error));
        assert_eq!(level("endless", "belt.dwell"), Some(Level::Error));
    }

    #[test]
    fn what_cannot_be_waived_cannot_be_lowered() {
        assert_eq!(level("kind-mismatch", "old/belt.dwell"), Some(Level::Error));
    }
}
