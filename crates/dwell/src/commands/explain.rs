//! `dwell explain`: the page of a rule.

use crate::exit::Exit;
use crate::screen::{Ink, Screen};
use anyhow::bail;
use clap::Args;
use dwell_check::rules::{all, named};

/// Explain a rule: what it finds, why it matters at the vehicle, a wrong and a right text.
#[derive(Debug, Args)]
pub(crate) struct Explain {
    /// The name of the rule, as it stands at the right of a finding
    rule: String,
}

impl Explain {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let Some(rule) = named(&self.rule) else {
            bail!("there is no rule `{}`{}", self.rule.escape_debug(), meant(&self.rule));
        };
        for line in rule.page.trim_end().lines() {
            let heading = line.starts_with("# ") || line.starts_with("## ");
            screen.line(&if heading { screen.style.ink(Ink::Bold, line) } else { line.to_owned() })?;
        }
        Ok(Exit::Well)
    }
}

/// "; did you mean …?", or where all names stand.
fn meant(typed: &str) -> String {
    const MOST: usize = 3;
    let typed = typed.to_lowercase().replace(['_', ' '], "-");
    let mut near: Vec<(usize, &str)> = all()
        .iter()
        .map(|rule| (strsim::damerau_levenshtein(&typed, rule.name), rule.name))
        .filter(|(distance, name)| *distance <= MOST || name.contains(typed.as_str()) && typed.len() >= MOST)
        .collect();
    near.sort();
    let names: Vec<String> = near.into_iter().take(MOST).map(|(_, name)| format!("`{name}`")).collect();
    if names.is_empty() {
        "\n  help: `dwell rules` lists them all".to_owned()
    } else {
        format!("\n  help: did you mean {}? `dwell rules` lists them all", names.join(" or "))
    }
}
