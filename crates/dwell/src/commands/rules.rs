//! `dwell rules`: all that is looked for.

use crate::drawing::ink;
use crate::exit::Exit;
use crate::screen::{Screen, wrapped};
use clap::Args;
use dwell_check::rules::{Rule, all};

/// List the rules: what is looked for, how grave it is, and what it is about.
///
/// `dwell explain RULE` shows the page of one of them.
#[derive(Debug, Args)]
pub(crate) struct Rules {}

impl Rules {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let wide = all().iter().map(|rule| rule.name.len()).max().unwrap_or(0);
        for rule in all() {
            let word = rule.level.word();
            let first = format!("{:wide$}  {word:11}  ", rule.name);
            let mut lines = wrapped(&first, first.len(), about(rule));
            if let Some(line) = lines.first_mut() {
                *line = line.replacen(
                    &format!("  {word}"),
                    &format!("  {}", screen.style.ink(ink(rule.level), word)),
                    1,
                );
            }
            screen.line(&lines.join("\n"))?;
        }
        Ok(Exit::Well)
    }
}

/// The first sentence of the rule's page after its heading and level.
fn about(rule: &Rule) -> &'static str {
    let text = rule
        .page
        .split("\n\n")
        .map(str::trim)
        .find(|part| !part.is_empty() && !part.starts_with('#') && !part.starts_with("Level:"));
    let text = text.unwrap_or("");
    match text.match_indices(['.', ':', ';']).find(|(at, end)| {
        let after = text.get(at + end.len()..).unwrap_or("");
        after.is_empty() || after.starts_with(char::is_whitespace)
    }) {
        Some((at, _)) => text.get(..at).unwrap_or(text),
        None => text,
    }
}
