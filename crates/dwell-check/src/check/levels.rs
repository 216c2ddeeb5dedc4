//! The levels that were set, put on what was found; what is off is left out.

use super::Waived;
use crate::finding::Finding;
use crate::options::Options;
use crate::program::{Program, Sources};
use crate::rules;

/// Gives each finding the level that its rule has in its file, and takes out what is off there.
pub(super) fn set(
    options: &Options,
    program: &Program,
    sources: &dyn Sources,
    findings: &mut Vec<Finding>,
    waived: &mut Vec<Waived>,
) {
    if options.levels.is_empty() {
        return;
    }
    let homes: Vec<String> = program.files.iter().map(|file| sources.home(&file.path)).collect();
    let set = |finding: &mut Finding| {
        let Some(rule) = rules::named(finding.rule) else { return true };
        let home = homes.get(finding.place.file).map_or("", String::as_str);
        // Some findings are milder than their rule: they keep their distance where nothing was set.
        let Some(level) = options.level(rule, home) else { return false };
        if level != rule.level {
            finding.level = level;
        }
        true
    };
    findings.retain_mut(set);
    waived.retain_mut(|waived| set(&mut waived.finding));
}
