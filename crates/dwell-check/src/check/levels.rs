//! The levels that were set, put on what was found; what is off is left out.

use super::Waived;
use crate::finding::Finding;
use crate::options::Options;
use crate::program::{Program, Sources};
use crate::rules;

/// The levels that were set, and where each file lies.
#[derive(Clone, Debug)]
pub(super) struct Set {
    /// Nothing but levels.
    options: Options,
    /// The paths of the files from where the settings are.
    homes: Vec<String>,
}

impl Set {
    /// The levels for the files of a program.
    pub(super) fn of(options: &Options, program: &Program, sources: &dyn Sources) -> Set {
        let homes = program.files.iter().map(|file| sources.home(&file.path)).collect();
        Set { options: Options { levels: options.levels.clone(), ..Options::default() }, homes }
    }

    /// Gives each finding the level that its rule has in its file, and takes out what is off there.
    pub(super) fn put(&self, findings: &mut Vec<Finding>, waived: &mut Vec<Waived>) {
        if self.options.levels.is_empty() {
            return;
        }
        let set = |finding: &mut Finding| {
            let Some(rule) = rules::named(finding.rule) else { return true };
            let home = self.homes.get(finding.place.file).map_or("", String::as_str);
            // Some findings are milder than their rule: they keep their distance where nothing was set.
            let Some(level) = self.options.level(rule, home) else { return false };
            if level != rule.level {
                finding.level = level;
            }
            true
        };
        findings.retain_mut(set);
        waived.retain_mut(|waived| set(&mut waived.finding));
    }
}
