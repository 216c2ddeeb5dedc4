//! Which tools of the workshop are used: named by the number on their label, refused where they are not good enough or overdue.

use super::{Inside, Job, Said, Showing};
use crate::bay::Bay;
use crate::form::{Wish, plain};
use dwell_card::limit;
use dwell_record::event::{Allowed, Scale, ToolTaken};
use dwell_run::Session;
use dwell_tools::{Against, Register, Standing, Tool, day};

/// A tool of the card that is to be named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ToolAsked {
    /// Its name on the card.
    pub(crate) name: String,
    /// What people call it.
    pub(crate) label: String,
    /// The number that was given and needs somebody who answers for it, with what is against it.
    pub(crate) overdue: Option<(String, String)>,
}

/// Whether it matters which one is used.
pub fn counts(tool: &limit::Tool) -> bool {
    !tool.measures.is_empty() || !tool.sets.is_empty()
}

/// The tools of a card that the register has something for and that nobody has named yet.
pub(super) fn asked(session: &Session, register: Option<&Register>) -> Vec<ToolAsked> {
    let Some(register) = register else { return Vec::new() };
    let taken: Vec<&str> = session.tools_taken().iter().map(|taken| taken.tool.as_str()).collect();
    let open = session.card().tools.iter().filter(|tool| {
        counts(tool) && !taken.contains(&tool.name.as_str()) && register.serving(&tool.name).next().is_some()
    });
    open.map(|tool| ToolAsked { name: tool.name.clone(), label: tool.label.clone(), overdue: None }).collect()
}

/// What the record notes of a tool that serves as one of a card.
pub fn noted(tool: &Tool, asked: &limit::Tool, standing: Standing, allowed: Option<Allowed>) -> ToolTaken {
    let scales = tool.measures.iter().chain(&tool.sets).map(|ability| Scale {
        kind: ability.kind.name().to_owned(),
        unit: ability.unit.symbol().to_owned(),
        decimals: ability.decimals(),
    });
    let due = match standing {
        Standing::Good { until: day } | Standing::Overdue { since: day } => Some(day.to_string()),
        Standing::NotYet { .. } | Standing::Unknown => None,
    };
    ToolTaken {
        tool: asked.name.clone(),
        label: asked.label.clone(),
        number: tool.number.clone(),
        calibrated: tool.calibrated.map(|day| day.to_string()),
        due,
        scales: scales.collect(),
        allowed,
    }
}

impl Job {
    /// The tool with the number that was scanned, for the tool of the card that is asked for.
    pub(super) fn tool(&self, bay: &Bay, inside: &mut Inside, wish: &Wish, at: &str) -> Result<(), String> {
        let asked = inside.session.card().tools.iter().find(|tool| tool.name == wish.name).cloned();
        let asked = asked.ok_or_else(|| "this procedure has no such tool".to_owned())?;
        let register = bay.tools().ok_or_else(|| "no register of tools is here".to_owned())?;
        let number = wish.text.trim();
        if number.is_empty() {
            return Err("scan or type the number on the label".to_owned());
        }
        let tool = register.numbered(number);
        let tool =
            tool.ok_or_else(|| format!("the register has no tool `{number}`: read its label again"))?;
        let today = day(at).ok_or_else(|| "the clock of this machine is wrong".to_owned())?;
        let taken = match tool.serves(&asked, today) {
            Ok(standing) => noted(tool, &asked, standing, None),
            Err(Against::Calibration(standing)) => {
                let (by, why) = (plain(&wish.to), plain(&wish.why));
                if by.is_empty() || why.is_empty() {
                    let against = (tool.number.clone(), standing.to_string());
                    // Asked for next, with the fields for who allows it.
                    inside.desk.tools.retain(|open| open.name != wish.name);
                    let (name, label) = (asked.name.clone(), asked.label.clone());
                    inside.desk.tools.insert(0, ToolAsked { name, label, overdue: Some(against) });
                    inside.desk.showing = Showing::Asked;
                    return Err(format!(
                        "{}: {standing}. It is used only where somebody answers for it: who allows it, and why?",
                        tool.number
                    ));
                }
                noted(tool, &asked, standing, Some(Allowed { by, why, although: standing.to_string() }))
            }
            Err(against) => return Err(format!("{} cannot be used here: {against}", tool.number)),
        };
        let mut next = inside.session.clone();
        let events = next.take_tool(taken, at).map_err(|refusal| refusal.to_string())?;
        match self.keep(bay, inside, next, &events, Showing::Asked) {
            Said::Done => {
                inside.desk.tools.retain(|open| open.name != wish.name);
                Ok(())
            }
            Said::Not(words) => Err(words),
        }
    }
}
