//! The settings as the checker is given them.

use crate::levels::level;
use crate::read::Read;
use crate::settings::{Decide, Set, SignalWords};
use dwell_check::model::{self, House};
use dwell_check::options::{HouseWord, Levels, Options, SettingsText};
use std::collections::BTreeMap;

impl Read {
    /// What the checker is given: the settings, and the text that they stand in, for what is wrong with it.
    pub fn options(&self, path: &str, text: &str, day: Option<&str>) -> Options {
        let settings = &self.settings;
        let mut levels = vec![Levels { below: String::new(), of: set(&settings.levels) }];
        levels.extend(settings.folder.iter().map(|folder| Levels {
            below: folder.path.trim_end_matches('/').to_owned(),
            of: set(&folder.levels),
        }));
        levels.retain(|levels| !levels.of.is_empty());
        let signal_words = match settings.signal_words {
            Some(SignalWords::Equipment) => model::SignalWords::Equipment,
            Some(SignalWords::Ansi) | None => model::SignalWords::Ansi,
        };
        let vocabulary = settings.vocabulary.iter().map(|(avoid, word)| HouseWord {
            avoid: avoid.clone(),
            instead: word.instead.clone(),
            because: word.because.clone(),
        });
        Options {
            day: day.map(str::to_owned),
            levels,
            house: House { guarded: settings.decide == Some(Decide::Guarded), signal_words },
            vocabulary: vocabulary.collect(),
            settings: Some(SettingsText {
                path: path.to_owned(),
                text: text.to_owned(),
                slips: self.slips.clone(),
            }),
        }
    }
}

fn set(levels: &BTreeMap<String, Set>) -> Vec<(String, Option<dwell_check::finding::Level>)> {
    levels.iter().map(|(rule, set)| (rule.clone(), level(*set))).collect()
}
